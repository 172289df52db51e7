"""The page of an exercise: its order, its drawings, the hammer to take and what a reading means."""

import copy
import math
import re
from decimal import Decimal
from pathlib import Path
from statistics import median

import pytest
from page_html import pages_of

import small_handbook as small
from html_tree import Element, rows_of
from notchbook.evaluation.hammer_choice import (
    ExpectedEnergy,
    choose_hammer,
    expected_energy_J,
    typical_strength,
)
from notchbook.evaluation.hammers import SwungHammer
from notchbook.evaluation.lookup import lookup_table
from notchbook.evaluation.records import broken_bars
from notchbook.evaluation.scale import Section, nominal_section
from notchbook.facts.facts import Facts
from notchbook.handbook import Handbook
from notchbook.model.procedure import Exercise, Material
from notchbook.pages.exercise.pages import exercise_pages
from notchbook.pages.page import finished

DEMO = Path(__file__).resolve().parents[2]
EXERCISES = sorted(path.stem for path in (DEMO / "procedures/exercises").glob("*.yaml"))
LOSSES = "pendulum-losses"
WITH_BARS = [each for each in EXERCISES if each != LOSSES]
NUMBER = re.compile(r"−?[0-9]+(?:\.[0-9]+)?")
ORDER = [
    "Before you begin", "Aim", "What you need", "Prepare", "Do", "Finish",
    "The bar and how it sits", "The pendulum and its swing", "Which hammer to take", "From the reading to the strength",
    "Worksheet", "What you can do afterwards", "Questions", "Results so far",
]  # fmt: skip
ABOUT_BARS = {
    "The bar and how it sits", "Which hammer to take", "From the reading to the strength", "Results so far",
}  # fmt: skip


def _page(pages: dict[str, Element], exercise_id: str) -> Element:
    return pages[f"exercises/{exercise_id}.md"]


def _agrees(shown: str, value: float) -> None:
    """The shown number is the value, rounded at its last digit."""
    assert NUMBER.fullmatch(shown), shown
    number = Decimal(shown.replace("−", "-"))
    last = Decimal(1).scaleb(number.as_tuple().exponent)
    if "." not in shown:
        # no decimals: the last of two figures may be a ten
        last = max(last, Decimal(1).scaleb(math.floor(math.log10(abs(value))) - 1))
    # tolerance: half a unit of the last digit, and the last bits of a binary fraction
    assert abs(number - Decimal(value)) <= last / 2 * (1 + Decimal("1e-9")), f"{shown} for {value}"


def _rigs(handbook: Handbook, exercise: Exercise) -> list[str]:
    """The rigs that have hammers of the exercise's method."""
    return sorted({rig for (rig, _), each in handbook.evaluation.hammers.items() if each.method == exercise.method})


@pytest.mark.parametrize("exercise_id", WITH_BARS)
def test_sections_stand_in_the_order_of_the_work(exercise_id: str, demo_pages: dict[str, Element]) -> None:
    assert [each.text for each in _page(demo_pages, exercise_id).all("h2")] == ORDER


def test_exercise_without_bars_has_nothing_about_bars(demo_pages: dict[str, Element]) -> None:
    page = _page(demo_pages, LOSSES)
    heads = [each.text for each in page.all("h2")]
    expected = [each for each in ORDER if each not in ABOUT_BARS]
    expected.insert(expected.index("Worksheet"), "Hammers for this method")
    after = expected.index("What you can do afterwards")
    expected[after:after] = ["How the energy dies away", "Free swings so far"]
    assert heads == expected
    assert not page.all(css="nb-choice")
    assert not page.all("details", css="nb-lookup")
    drawn = page.all("svg", css="nb-drawing")
    assert [each.attributes["aria-labelledby"].split("-")[0] for each in drawn] == ["pendulum", "pendulum"]
    for each in drawn:
        assert "free swing" in each.one("desc").text
        assert "break" not in each.one("desc").text
    heads_of_hammers = [each.text for each in page.all("table")[0].one("thead").all("th")]
    assert "Velocity, m/s" in heads_of_hammers
    assert "For tests of, J" not in heads_of_hammers


