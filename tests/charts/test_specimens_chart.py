"""The chart of single specimens, read back from its SVG."""

import re
import subprocess
import sys
from dataclasses import replace

import pytest
from svg_reading import KINDS, SVG, Chart, assert_fit_for_a_page

from notchbook.charts.kinds import BreakKind
from notchbook.charts.shown import SetMark, SpecimenMark, SpecimensChart
from notchbook.charts.specimens import specimens_chart

SPECIMENS = (
    SpecimenMark("01", "C", 8.2),
    SpecimenMark("02", "H", 8.9),
    SpecimenMark("03", "P", 14.1),
    SpecimenMark("04", "N", None),
    SpecimenMark("05", "C", 8.5),
    SpecimenMark("06", "P", 13.2),
    SpecimenMark("07", "H", 9.4),
    SpecimenMark("08", "C", 2.1, excluded=True),
    SpecimenMark("09", "P", 13.9),
    SpecimenMark("10", "N", None),
)
SETS = (SetMark(("C", "H"), 4, 8.75, (7.93, 9.57)), SetMark(("P",), 3, 13.73, (12.56, 14.91)))
MIXED = SpecimensChart("chart-a", "Strength of the specimens", SPECIMENS, SETS, KINDS)
TOLERANCE_PX = 0.5


def drawn(chart):
    return Chart(specimens_chart(chart), chart.id_prefix)


def level_of(chart, value):
    """Height of a value after the lowest and the highest tick label, whose base line lies 4 px below the tick."""
    ends = [
        (float(each.text.replace("−", "-")), float(each.get("y")) - 4.0)
        for each in chart.elements
        if each.tag == f"{SVG}text" and each.get("text-anchor") == "end" and "transform" not in each.attrib
    ]
    (low, low_px), (high, high_px) = ends[0], ends[-1]
    return low_px + (value - low) / (high - low) * (high_px - low_px)


def level_line(chart, name):
    """Height of a level line."""
    return float(re.fullmatch(r"M[\d.]+ ([\d.]+)H[\d.]+", chart.named(name).get("d"))[1])


def test_is_fit_for_a_page():
    assert_fit_for_a_page(drawn(MIXED))


def test_each_break_type_has_its_marks():
    chart = drawn(MIXED)
    assert {name: len(chart.points(name)) for name in chart.names("marks-")} == {
        "marks-C": 2,
        "marks-C-excluded": 1,
        "marks-H": 2,
        "marks-P": 3,
    }
    assert len(chart.points("rail-N")) == 2


def test_break_types_differ_in_shape_and_in_paint():
    chart = drawn(MIXED)
    names = ("marks-C", "marks-H", "marks-P", "rail-N")
    assert len({chart.shape(name) for name in names}) == 4
    assert len({chart.named(name).get("fill") for name in names}) == 4


def test_marks_stand_at_their_values_in_order():
    chart = drawn(MIXED)
    points = sorted(point for name in chart.names("marks-") for point in chart.points(name))
    values = [each.strength_kJ_m2 for each in SPECIMENS if each.strength_kJ_m2 is not None]
    assert [y for _, y in points] == pytest.approx([level_of(chart, each) for each in values], abs=TOLERANCE_PX)
    ids = [each.id for each in SPECIMENS if each.strength_kJ_m2 is not None]
    assert [x for x, _ in points] == pytest.approx([chart.text(each)[0] for each in ids], abs=0.1)


def test_an_excluded_specimen_is_hollow_struck_out_and_named():
    chart = drawn(MIXED)
    assert chart.named("marks-C-excluded").get("fill") == "none"
    (point,) = chart.points("marks-C-excluded")
    over = [
        each
        for each in chart.elements
        if each.tag == f"{SVG}use" and (float(each.get("x")), float(each.get("y"))) == point
    ]
    assert len(over) == 2
    assert "excluded" in chart.texts()
    assert "08 C 2.10, excluded" in chart.description
    without = replace(MIXED, specimens=tuple(replace(each, excluded=False) for each in SPECIMENS))
    assert "excluded" not in specimens_chart(without)


def test_specimens_without_a_value_stand_on_a_rail_above_the_plot():
    chart = drawn(MIXED)
    rail = {y for _, y in chart.points("rail-N")}
    assert len(rail) == 1
    assert rail.pop() < min(y for name in chart.names("marks-") for _, y in chart.points(name))
    assert "no break" in chart.texts()
    lost = replace(MIXED, specimens=(*SPECIMENS, SpecimenMark("11", "C", None)))
    assert "no value" in drawn(lost).texts()


