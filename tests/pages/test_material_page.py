"""The page of a material: all results on one chart, and how much a notch costs."""

import copy
from pathlib import Path
from statistics import fmean
from typing import Any

import pytest
from page_html import pages_of
from scipy import stats

import small_handbook as small
from html_tree import Element, rows_of
from notchbook.facts.alike import alike
from notchbook.facts.facts import Facts
from notchbook.handbook import Handbook, open_handbook
from notchbook.model.record import Record
from notchbook.pages.material.comparison import by_test
from notchbook.results_data import results_data

MATERIALS = sorted(path.stem for path in (Path(__file__).resolve().parents[2] / "procedures/materials").glob("*.yaml"))
URI = "materials/pp-h.md"
OTHER = "results/tests/2026-10-08-g3-pp-h.yaml"


def _rows(page: Element) -> list[dict[str, Element]]:
    return [row for table in page.all("table") if "Blunter or none" in table.text for row in rows_of(table)]


def _speed_m_s(demo: Handbook, record: Record) -> float:
    """The velocity of the class of a record's hammer, ISO 13802:1999, Table 2."""
    hammer = demo.evaluation.hammers[record.rig, record.hammer]
    asked = demo.library.methods[hammer.method].pendulums.of_energy(hammer.nominal_energy_J)
    assert asked is not None
    return asked.velocity_m_s


def _bars(
    demo: Handbook, results: dict[str, Any], material: str, designation: str, speed: str, letters: str
) -> list[list[float]]:
    """Strengths of the bars that count of each conforming record that was struck at a speed."""
    found = []
    for record in demo.library.records.values():
        arrangement = demo.library.methods[demo.evaluation.hammers[record.rig, record.hammer].method].specimen_type(
            record.specimen.type
        )
        assert arrangement is not None
        own = arrangement.arrangement(record.specimen.direction, record.specimen.notch)
        if record.material != material or own is None or own.designation != designation:
            continue
        if results["tests"][record.id]["conforms"] and _speed_m_s(demo, record) == float(speed):
            found.append([
                each["strength_kJ_m2"] for each in results["tests"][record.id]["specimens"]
                if each["excluded"] is None and each["break"] in letters and each["strength_kJ_m2"] is not None
            ])  # fmt: skip
    return [each for each in found if each]


def test_ratios_are_those_of_the_results(
    demo: Handbook, demo_pages: dict[str, Element], demo_results: dict[str, Any]
) -> None:
    seen = 0
    for material in MATERIALS:
        for row in _rows(demo_pages[f"materials/{material}.md"]):
            if row["Ratio"].text == "–":
                assert row["Breaks"].text
                continue
            seen += 1
            upper, lower = (
                _bars(
                    demo, demo_results, material, row[head].text.partition("(")[2][:-1], row["Speed, m/s"].text,
                    row["Breaks"].text,
                )
                for head in ("Sharper notch", "Blunter or none")
            )  # fmt: skip
            assert row["Records"].text == f"{len(upper)} over {len(lower)}"
            assert row["Bars"].text == f"{sum(map(len, upper))} over {sum(map(len, lower))}"
            ratio = float(row["Ratio"].text)
            own = [fmean(map(fmean, side)) for side in (upper, lower)]
            # tolerance: two significant figures are shown, three of the means
            assert ratio == pytest.approx(own[0] / own[1], rel=0.051)
            means = [float(each) for each in row["Means, kJ/m²"].text.split(" over ")]
            assert means == pytest.approx(own, rel=0.0051)
            # the sharper notch stands above the line
            assert ratio < 1.0
            interval, star, _ = row["95 % interval"].text.partition("*")
            low, high = map(float, interval.split(" to "))
            assert low < own[0] / own[1] < high
            assert bool(star) == (len(upper) == len(lower) == 1)
            # Welch's test of two records rejects just what the interval leaves out: with its ends they differ at 5 %
            for end in (low, high) if star else ():
                p = stats.ttest_ind(upper[0], [end * each for each in lower[0]], equal_var=False).pvalue
                # tolerance: three figures of the ends are shown, and the degrees of freedom are those at the ratio
                assert p == pytest.approx(0.05, abs=0.02)
    assert seen