@pytest.mark.parametrize("exercise_id", WITH_BARS)
def test_drawings_are_there_and_say_what_they_show(
    exercise_id: str, demo_pages: dict[str, Element], demo: Handbook
) -> None:
    exercise = demo.library.exercises[exercise_id]
    method = demo.library.methods[exercise.method]
    bar, seat, *pendulums = _page(demo_pages, exercise_id).all("svg", css="nb-drawing")
    for each in (bar, seat, *pendulums):
        assert each.one("title").text
        assert each.parent is not None
        assert each.parent.one("figcaption").text
    assert exercise.specimen is not None
    specimen_type = method.specimen_type(exercise.specimen.type)
    assert specimen_type is not None
    assert f"width {specimen_type.width_mm.text()} mm" in bar.one("desc").text
    notch = method.notch(exercise.specimen.notch)
    assert ("base radius" in bar.one("desc").text) == (notch is not None)
    if method.support == "three-point":
        assert specimen_type.span_mm is not None
        assert f"span of {specimen_type.span_mm.text()} mm" in seat.one("desc").text
    else:
        assert method.strike_height_mm is not None
        assert f"At {method.strike_height_mm.text()} mm above the clamp" in seat.one("desc").text
    rigs = [demo.library.rigs[each] for each in _rigs(demo, exercise)]
    assert len(pendulums) == len(rigs)
    for drawn, rig in zip(pendulums, rigs, strict=True):
        words = drawn.one("desc").text
        assert rig.title in drawn.one("title").text
        assert f"striking length of {rig.striking_length_mm:g} mm" in words
        assert "After a typical break" in words
        assert "A free swing without a bar rises to" in words


@pytest.mark.parametrize("exercise_id", WITH_BARS)
def test_pendulum_is_the_one_most_used_with_the_rise_of_its_own_bars(
    exercise_id: str, demo_pages: dict[str, Element], demo: Handbook
) -> None:
    exercise = demo.library.exercises[exercise_id]
    drawn = _page(demo_pages, exercise_id).all("svg", css="nb-drawing")[2:]
    seen = 0
    for each, rig in zip(drawn, _rigs(demo, exercise), strict=True):
        records = [r for r in demo.library.records.values() if (r.exercise, r.rig) == (exercise_id, rig)]
        hammers = [
            hammer for (of_rig, _), hammer in demo.evaluation.hammers.items()
            if of_rig == rig and hammer.method == exercise.method
        ]  # fmt: skip
        shown = [hammer for hammer in hammers if each.one("title").text.endswith(f" {hammer.title}")]
        assert len(shown) == 1
        counts = {hammer.id: sum(r.hammer == hammer.id for r in records) for hammer in hammers}
        assert counts[shown[0].id] == max(counts.values())
        newest = demo.evaluation.by_hammer[rig, shown[0].id][0]
        losses = demo.evaluation.verifications[newest.id].losses
        assert losses is not None
        assert f"beta 1 {losses.first_rise_deg:.4g}°" in each.one("desc").text
        method = demo.library.methods[exercise.method]
        rises = [
            bar.rise_angle_deg for r in records
            if r.hammer == shown[0].id and demo.verdicts.records[r.id].conforms
            for _, bar in broken_bars(demo.evaluation.records[r.id], method)
            if bar.rise_angle_deg is not None
        ]  # fmt: skip
        if rises:
            assert f"beta {median(rises):.4g}°" in each.one("desc").text
            seen += 1
    assert seen


def _expected(demo: Handbook, exercise: Exercise, material: Material) -> ExpectedEnergy | None:
    """From the results as the command prints them, not from what the page is made of."""
    method = demo.library.methods[exercise.method]
    assert exercise.specimen is not None
    own = [
        bar.energy_J
        for record in demo.library.records.values()
        if (record.exercise, record.material) == (exercise.id, material.id)
        and demo.verdicts.records[record.id].conforms
        for bar in demo.evaluation.records[record.id].specimens
        if bar.excluded is None and bar.break_type != "N" and bar.energy_J is not None
    ]
    typical = typical_strength(material, method.id, exercise.specimen.notch)
    return expected_energy_J(own, typical, nominal_section(method, exercise.specimen))


