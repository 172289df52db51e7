"""Every value on the pages is that of the results, to the digits shown, and every reading that of its data file."""

import csv
import io
import math
import re
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
import yaml

from html_tree import Element, rows_of
from notchbook.handbook import Handbook
from notchbook.results_data import as_csv

DEMO = Path(__file__).resolve().parents[2]
RECORDS = sorted(path.stem for path in (DEMO / "results/tests").glob("*.yaml"))
VERIFICATIONS = sorted(path.stem for path in (DEMO / "results/verifications").glob("*.yaml"))
RIGS = sorted(path.stem for path in (DEMO / "procedures/rigs").glob("*.yaml"))
NO_VALUE = "–"
NUMBER = re.compile(r"−?[0-9]+(?:\.[0-9]+)?")


def _data(kind: str, object_id: str) -> Any:
    text = (DEMO / kind / f"{object_id}.yaml").read_text(encoding="utf-8")
    return yaml.load(text, Loader=yaml.BaseLoader)  # noqa: S506  # makes texts only


def _agrees(shown: str, value: float | None, *, figures: int = 0) -> None:
    """The shown number is the value, rounded at its last digit, and has at least so many significant figures."""
    if value is None:
        assert shown == NO_VALUE
        return
    assert NUMBER.fullmatch(shown), shown
    number = Decimal(shown.replace("−", "-"))
    last = Decimal(1).scaleb(number.as_tuple().exponent)
    if "." not in shown and figures:
        # no decimals: the last of the figures may be a ten or a hundred
        last = max(last, Decimal(1).scaleb(math.floor(math.log10(abs(value))) - figures + 1))
    # tolerance: half a unit of the last digit, and the last bits of a binary fraction
    assert abs(number - Decimal(value)) <= last / 2 * (1 + Decimal("1e-9")), f"{shown} for {value}"
    if "." in shown and number:
        assert len(number.as_tuple().digits) >= figures, f"{shown} has fewer than {figures} figures"


def _same_decimals(low: str, high: str, half_width: float) -> None:
    """Both ends have the decimals that half of the width needs for two figures (JCGM 100:2008, 7.2.6)."""
    decimals = {len(each.partition(".")[2]) for each in (low, high)}
    assert decimals == {max(1 - math.floor(math.log10(float(f"{half_width:.2g}"))), 0)}


def test_demo_is_what_these_tests_see(demo: Handbook) -> None:
    assert list(demo.library.records)
    assert sorted(demo.library.records) == RECORDS
    assert sorted(demo.library.verifications) == VERIFICATIONS


@pytest.mark.parametrize("record_id", RECORDS)
def test_headline(record_id: str, demo_pages: dict[str, Element], demo_results: dict[str, Any]) -> None:
    result = demo_results["tests"][record_id]
    head = demo_pages[f"records/{record_id}.md"].one("div", css="nb-result")
    broken = [each for each in head.all("p", css="nb-value") if "did not break" not in each.text]
    assert len(broken) == len(result["sets"])
    for shown, found in zip(broken, result["sets"], strict=True):
        # ISO 179-1 and ISO 180, clause 8: the mean to two significant figures (from memory)
        _agrees(shown.one("b").text, found["mean_kJ_m2"], figures=2)
        assert shown.text.endswith(f"n = {found['n']}")
    spread = head.all("p", css="nb-spread")
    first = result["sets"][0] if result["sets"] else None
    assert len(spread) == (first is not None and first["standard_deviation_kJ_m2"] is not None)
    if spread and first:
        deviation, variation, share, low, high = NUMBER.findall(spread[0].text)
        _agrees(deviation, first["standard_deviation_kJ_m2"], figures=2)
        _agrees(variation, first["variation_pct"])
        assert share == "95"
        for end, sign in ((low, -1), (high, 1)):
            _agrees(end, first["mean_kJ_m2"] + sign * first["expanded_uncertainty_kJ_m2"])
        _same_decimals(low, high, first["expanded_uncertainty_kJ_m2"])


@pytest.mark.parametrize("record_id", RECORDS)
def test_unbroken_bars_are_counted(record_id: str, demo_pages: dict[str, Element]) -> None:
    bars = [each for each in _data("results/tests", record_id)["specimens"] if "excluded" not in each]
    unbroken = sum(each["break"] == "N" for each in bars)
    head = demo_pages[f"records/{record_id}.md"].one("div", css="nb-result")
    lines = [each.text for each in head.all("p", css="nb-value")]
    words = f"{unbroken} of {len(bars)} bars did not break"
    if 2 * unbroken > len(bars):
        assert lines[0] == f"{words} (N): no strength"
    else:
        assert [each for each in lines if "did not break" in each] == [f"N {words}: no strength"] * bool(unbroken)


