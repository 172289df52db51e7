"""The worksheet of an exercise against the engine: the same numbers and the same complaints for the same readings."""

from __future__ import annotations

import csv
import datetime as dt
import io
import random
import re
import shutil
from typing import TYPE_CHECKING, Any

import pytest
from browser import browser, told_by
from site_building import copy_demo
from worksheet_sessions import Session, as_text, bare_page, made_up, said_by_engine, typed_in

from notchbook.checks.registry import RECORD_CHECKS
from notchbook.handbook import Handbook, open_handbook
from notchbook.pages.exercise.worksheet import MOST_BARS
from notchbook.reading.strict_yaml import parse

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping
    from pathlib import Path

    from selenium.webdriver import Chrome

    from conftest import DemoSite

SESSIONS = 50
# Rules that the form cannot break: what it names is chosen from lists, a bar has one reading and the fields it needs.
BY_CHOICE = frozenset({
    "rig-known", "hammer-known", "exercise-known", "material-known", "hammer-method", "specimen-agrees",
    "specimen-arrangement", "break-type", "notch-and-remaining", "reading-present", "reading-scale", "scale-agreement",
})  # fmt: skip
# Rules about what the form does not ask for, about other records, or about all readings of a record at once.
NOT_ASKED = frozenset({
    "copied-series", "no-break-strength", "reading-division", "reported-mean", "reported-spread", "reported-specimen",
    "bar-missing", "batch-mean", "batch-spelling", "conditioning-climate", "conditioning-hours", "copied-dimensions",
    "day-loss",
    "dimension-apart", "exclusion-cause", "free-swing-hammer", "group-spelling", "name-agrees", "no-break-energy",
    "notes-exclude", "reading-digits", "reading-order", "reading-steps", "same-dimensions", "same-remaining-width",
    "set-outlier", "typical-strength",
})  # fmt: skip
REPEATED = "repeated-readings"
"""Told of every repeat while the bars are still at hand; the check leaves out those that a coarse scale explains."""
KNOWN = frozenset(check.rule.id for check in RECORD_CHECKS) - BY_CHOICE - NOT_ASKED
DIMENSIONS = ("width_mm", "thickness_mm", "remaining_width_mm")


@pytest.fixture(scope="module")
def chrome(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Chrome]:
    with browser(tmp_path_factory.mktemp("profile")) as found:
        yield found