@pytest.mark.parametrize("exercise_id", WITH_BARS)
def test_hammer_for_each_material(exercise_id: str, demo_pages: dict[str, Element], demo: Handbook) -> None:
    exercise = demo.library.exercises[exercise_id]
    method = demo.library.methods[exercise.method]
    rows = rows_of(_page(demo_pages, exercise_id).one("table", css="nb-choice"))
    assert len(rows) == len(demo.library.materials)
    for row, (_, material) in zip(rows, sorted(demo.library.materials.items()), strict=True):
        assert row["Material"].text == material.symbol
        expected = _expected(demo, exercise, material)
        known = row["Known from"].text
        if expected is None:
            assert row["Expected, J"].text == "–"
            assert known.endswith("begin with a spare bar, with the responsible person")
        else:
            low, high = NUMBER.findall(row["Expected, J"].text)
            _agrees(low, expected.low_J)
            _agrees(high, expected.high_J)
            typical = "typical range in the file of the material; no pass mark"
            own = f"own results of {expected.bars} bars"
            assert known.startswith(own if expected.basis == "own-results" else typical)
        for rig in _rigs(demo, exercise):
            hammers = [each for (of_rig, _), each in demo.evaluation.hammers.items() if of_rig == rig]
            choice = choose_hammer(
                [each for each in hammers if each.method == method.id], method.energy_window, expected
            )
            assert choice is not None
            cell = row[demo.library.rigs[rig].title]
            assert choice.hammer.title in cell.text
            assert (cell.text.startswith(choice.hammer.title)) == (choice.reason != "outside")
            assert ("two hammers may be needed" in cell.text) == (choice.reason == "most-of-range")
            if choice.low_pct is not None and choice.high_pct is not None:
                share = next(each.text for each in cell.all("span") if "%" in each.text)
                low, high = NUMBER.findall(share)[:2]
                _agrees(low, choice.low_pct)
                _agrees(high, choice.high_pct)


def _own_readings(demo: Handbook, exercise_id: str, hammer: SwungHammer) -> tuple[float, float] | None:
    """The least and greatest reading on a dial of the bars that broke, of records that depart from nothing."""
    readings = [
        bar.indicated_energy_J
        for record in demo.library.records.values()
        if (record.exercise, record.rig, record.hammer) == (exercise_id, hammer.rig, hammer.id)
        and demo.verdicts.records[record.id].conforms
        for bar in record.specimens
        if bar.indicated_energy_J is not None and not bar.excluded and bar.break_type != "N"
    ]
    return (min(readings), max(readings)) if readings else None


@pytest.mark.parametrize("exercise_id", WITH_BARS)
def test_look_up_tables(exercise_id: str, demo_pages: dict[str, Element], demo: Handbook) -> None:
    exercise = demo.library.exercises[exercise_id]
    method = demo.library.methods[exercise.method]
    assert exercise.specimen is not None
    section = nominal_section(method, exercise.specimen)
    assert section == Section(4.0, 10.0 if exercise.specimen.notch == "none" else 8.0)
    shown = _page(demo_pages, exercise_id).all("details", css="nb-lookup")
    hammers = sorted(
        (each for each in demo.evaluation.hammers.values() if each.method == method.id),
        key=lambda each: (each.rig, each.nominal_energy_J),
    )
    assert len(shown) == len(hammers)
    for block, hammer in zip(shown, hammers, strict=True):
        assert block.one("summary").text.startswith(f"{hammer.title}: ")
        newest = demo.evaluation.by_hammer[hammer.rig, hammer.id][0]
        losses = demo.evaluation.verifications[newest.id].losses
        assert losses is not None
        rig = demo.library.rigs[hammer.rig]
        table = lookup_table(rig.indicator, hammer, method, losses, section, _own_readings(demo, exercise_id, hammer))
        assert table is not None
        head = "Rise, °" if rig.indicator.reads == "angle" else "Indicated, J"
        for row, each in zip(rows_of(block.one("table")), table.rows, strict=True):
            assert float(row[head].text) == each.reading
            _agrees(row["Loss, J"].text, each.loss_J)
            _agrees(row["Energy, J"].text, each.energy_J)
            _agrees(row["Strength, kJ/m²"].text, each.strength_kJ_m2)


def test_page_stays_small(demo: Handbook) -> None:
    """With the 30 kB of a theme under 150 kB, which a phone in a laboratory still opens at once."""
    for page in exercise_pages(Facts(demo)):
        assert len(finished(page, demo, listed=True, directory_urls=False).body.encode()) < 120_000, page.src_uri


def test_hammer_without_verification_is_marked_and_has_no_table(tmp_path: Path) -> None:
    contents = small.files()
    del contents[small.TEST], contents[small.VERIFICATION]
    contents[small.MATERIAL]["typical"] = [
        {"method": "iso-179-1", "notch": "A", "strength_kJ_m2": [4, 6], "source": "invented"}
    ]
    page = pages_of(small.opened(tmp_path, contents))["exercises/notched-charpy.md"]
    (row,) = rows_of(page.one("table", css="nb-choice"))
    # 4 and 6 kJ/m2 over 4 mm x 8 mm are 0.128 and 0.192 J: 12.8 to 19.2 % of 1 J
    assert row["Expected, J"].text == "0.13 to 0.19"
    assert row["Known from"].text == "typical range in the file of the material; no pass mark"
    assert "1 J hammer" in row["Bench pendulum 1"].text
    assert [each.text for each in row["Bench pendulum 1"].all(css="nb-warning")] == ["not verified"]
    assert not page.all("details", css="nb-lookup")
    assert page.text.count("so that its losses are not known") == 2
    (pendulum,) = page.all("svg", css="nb-drawing")[2:]
    assert "free swing" not in pendulum.one("desc").text
    assert "After a typical break" in pendulum.one("desc").text