def test_lines_stand_at_the_means_and_bands_over_the_intervals():
    chart = drawn(MIXED)
    for place, each in enumerate(SETS, 1):
        assert level_line(chart, f"mean-{place}") == pytest.approx(level_of(chart, each.mean_kJ_m2), abs=TOLERANCE_PX)
        top, bottom = map(
            float,
            re.fullmatch(r"M[\d.]+ ([\d.]+)H[\d.]+V([\d.]+)H[\d.]+Z", chart.named(f"band-{place}").get("d")).groups(),
        )
        low, high = each.interval_kJ_m2
        assert (top, bottom) == pytest.approx((level_of(chart, high), level_of(chart, low)), abs=TOLERANCE_PX)
    assert {"C/H 8.75", "P 13.7"} <= set(chart.texts())
    assert chart.named("mean-1").get("stroke-dasharray") != chart.named("mean-2").get("stroke-dasharray")


def test_the_wide_interval_of_two_specimens_leaves_them_apart():
    # t(0.975; 1) = 12.706, so the interval of two is 12.7 times as wide as they are apart
    two = (SpecimenMark("1", "C", 80.0), SpecimenMark("2", "C", 90.0))
    chart = drawn(SpecimensChart("two", "Two", two, (SetMark(("C",), 2, 85.0, (21.4, 148.6)),)))
    (_, first), (_, second) = chart.points("marks-C")
    assert first - second > 40.0
    assert "95 % interval 21 to 149 kJ/m²" in chart.description


def test_labels_of_close_means_are_kept_apart():
    close = (SetMark(("C",), 3, 8.0, (7.5, 8.5)), SetMark(("P",), 3, 8.1, (7.6, 8.6)))
    chart = drawn(replace(MIXED, sets=close))
    assert abs(chart.text("C 8.00")[1] - chart.text("P 8.10")[1]) >= 12.0


def test_the_description_gives_the_numbers_in_words():
    chart = drawn(MIXED)
    assert chart.named("title").text == "Strength of the specimens"
    assert chart.description == (
        "Impact strength of 10 specimens. "
        "Break type complete (C) and hinge (H): mean of 4 is 8.75 kJ/m², 95 % interval 7.93 to 9.57 kJ/m². "
        "Break type partial (P): mean of 3 is 13.7 kJ/m², 95 % interval 12.6 to 14.9 kJ/m². "
        "Specimens: 01 C 8.20; 02 H 8.90; 03 P 14.1; 04 N no value; 05 C 8.50; 06 P 13.2; 07 H 9.40; "
        "08 C 2.10, excluded; 09 P 13.9; 10 N no value."
    )


def test_the_key_names_letters_and_words_of_what_is_there():
    assert {"C complete", "H hinge", "P partial", "N none", "mean with its 95 % interval"} <= set(drawn(MIXED).texts())
    plain = SpecimensChart("one", "One", (SpecimenMark("1", "C", 5.0),), (SetMark(("C",), 1, 5.0, None),), KINDS)
    texts = drawn(plain).texts()
    assert {"C complete", "mean"} <= set(texts)
    assert not {"H hinge", "P partial", "N none", "excluded", "mean with its 95 % interval"} & set(texts)


def test_break_types_of_one_role_share_its_paint_and_differ_in_shape():
    codes = {f"P{place}": BreakKind(f"partial {place}", "partial") for place in range(4)}
    bars = tuple(SpecimenMark(code, code, 5.0 + place) for place, code in enumerate(codes))
    chart = drawn(SpecimensChart("four", "Four", bars, (), codes))
    groups = [chart.named(f"marks-{code}") for code in codes]
    shapes = {next(iter(each)).get("href") for each in groups}
    assert len(shapes) == len(codes)
    assert len({str(sorted(each.attrib.items() - {("id", each.get("id"))})) for each in groups}) == 1
    assert {f"{code} {kind.title}" for code, kind in codes.items()} <= set(chart.texts())


def test_bars_that_did_not_break_are_told_so_whatever_their_code():
    bars = (SpecimenMark("1", "NB", None), SpecimenMark("2", "u", None))
    kinds = {"NB": BreakKind("no break", "none"), "u": BreakKind("bent through", "none")}
    assert "no break" in drawn(SpecimensChart("nb", "NB", bars, (), kinds)).texts()
    assert "no value" in drawn(SpecimensChart("nb", "NB", bars, (), {"NB": kinds["NB"]})).texts()


def test_other_break_types_are_drawn_and_named_too():
    other = SpecimensChart(
        "other", "Other", (SpecimenMark("1", "splinter", 5.0), SpecimenMark("2", "X 1", 6.0)), (),
        kinds={"splinter": BreakKind("into many pieces", "complete")},
    )  # fmt: skip
    chart = drawn(other)
    assert_fit_for_a_page(chart)
    assert chart.names("marks-") == ["marks-splinter", "marks-X_20_1"]
    assert {"splinter into many pieces", "X 1"} <= set(chart.texts())