def test_speeds_are_told_apart(demo: Handbook, demo_pages: dict[str, Element]) -> None:
    # hammers up to 5 J strike at 2.9 m/s and those from 7.5 J on at 3.8 m/s: ISO 13802:1999, Table 2, from memory
    facts = Facts(demo)
    for line in facts.records.values():
        if line.method is not None and line.method.standard == "ISO 179-1" and line.hammer is not None:
            assert line.speed_m_s == (2.9 if line.hammer.nominal_energy_J <= 5.0 else 3.8)
    (row,) = _rows(demo_pages["materials/hips.md"])
    assert (row["Ratio"].text, row["Speed, m/s"].text) == ("–", "–")
    assert row["Breaks"].text == "struck at different speeds: 2.9 against 3.8 m/s"
    (chart,) = demo_pages["materials/pc.md"].all("svg")
    bold = [each.text for each in chart.all("text") if each.attributes.get("font-weight") == "bold"]
    assert {f"ISO 179-1/1eA, notch A, {speed} m/s" for speed in ("2.9", "3.8")} <= set(bold)


def _with_other(**changes: Any) -> dict[str, Any]:
    contents = small.files()
    contents[OTHER] = contents[small.TEST] | {"date": "2026-10-08", "group": "G3"} | changes
    bars = [each | {"width_mm": each["width_mm"] + 0.02} for each in contents[small.TEST]["specimens"]]
    contents[OTHER]["specimens"] = bars
    return contents


def _unnotched(contents: dict[str, Any], letter: str) -> dict[str, Any]:
    specimen = {"type": "1", "notch": "none", "direction": "edgewise"}
    contents[OTHER] |= {"exercise": "unnotched-charpy", "specimen": specimen}
    contents["procedures/exercises/unnotched-charpy.yaml"] = contents[small.EXERCISE] | {"specimen": specimen}
    for bar in contents[OTHER]["specimens"]:
        del bar["remaining_width_mm"]
        bar |= {"break": letter, "rise_angle_deg": bar["rise_angle_deg"] - 20.0}
    return contents


def test_notch_against_bars_that_broke_alike(tmp_path: Path) -> None:
    (row,) = _rows(pages_of(small.opened(tmp_path, _unnotched(_with_other(), "C")))[URI])
    assert row["Sharper notch"].text == "notch A (ISO 179-1/1eA)"
    assert row["Blunter or none"].text == "unnotched (ISO 179-1/1eU)"
    # hinge and complete breaks share a mean, the partial one is left out
    assert (row["Breaks"].text, row["Bars"].text) == ("C/H", "9 over 10")
    assert 0.0 < float(row["Ratio"].text) < 1.0


def test_records_that_depart_in_the_same_have_a_row_of_their_own(tmp_path: Path) -> None:
    contents = _unnotched(_with_other(), "C")
    for each in (small.TEST, OTHER):
        contents[each] = copy.deepcopy(contents[each])
        contents[each]["conditioning"]["hours"] = 12
        contents[each]["deviations"] = [{"rule": "conditioning", "reason": "too late", "accepted_by": "LT-1"}]
    contents["mkdocs.yml"] = "plugins: [{notchbook: {deviations: label}}]\n"
    small.write(tmp_path, contents)
    handbook = open_handbook(tmp_path, day=small.DAY)
    (row,) = _rows(pages_of(handbook)[URI])
    assert row["Sharper notch"].text == "notch A (ISO 179-1/1eA) (departs: conditioning)"
    (found,) = results_data(handbook)["notch_sensitivity"]
    assert (found["material"], found["sharper"], found["blunter"]) == ("pp-h", "A", "none")
    assert (found["velocity_m_s"], found["departs"], found["of_these_records"]) == (2.9, ["conditioning"], True)
    assert found["interval"][0] < found["ratio"] < found["interval"][1] < 1.0


@pytest.mark.parametrize(
    ("letter", "reason"),
    [
        ("N", "no strength of bars unnotched (ISO 179-1/1eU)"),
        ("P", ""),
    ],
)
def test_no_ratio_of_bars_that_broke_otherwise(letter: str, reason: str, tmp_path: Path) -> None:
    contents = _unnotched(_with_other(), letter)
    contents[small.TEST]["specimens"] = [each for each in contents[small.TEST]["specimens"] if each["break"] != "P"]
    (row,) = _rows(pages_of(small.opened(tmp_path, contents))[URI])
    assert (row["Ratio"].text, row["95 % interval"].text) == ("–", "–")
    assert row["Breaks"].text == (reason or "the bars broke in different ways: C/H against P")