def test_ended_verification_is_told_beside_its_table(tmp_path: Path) -> None:
    contents = small.files()
    contents[small.VERIFICATION]["valid_until"] = "2026-10-20"
    page = pages_of(small.opened(tmp_path, contents))["exercises/notched-charpy.md"]
    (block,) = page.all("details", css="nb-lookup")
    assert "verification ended 20 October 2026: staff verify this hammer before it is used" in block.text
    (row,) = rows_of(page.one("table", css="nb-choice"))
    assert row["Known from"].text == "own results of 10 bars"


def test_bars_that_no_hammer_can_break_are_warned_of(tmp_path: Path) -> None:
    contents = small.files()
    del contents[small.TEST]
    contents[small.MATERIAL]["typical"] = [
        {"method": "iso-179-1", "notch": "A", "strength_kJ_m2": [90, 120], "source": "invented"}
    ]
    page = pages_of(small.opened(tmp_path, contents))["exercises/notched-charpy.md"]
    (row,) = rows_of(page.one("table", css="nb-choice"))
    assert [each.text for each in row["Bench pendulum 1"].all(css="nb-warning")] == ["none is large enough"]


def test_what_the_drawings_cannot_show_is_left_out(tmp_path: Path) -> None:
    contents = small.files()
    own = small.own_method("direction: flatwise, notch: none", "direction: endwise, notch: none")
    contents["procedures/methods/own.yaml"] = own
    contents[small.RIG]["hammers"]["charpy-1"]["method"] = "own"
    exercise = contents[small.EXERCISE]
    exercise["method"], exercise["specimen"] = "own", {"type": "1", "notch": "none", "direction": "endwise"}
    for name in (small.TEST, small.VERIFICATION):
        del contents[name]
    page = pages_of(small.opened(tmp_path, contents))["exercises/notched-charpy.md"]
    titles = [each.one("title").text for each in page.all("svg", css="nb-drawing")]
    assert [each.split(" for ")[0] for each in titles] == ["Bar", "Bench pendulum 1 with its 2 J hammer"]


def _version(tmp_path: Path, **changed: object) -> str:
    contents = small.files()
    contents[small.EXERCISE] |= changed
    bar = pages_of(small.opened(tmp_path, contents))["exercises/notched-charpy.md"].one("div", css="nb-progress")
    assert bar.attributes["data-exercise"] == "notched-charpy"
    return bar.attributes["data-version"]


def test_version_of_the_steps_follows_their_words_and_order_alone(tmp_path: Path) -> None:
    first, second = {"do": "Latch it.", "look_for": "It holds."}, {"do": "Lock it."}
    before = _version(tmp_path / "a", steps=[first, second])
    assert _version(tmp_path / "b", steps=[first, second], aim="Another aim.") == before
    versions = [
        _version(tmp_path / "c", steps=[second, first]),
        _version(tmp_path / "d", steps=[first]),
        _version(tmp_path / "e", steps=[{**first, "look_for": "It holds well."}, second]),
        _version(tmp_path / "f", steps=[first], finish=[second]),
    ]
    assert len({before, *versions}) == 5


def test_the_newest_results_are_listed_and_a_link_leads_to_all(tmp_path: Path) -> None:
    contents = small.files()
    template = contents.pop(small.TEST)
    days = [f"2026-10-{day:02}" for day in range(1, 25)]
    for number, day in enumerate(days):
        record = copy.deepcopy(template) | {"date": day, "group": f"G{number}"}
        contents[f"results/tests/{day}-g{number}.yaml"] = record
    contents[small.VERIFICATION] |= {"date": "2026-09-30", "valid_until": "2027-09-30"}
    page = pages_of(small.opened(tmp_path, contents))["exercises/notched-charpy.md"]
    rows = page.one("table", css="nb-records").one("tbody")
    listed = [each.text for each in rows.all("a") if each.text in days]
    assert listed == days[:-21:-1]
    targets = [each.attributes.get("href", "") for each in page.all("a")]
    assert "../records/index.html#exercise=notched-charpy" in targets