def test_no_value_at_all():
    chart = drawn(
        SpecimensChart("none", "None", tuple(SpecimenMark(f"{n}", "N", None) for n in range(1, 6)), (), KINDS)
    )
    assert_fit_for_a_page(chart)
    assert len(chart.points("rail-N")) == 5
    assert chart.named("grid") is None
    assert "No specimen gave a value" in chart.texts()
    assert "There is no mean." in chart.description


def test_no_specimen_is_refused():
    with pytest.raises(ValueError, match="at least one"):
        specimens_chart(SpecimensChart("x", "x", (), ()))


@pytest.mark.parametrize("value", [float("nan"), float("inf"), float("-inf")])
def test_a_value_that_is_no_number_is_refused(value):
    with pytest.raises(ValueError, match="finite"):
        specimens_chart(SpecimensChart("x", "x", (SpecimenMark("1", "C", value),), ()))


@pytest.mark.parametrize(
    "values",
    [(0.0, 0.0), (5.0, 5.0), (-0.2, 0.1), (-3.0, -2.0), (1e-9, 2e-9), (1e9, 3e9), (1e200, 2e200), (0.0, 1e-12)],
)
def test_any_size_of_value_has_its_place(values):
    chart = drawn(SpecimensChart("size", "Size", tuple(SpecimenMark(str(v), "C", v) for v in values), ()))
    assert_fit_for_a_page(chart)
    heights = [y for _, y in chart.points("marks-C")]
    assert all(20.0 <= y <= chart.height - 50.0 for y in heights)
    assert (heights[0] == heights[1]) == (values[0] == values[1])


def test_negative_numbers_have_a_real_minus():
    chart = drawn(SpecimensChart("minus", "Minus", (SpecimenMark("a", "C", -0.25), SpecimenMark("b", "C", 0.1)), ()))
    assert "a C −0.250" in chart.description
    assert any(text.startswith("−0.") for text in chart.texts())
    assert not any(text.startswith("-") for text in chart.texts())


def test_ids_are_level_where_they_fit_else_upright_or_thinned():
    def rotations_and_ids(ids):
        chart = drawn(SpecimensChart("ids", "Ids", tuple(SpecimenMark(each, "C", 5.0) for each in ids), ()))
        labels = [each for each in chart.elements if each.tag == f"{SVG}text" and float(each.get("y")) > 160.0]
        return [each for each in labels if "transform" in each.attrib], [each for each in labels if each.text in ids]

    rotated, level = rotations_and_ids([f"{n:02}" for n in range(1, 11)])
    assert (len(rotated), len(level)) == (0, 10)
    rotated, level = rotations_and_ids([f"{n}" for n in range(1, 41)])
    assert not rotated
    assert 8 <= len(level) < 40
    rotated, _ = rotations_and_ids([f"PP-{n:02}-left" for n in range(1, 11)])
    assert len(rotated) == 10
    ids = [f"long-batch-name-{n:02}" for n in range(1, 11)]
    rotated, _ = rotations_and_ids(ids)
    assert [each.text[0] for each in rotated] == ["…"] * 10
    assert [each.text[-2:] for each in rotated] == [each[-2:] for each in ids]


def test_many_specimens_stay_small():
    many = tuple(SpecimenMark(f"{n}", "CHP"[n % 3], 10.0 + n % 7) for n in range(200))
    chart = drawn(SpecimensChart("many", "Many", many, ()))
    assert sum(len(chart.points(name)) for name in chart.names("marks-")) == 200
    assert "160 more specimens not listed here" in chart.description
    assert len(chart.source.encode()) <= 15_000
    assert len(specimens_chart(MIXED).encode()) <= 8_000


def test_different_prefixes_never_share_an_id():
    prefixes = ["a b", "a-b", "a_b", "a_20_b", "1", "c_1", "ä", ""]
    found = [set(re.findall(r' id="([^"]*)"', specimens_chart(replace(MIXED, id_prefix=each)))) for each in prefixes]
    assert len(set.union(*found)) == sum(map(len, found))
    assert all(re.fullmatch(r"[A-Za-z][\w-]*", each) for ids in found for each in ids)


def test_is_the_same_each_time_and_in_another_process():
    first = specimens_chart(MIXED)
    assert specimens_chart(replace(MIXED, title="Another")) != first
    assert specimens_chart(MIXED) == first
    script = "import sys, test_specimens_chart as t; sys.stdout.buffer.write(t.specimens_chart(t.MIXED).encode())"
    path = [each for each in sys.path if each]
    again = subprocess.run(
        [sys.executable, "-c", f"import sys; sys.path[:0] = {path!r}; {script}"], capture_output=True, check=True
    )
    assert again.stdout.decode() == first