@pytest.fixture(scope="module")
def typed(chrome: Chrome, demo_site: DemoSite) -> list[tuple[Session, dict[str, Any]]]:
    """Sessions and what the worksheet made of them, on the pages as they are opened from a disk."""
    chance = random.Random(20261125)  # noqa: S311  # the same sessions each time
    handbook = open_handbook(demo_site.root)
    exercises = [each for _, each in sorted(handbook.library.exercises.items()) if each.specimen is not None]
    told_by(chrome)
    found = []
    for exercise in exercises:
        chrome.get((demo_site.folder / f"exercises/{exercise.id}.html").as_uri())
        for _ in range(SESSIONS // len(exercises)):
            session = made_up(chance, handbook, exercise)
            found.append((session, typed_in(chrome, session)))
    assert not told_by(chrome).severe
    return found


def _opened(root: Path, files: Mapping[str, str], chrome: Chrome) -> Handbook:
    """The demo with these records in place of its own; today is the browser's day."""
    shutil.rmtree(root / "results/tests")
    for record_id, text in files.items():
        path = root / f"results/tests/{record_id}.yaml"
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
    today = chrome.execute_script("return notchbookWorksheet.checks.today()")
    return open_handbook(root, day=dt.date.fromisoformat(today))


@pytest.fixture(scope="module")
def evaluated(
    typed: list[tuple[Session, dict[str, Any]]], chrome: Chrome, tmp_path_factory: pytest.TempPathFactory
) -> Handbook:
    root = copy_demo(tmp_path_factory.mktemp("typed"))
    return _opened(root, {f"t{place}": given["yaml"] for place, (_, given) in enumerate(typed)}, chrome)


def _near(value: float | None) -> Any:
    """Equal to 1e-9 of the value; below 1e-13 J, % or kJ/m2 a difference is the last bits of what was subtracted."""
    return None if value is None else pytest.approx(value, rel=1e-9, abs=1e-13)


def _assert_same_numbers(given: dict[str, Any], handbook: Handbook, record_id: str, told: str) -> None:
    result = handbook.evaluation.records[record_id]
    found = given["found"]
    assert len(found["bars"]) == len(result.specimens), told
    for bar, specimen in zip(found["bars"], result.specimens, strict=True):
        assert bar["loss_J"] == _near(specimen.loss_J), told
        assert bar["energy_J"] == _near(specimen.energy_J), told
        assert bar["used_pct"] == _near(specimen.used_pct), told
        assert bar["strength_kJ_m2"] == _near(specimen.strength_kJ_m2), told
    assert len(found["sets"]) == len(result.sets), told
    for one, other in zip(found["sets"], result.sets, strict=True):
        summary = other.summary
        assert tuple(one["breaks"]) == other.breaks, told
        assert one["n"] == summary.n, told
        assert one["mean"] == _near(summary.mean), told
        assert one["deviation"] == _near(summary.standard_deviation), told
        assert one["variation_pct"] == _near(summary.variation_pct), told
        assert (one["interval"] is None) == (summary.interval is None), told
        if summary.interval is not None:
            assert tuple(one["interval"]) == _near(summary.interval), told


def _same_complaints(given: dict[str, Any], handbook: Handbook, record_id: str, told: str) -> None:
    said = {(each["rule"], each["severity"], each["place"]) for each in given["findings"]}
    engine = said_by_engine(handbook, record_id, KNOWN)
    assert said >= engine, f"{engine - said}: {told}"
    assert {each[0] for each in said - engine} <= {REPEATED}, f"{said - engine}: {told}"


def test_every_rule_of_a_record_is_told_or_cannot_be_broken() -> None:
    assert {check.rule.id for check in RECORD_CHECKS} >= BY_CHOICE
    assert {
        "date-future", "verification-in-force", "people-codes", "specimen-id", "unit-slip", "specimen-width",
        "specimen-thickness", "remaining-width", "remaining-below-width", "rise-angle", "loss-floor", "energy-window",
        "larger-hammer", "free-swings-complete", "free-swing-order", "loss-limit", "later-swings", "specimen-number",
        "mixed-breaks", "conditioning", "test-atmosphere", REPEATED,
    } == KNOWN  # fmt: skip


def test_sessions_are_varied(typed: list[tuple[Session, dict[str, Any]]]) -> None:
    """Every hammer's kind of scale, all rules but few, and records without a finding occur."""
    told = {finding["rule"] for _, given in typed for finding in given["findings"]}
    assert told >= KNOWN - {"later-swings"}, KNOWN - told
    assert {dict(session.fields)["rig"] for session, _ in typed} == {"bench-1", "bench-2"}
    assert any(given["read"]["record"]["free_swings"] for _, given in typed)
    assert any("," in text for session, _ in typed for bar in session.bars for text in bar.values())


def test_every_record_is_read(typed: list[tuple[Session, dict[str, Any]]], evaluated: Handbook) -> None:
    assert all(given["yaml"] for _, given in typed)
    assert len(evaluated.library.records) == len(typed) == SESSIONS


def test_numbers_are_those_of_the_engine(typed: list[tuple[Session, dict[str, Any]]], evaluated: Handbook) -> None:
    for place, (session, given) in enumerate(typed):
        _assert_same_numbers(given, evaluated, f"t{place}", as_text(session))


def test_complaints_are_those_of_the_checks(typed: list[tuple[Session, dict[str, Any]]], evaluated: Handbook) -> None:
    for place, (session, given) in enumerate(typed):
        _same_complaints(given, evaluated, f"t{place}", as_text(session))


def test_numbers_stand_in_the_file_as_they_were_typed(typed: list[tuple[Session, dict[str, Any]]]) -> None:
    for session, given in typed:
        lines = re.findall(r"^  - \{.*\}$", given["yaml"], re.MULTILINE)
        assert len(lines) == len(session.bars)
        for bar, line in zip(session.bars, lines, strict=True):
            for name in DIMENSIONS:
                if name in bar:
                    assert f" {name}: {bar[name].replace(',', '.')}," in line


def test_keys_stand_in_the_order_of_the_contract(typed: list[tuple[Session, dict[str, Any]]]) -> None:
    order = [
        "kind", "date", "group", "exercise", "rig", "hammer", "material", "batch", "specimen", "conditioning",
        "test_atmosphere", "free_swings", "specimens", "notes",
    ]  # fmt: skip
    of_bar = ["id", *DIMENSIONS, "rise_angle_deg", "indicated_energy_J", "break", "excluded"]
    for _, given in typed:
        data, flaws = parse(given["yaml"])
        assert not flaws
        assert list(data) == [key for key in order if key in data]
        for bar in data["specimens"]:
            assert list(bar) == [key for key in of_bar if key in bar]


def test_table_holds_readings_and_results(typed: list[tuple[Session, dict[str, Any]]], evaluated: Handbook) -> None:
    for place, (_, given) in enumerate(typed):
        rows = list(csv.DictReader(io.StringIO(given["csv"])))
        record, result = evaluated.library.records[f"t{place}"], evaluated.evaluation.records[f"t{place}"]
        for row, specimen, found in zip(rows, record.specimens, result.specimens, strict=True):
            assert row["specimen"] == specimen.id
            assert float(row["width_mm"]) == specimen.width_mm
            assert row["break"] == specimen.break_type
            strength = float(row["strength_kJ_m2"]) if row["strength_kJ_m2"] else None
            assert strength == _near(found.strength_kJ_m2)


def test_name_of_the_file_is_an_id(typed: list[tuple[Session, dict[str, Any]]]) -> None:
    for session, given in typed:
        fields = dict(session.fields)
        stem = given["name"].removesuffix(".yaml")
        assert re.fullmatch(r"[a-z0-9][a-z0-9.-]*", stem)
        assert stem.startswith(f"{fields['date']}-{fields['group'][0].lower()}")
        assert stem.endswith(f"-{fields['material']}-{session.exercise}")


def test_correction_of_the_metals_methods(chrome: Chrome, tmp_path: Path) -> None:
    """p' comes from the later swings, of the verification as of the day; without them no energy is told."""
    root = copy_demo(tmp_path / "handbook")
    method = root / "procedures/methods/saltmere-cold.yaml"
    text = method.read_text(encoding="utf-8")
    assert text.count("loss_correction: plastics") == 1
    method.write_text(text.replace("loss_correction: plastics", "loss_correction: metals"), encoding="utf-8")
    handbook = open_handbook(root)
    exercise = handbook.library.exercises["cold-bars"]
    chrome.get(bare_page(handbook, exercise.id, tmp_path / "site").as_uri())
    chance = random.Random(148)  # noqa: S311  # the same sessions each time
    sessions = []
    for _ in range(12):
        made = made_up(chance, handbook, exercise)
        in_force = tuple((key, "2026-10-01" if key == "date" else text) for key, text in made.fields)
        sessions.append(Session(made.exercise, in_force, made.bars))
    given = [typed_in(chrome, session) for session in sessions]
    evaluated = _opened(root, {f"t{place}": each["yaml"] for place, each in enumerate(given)}, chrome)
    for place, (session, each) in enumerate(zip(sessions, given, strict=True)):
        _assert_same_numbers(each, evaluated, f"t{place}", as_text(session))
        _same_complaints(each, evaluated, f"t{place}", as_text(session))
    known = {bar["energy_J"] is not None for each in given for bar in each["found"]["bars"]}
    assert known == {True, False}


def test_largest_set_has_its_interval(chrome: Chrome, demo_site: DemoSite, tmp_path: Path) -> None:
    exercise = "unnotched-charpy"
    chrome.get((demo_site.folder / f"exercises/{exercise}.html").as_uri())
    fields = (
        ("group", "G1"), ("date", "2026-10-01"), ("material", "pp-h"), ("rig", "bench-1"), ("hammer", "charpy-4"),
        ("conditioning.temperature_C", "23"), ("conditioning.humidity_pct", "50"), ("conditioning.hours", "24"),
        ("test_atmosphere.temperature_C", "23"), ("test_atmosphere.humidity_pct", "50"),
    )  # fmt: skip
    bars = tuple(
        {"id": f"{n}", "width_mm": "10.0", "thickness_mm": "4.0", "reading": f"{100 + n / 5:.1f}", "break": "C"}
        for n in range(MOST_BARS)
    )
    session = Session(exercise, fields, bars)
    given = typed_in(chrome, session)
    evaluated = _opened(copy_demo(tmp_path), {"t0": given["yaml"]}, chrome)
    assert given["found"]["sets"][0]["n"] == MOST_BARS
    _assert_same_numbers(given, evaluated, "t0", "")
    # one more cannot be had
    chrome.execute_script("document.querySelector('[data-add]').click()")
    assert chrome.execute_script("return document.querySelectorAll('.nb-ws-bar').length") == MOST_BARS