@pytest.mark.parametrize("record_id", RECORDS)
def test_specimens(record_id: str, demo_pages: dict[str, Element], demo_results: dict[str, Any]) -> None:
    data = _data("results/tests", record_id)
    page = demo_pages[f"records/{record_id}.md"]
    rows = rows_of(page.one("table", css="nb-specimens"))
    results = demo_results["tests"][record_id]["specimens"]
    assert len(rows) == len(results) == len(data["specimens"])
    for cells, bar, found in zip(rows, data["specimens"], results, strict=True):
        shown = {name: cell.text for name, cell in cells.items()}
        assert shown["Bar"] == bar["id"] == found["id"]
        assert shown["Break"] == bar["break"]
        for head, key in (("Width, mm", "width_mm"), ("Thickness, mm", "thickness_mm")):
            assert Decimal(shown[head]) == Decimal(bar[key])
        assert ("Remaining, mm" in shown) == ("remaining_width_mm" in bar)
        if "remaining_width_mm" in bar:
            assert Decimal(shown["Remaining, mm"]) == Decimal(bar["remaining_width_mm"])
        head, key = ("Rise, °", "rise_angle_deg") if "Rise, °" in shown else ("Indicated, J", "indicated_energy_J")
        if key in bar:
            assert Decimal(shown[head]) == Decimal(bar[key])
        else:
            assert shown[head] == NO_VALUE
        _agrees(shown["Loss, J"], found["loss_J"], figures=2)
        _agrees(shown["Energy, J"], found["energy_J"], figures=3)
        _agrees(shown["Used, %"], found["used_pct"])
        _agrees(shown["Strength, kJ/m²"], found["strength_kJ_m2"], figures=3)
        row = cells["Bar"].parent
        assert row is not None
        assert ("nb-excluded" in row.classes) == ("excluded" in bar)
        if "excluded" in bar:
            assert f"Bar {bar['id']} does not count: {' '.join(bar['excluded'].split())}." in page.text


@pytest.mark.parametrize("record_id", RECORDS)
def test_conditions_and_losses(record_id: str, demo_pages: dict[str, Element], demo: Handbook) -> None:
    data = _data("results/tests", record_id)
    facts: dict[str, str] = {}
    for listed in demo_pages[f"records/{record_id}.md"].all("dl", css="nb-facts"):
        facts |= {t.text: d.text for t, d in zip(listed.all("dt"), listed.all("dd"), strict=True)}
    for name, climate in (("Conditioning", data["conditioning"]), ("During the test", data["test_atmosphere"])):
        shown = [float(each.replace("−", "-")) for each in NUMBER.findall(facts[name])]
        assert shown == [float(each) for key, each in climate.items() if key != "state"]
        assert climate.get("state", "") in facts[name]
    losses = demo.evaluation.records[record_id].losses
    assert losses is not None
    indicator, swing, share = NUMBER.findall(facts["Losses"])
    _agrees(indicator, losses.indicator_loss_J, figures=2)
    _agrees(swing, losses.swing_loss_J, figures=2)
    _agrees(share, losses.loss_pct)
    assert ("that day's own free swings" in facts["Losses"]) == ("free_swings" in data)


def _short(result: dict[str, Any]) -> tuple[list[tuple[float, str]], int]:
    unbroken = sum(each["break"] == "N" and each["excluded"] is None for each in result["specimens"])
    return [(each["mean_kJ_m2"], "".join(each["breaks"])) for each in result["sets"]], unbroken


def test_result_in_every_table(demo_pages: dict[str, Element], demo_results: dict[str, Any]) -> None:
    shown_in: dict[str, int] = dict.fromkeys(RECORDS, 0)
    for page in demo_pages.values():
        for table in page.all("table", css="nb-records"):
            for cells in rows_of(table):
                record_id = cells["Date"].one("a").attributes["href"].rpartition("/")[2].removesuffix(".html")
                shown_in[record_id] += 1
                assert cells["Date"].text == _data("results/tests", record_id)["date"]
                sets, unbroken = _short(demo_results["tests"][record_id])
                parts = cells["Result, kJ/m²"].one("b").text.split("; ")
                if not sets:
                    assert parts == [f"{unbroken} of {unbroken} did not break"]
                    continue
                for part, (mean, letters) in zip(parts, sets, strict=False):
                    number, _, shown_letters = part.partition(" ")
                    _agrees(number, mean, figures=2)
                    assert shown_letters == letters
                rest = parts[len(sets) :]
                assert rest == ([f"{unbroken} N"] if unbroken else [])
    # the index of records and the material's page at least, and the exercise's page but for the oldest of many
    assert min(shown_in.values()) >= 2
    assert sum(each >= 3 for each in shown_in.values()) > 30