def test_same_notch_twice_is_no_comparison(tmp_path: Path) -> None:
    page = pages_of(small.opened(tmp_path, _with_other()))[URI]
    assert not _rows(page)
    assert "Notch sensitivity" not in page.text


@pytest.mark.parametrize("material", MATERIALS)
def test_one_chart_with_a_heading_for_each_test(
    material: str, demo: Handbook, demo_pages: dict[str, Element], demo_results: dict[str, Any]
) -> None:
    page = demo_pages[f"materials/{material}.md"]
    (chart,) = page.all("svg")
    headings = [each.text for each in chart.all("text") if each.attributes.get("font-weight") == "bold"]
    assert len(set(headings)) == len(headings)
    own = [each for each in demo.library.records.values() if each.material == material]
    conforming = [each for each in own if demo_results["tests"][each.id]["conforms"]]
    methods = [demo.evaluation.hammers[each.rig, each.hammer].method for each in conforming]
    notches, speeds = [each.specimen.notch for each in conforming], [_speed_m_s(demo, each) for each in conforming]
    assert len(headings) == len(set(zip(notches, methods, speeds, strict=True)))
    # bars that did not break are in it too
    texts = [each.text for each in chart.all("text")]
    if any(bar["break"] == "N" for each in conforming for bar in demo_results["tests"][each.id]["specimens"]):
        assert any(each.split(" ")[0] == "N" for each in texts)
    means = [each["mean_kJ_m2"] for record in conforming for each in demo_results["tests"][record.id]["sets"]]
    assert any("logarithmic axis" in each for each in texts) == (max(means) > 4.0 * min(means))


def _departing(reasons: list[str | None], folder: Path) -> Handbook:
    """A record for each reason, whose bars were conditioned for too short a time; None for one that keeps to it."""
    contents: dict[str, Any] = small.files()
    record = contents.pop(small.TEST)
    for day, reason in enumerate(reasons, start=6):
        made = copy.deepcopy(record) | {"date": f"2026-10-{day:02}"}
        if reason is not None:
            made["conditioning"]["hours"] = 12
            made["deviations"] = [{"rule": "conditioning", "reason": reason, "accepted_by": "LT-1"}]
        for place, bar in enumerate(made["specimens"]):
            bar["width_mm"] = round(bar["width_mm"] + 0.01 * day, 2)
            bar["rise_angle_deg"] = round(bar["rise_angle_deg"] + 0.2 * ((day + place) % 3), 1)
        contents[f"results/tests/2026-10-{day:02}-g2-pp-h.yaml"] = made
    contents["mkdocs.yml"] = "plugins: [{notchbook: {deviations: label}}]\n"
    small.write(folder, contents)
    return open_handbook(folder, day=small.DAY)


@pytest.mark.parametrize(
    ("reasons", "groups"),
    [
        (["too late", "too late"], [(["2026-10-06", "2026-10-07"], "conditioning")]),
        (["too late", "oven full"], [(["2026-10-06"], "conditioning"), (["2026-10-07"], "conditioning")]),
        (["too late", None, "too late"], [(["2026-10-07"], ""), (["2026-10-06", "2026-10-08"], "conditioning")]),
    ],
)
def test_records_that_depart_in_the_same_are_alike(
    reasons: list[str | None], groups: list[tuple[list[str], str]], tmp_path: Path
) -> None:
    facts = Facts(_departing(reasons, tmp_path))
    found = alike(facts.records_of_material("pp-h"))
    told = [(sorted(str(each.date) for each in lines), departure.words) for departure, lines in found.items()]
    assert sorted(told) == sorted(groups)


def test_what_departs_is_compared_under_its_own_heading_and_never_alone(tmp_path: Path) -> None:
    heading = "(departs: conditioning)"
    both = by_test("Results", Facts(_departing(["too late", "too late"], tmp_path / "a")).records_of_material("pp-h"))
    assert heading in both
    alone = by_test("Results", Facts(_departing(["too late", None], tmp_path / "b")).records_of_material("pp-h"))
    assert heading not in alone
    assert "2026-10-07" in alone
    assert "2026-10-06" not in alone