@pytest.mark.parametrize("verification_id", VERIFICATIONS)
def test_verification(verification_id: str, demo_pages: dict[str, Element], demo_results: dict[str, Any]) -> None:
    data = _data("results/verifications", verification_id)
    found = demo_results["verifications"][verification_id]
    page = demo_pages[f"rigs/{data['rig']}.md"]
    row = page.with_id(verification_id)
    table = next(each for each in row.ancestors if each.tag == "table")
    cells = next(each for each in rows_of(table) if each["Date"].parent is row)
    shown = {name: cell.text for name, cell in cells.items()}
    assert (shown["Date"], shown["In force until"]) == (data["date"], data["valid_until"])
    assert (shown["Hammer"], shown["By"]) == (data["hammer"], data["checked_by"])
    _agrees(shown["Indicator loss, J"], found["indicator_loss_J"], figures=2)
    _agrees(shown["Bearings and air, J"], found["swing_loss_J"], figures=2)
    _agrees(shown["Together, %"], found["loss_pct"])
    _agrees(shown["Pendulum length, mm"], found["pendulum_length_mm"])
    assert shown["Result"] == ("conforms" if found["conforms"] else "does not conform")


@pytest.mark.parametrize("rig_id", RIGS)
def test_hammers_of_a_rig(rig_id: str, demo_pages: dict[str, Element], demo: Handbook) -> None:
    data = _data("procedures/rigs", rig_id)["hammers"]
    by_title = {hammer["title"]: hammer_id for hammer_id, hammer in data.items()}
    rows = rows_of(demo_pages[f"rigs/{rig_id}.md"].all("table")[0])
    assert sorted(by_title) == sorted(row["Hammer"].text for row in rows)
    for row in rows:
        hammer = demo.evaluation.hammers[rig_id, by_title[row["Hammer"].text]]
        _agrees(row["Energy, J"].text, hammer.potential_energy_J, figures=4)
        _agrees(row["Velocity, m/s"].text, hammer.velocity_m_s, figures=3)
        _agrees(row["Release, °"].text, hammer.release_angle_deg)
        _agrees(row["Moment, Nm"].text, hammer.moment_Nm, figures=5)
        low, high = NUMBER.findall(row["For tests of, J"].text)
        # ISO 179-1 and ISO 180, clause 7: 10 % to 80 % of the pendulum's energy (from memory)
        _agrees(low, 0.1 * hammer.potential_energy_J, figures=2)
        _agrees(high, 0.8 * hammer.potential_energy_J, figures=2)


def test_table_of_units(demo_pages: dict[str, Element]) -> None:
    # NIST SP 811 (2008), B.8: foot pound-force 1.355 818 J, inch 25.4 mm, kilogram-force 9.806 65 N
    expected = {
        "ft·lbf/in": 1.355818 / 0.0254,
        "kgf·cm/cm": 9.80665,
        "ft·lbf/in²": 1.355818 / 0.0254**2 / 1000,
        "kgf·cm/cm²": 9.80665 * 0.01 / 0.01**2 / 1000,
    }
    tables = [each for each in demo_pages["methods/index.md"].all("table") if "ft·lbf/in" in each.text]
    shown = {row["1 of"].text: float(row["is"].text) for table in tables for row in rows_of(table)}
    # tolerance: six significant figures are shown, and the foot pound-force has seven
    assert shown == pytest.approx(expected, rel=5e-6)


def test_data_files_of_the_site(demo: Handbook, demo_results: dict[str, Any]) -> None:
    rows = list(csv.DictReader(io.StringIO(as_csv(demo))))
    expected = [(record_id, each) for record_id in RECORDS for each in demo_results["tests"][record_id]["specimens"]]
    assert len(rows) == len(expected)
    for row, (record_id, found) in zip(rows, expected, strict=True):
        assert (row["test"], row["specimen"], row["break"]) == (record_id, found["id"], found["break"])
        for name in ("energy_J", "loss_J", "used_pct", "strength_kJ_m2"):
            assert (float(row[name]) if row[name] else None) == found[name]
