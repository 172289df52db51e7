"""The chart of several results, read back from its SVG."""

import itertools
import math
import re
from dataclasses import replace

import pytest
from svg_reading import KINDS, SVG, Chart, assert_fit_for_a_page

from notchbook.charts.comparison import MOST_ROWS, comparison_chart
from notchbook.charts.kinds import BreakKind
from notchbook.charts.scale import decade_ticks
from notchbook.charts.shown import ComparisonChart, ComparisonGroup, ComparisonRow

CHARPY = ComparisonGroup(
    "Charpy, notch A",
    (
        ComparisonRow("ABS, G2", ("C",), 14.2, (13.8, 14.6)),
        ComparisonRow("ABS, G3", ("C", "H"), 15.9, (12.1, 19.7), deviates=True),
        ComparisonRow("PP, G4", ("P",), 42.0, (37.0, 47.0)),
        ComparisonRow("PP, G5", ("N",), None, None),
    ),
)
IZOD = ComparisonGroup("Izod, notch A", (ComparisonRow("PC, G1", ("H",), 55.0, None),))
CHART = ComparisonChart("cmp", "Results of the exercise", (CHARPY, IZOD), KINDS)
TOLERANCE_PX = 0.5


def drawn(chart):
    return Chart(comparison_chart(chart), chart.id_prefix)


def place_of(chart, value):
    """Where a value lies after the first and the last tick label of the top row."""
    ticks = [each for each in chart.elements if each.tag == f"{SVG}text" and each.get("text-anchor") == "middle"]
    top = [each for each in ticks if each.get("y") == ticks[0].get("y")]
    (low, low_px), (high, high_px) = ((float(each.text), float(each.get("x"))) for each in (top[0], top[-1]))
    return low_px + (value - low) / (high - low) * (high_px - low_px)


def strokes(chart, name):
    """Level strokes of the intervals of one paint: height, start, end."""
    data = re.sub(r"([HVML])", r" \1 ", chart.named(name).get("d")).split()
    found, x, y = [], 0.0, 0.0
    position = 0
    while position < len(data):
        letter = data[position]
        if letter in "ML":
            x, y = float(data[position + 1]), float(data[position + 2])
        elif letter == "H":
            found.append((y, x, float(data[position + 1])))
            x = float(data[position + 1])
        else:
            y = float(data[position + 1])
        position += 3 if letter in "ML" else 2
    return found


def test_is_fit_for_a_page():
    assert_fit_for_a_page(drawn(CHART))


def test_rows_stand_under_their_headings_in_order():
    chart = drawn(CHART)
    texts = ["Charpy, notch A", "ABS, G2", "ABS, G3", "PP, G4", "PP, G5", "Izod, notch A", "PC, G1"]
    heights = [chart.text(each)[1] for each in texts]
    assert heights == sorted(heights)
    assert min(b - a for a, b in itertools.pairwise(heights)) >= 16.0
    bold = [each.text for each in chart.elements if each.get("font-weight") == "bold"]
    assert bold == ["Charpy, notch A", "Izod, notch A"]


def test_marks_stand_at_the_means_beside_their_labels():
    chart = drawn(CHART)
    expected = {"marks-C": [("ABS, G2", 14.2)], "marks-P": [("PP, G4", 42.0)], "marks-H": [("PC, G1", 55.0)]}
    expected["marks-C-deviating"] = [("ABS, G3", 15.9)]
    for name, rows in expected.items():
        points = chart.points(name)
        assert [x for x, _ in points] == pytest.approx([place_of(chart, mean) for _, mean in rows], abs=TOLERANCE_PX)
        # the base line of a label lies 4 px below the middle of its row
        assert [y for _, y in points] == pytest.approx([chart.text(label)[1] - 4.0 for label, _ in rows], abs=0.1)
    assert len({chart.shape(name) for name in ("marks-C", "marks-P", "marks-H", "marks-N")}) == 4


def test_intervals_run_from_low_to_high():
    chart = drawn(CHART)
    ((_, start, end),) = strokes(chart, "intervals-partial")
    assert (start, end) == pytest.approx((place_of(chart, 37.0), place_of(chart, 47.0)), abs=TOLERANCE_PX)
    assert chart.named("intervals-hinge") is None


def test_a_result_that_departs_is_hollow_starred_and_named():
    chart = drawn(CHART)
    assert chart.named("marks-C-deviating").get("fill") == "none"
    assert {"15.9 C/H *", "* departs from the procedure"} <= set(chart.texts())
    assert (
        "ABS, G3 complete (C) and hinge (H) 15.9 kJ/m², 95 % interval 12.1 to 19.7 kJ/m², departs" in chart.description
    )
    # its interval leaves the mark open: it is drawn left and right of it
    (x, y) = chart.points("marks-C-deviating")[0]
    beside = [each for each in strokes(chart, "intervals-complete") if each[0] == y]
    assert all(end <= x - 4.0 or start >= x + 4.0 for _, start, end in beside)
    faithful = replace(CHART, groups=(replace(CHARPY, rows=CHARPY.rows[:1]),))
    assert "departs" not in comparison_chart(faithful)


def test_a_result_without_a_value_stands_at_the_right_edge():
    chart = drawn(CHART)
    ((x, _),) = chart.points("marks-N")
    assert x > place_of(chart, 55.0)
    assert "N" in chart.texts()
    assert "PP, G5 none (N) no value" in chart.description


def test_no_value_at_all():
    chart = drawn(
        ComparisonChart("none", "None", (ComparisonGroup("", (ComparisonRow("a", ("N",), None, None),)),), KINDS)
    )
    assert_fit_for_a_page(chart)
    assert len(chart.points("marks-N")) == 1
    assert chart.named("grid") is None
    assert "No result has a value" in chart.texts()


def test_no_row_is_refused():
    with pytest.raises(ValueError, match="at least one"):
        comparison_chart(ComparisonChart("x", "x", (ComparisonGroup("a", ()),)))


def test_an_interval_beyond_the_axis_ends_in_an_arrow_head():
    wide = ComparisonRow("wide", ("C",), 11.0, (1.0, 90.0))
    chart = drawn(
        ComparisonChart("wide", "Wide", (ComparisonGroup("", (ComparisonRow("a", ("C",), 10.0, None), wide)),), KINDS)
    )
    (_, y) = max(chart.points("marks-C"), key=lambda point: point[1])
    data = chart.named("intervals-complete").get("d")
    (_, left, right), *others = strokes(chart, "intervals-complete")
    assert not others
    for edge, back in ((left, left + 4.0), (right, right - 4.0)):
        assert f"M{back:.1f}".removesuffix(".0") + f" {y - 3.0:g}" in data
        assert 0.0 < edge < 340.0
    assert "95 % interval 1 to 90 kJ/m²" in chart.description


def test_height_grows_with_the_rows_up_to_a_limit():
    def of_rows(count):
        rows = tuple(
            ComparisonRow(f"2026-01-{n:02} G{n} ABS", ("C",), 10.0 + n % 5, (9.0 + n % 5, 11.5 + n % 5))
            for n in range(count)
        )
        return drawn(
            ComparisonChart("rows", "Rows", (ComparisonGroup("First", rows[:30]), ComparisonGroup("Second", rows[30:])))
        )

    heights = [of_rows(count).height for count in (2, 10, 20)]
    assert heights[0] < heights[1] < heights[2]
    most = of_rows(MOST_ROWS)
    over = of_rows(MOST_ROWS + 7)
    assert len(over.points("marks-C")) == MOST_ROWS
    assert over.height - most.height < 30.0
    assert "and 7 more results, not shown" in over.texts()
    assert "7 more results not shown" in over.description
    assert "not shown" not in most.source
    assert len(over.source.encode()) <= 15_000
    assert len(of_rows(10).source.encode()) <= 8_000


@pytest.mark.parametrize(
    "text", ["<script>alert(1)</script>", "$x_1^2$", "\"'&", "\u202eabc", "a\x00\x1b", "x" * 300, "\ud800"]
)
def test_text_of_any_kind_is_only_text(text):
    rows = (ComparisonRow(text, (text, "C"), 3.0, (2.0, 4.0), deviates=True), ComparisonRow(text, (text,), None, None))
    chart = drawn(
        ComparisonChart("hostile", text, (ComparisonGroup(text, rows),), {text: BreakKind(text, "partial")}, text)
    )
    assert_fit_for_a_page(chart)
    assert not re.search("[\x00-\x1f\x7f-\x9f\u202a-\u202e\ud800-\udfff]", "".join(chart.root.itertext()))


def test_is_the_same_each_time():
    assert comparison_chart(CHART) == comparison_chart(CHART)


WIDE = ComparisonChart(
    "wide",
    "Notched and unnotched",
    (
        ComparisonGroup("Unnotched", (ComparisonRow("a", ("C",), 105.0, (98.0, 112.0)),)),
        ComparisonGroup("A", (ComparisonRow("b", ("C",), 4.1, (3.9, 4.3)), ComparisonRow("c", ("C",), 2.1, None))),
    ),
    logarithmic=True,
)


def test_equal_ratios_are_equal_distances_on_a_logarithmic_axis():
    chart = drawn(WIDE)
    assert_fit_for_a_page(chart)
    assert "Impact strength in kJ/m², logarithmic axis" in chart.texts()
    ticks = [each for each in chart.elements if each.tag == f"{SVG}text" and each.get("text-anchor") == "middle"]
    assert [each.text for each in ticks] == ["2", "5", "10", "20", "50", "100", "200"]
    places = {float(each.text): float(each.get("x")) for each in ticks}
    decade = places[20.0] - places[2.0]
    assert places[200.0] - places[20.0] == pytest.approx(decade, abs=TOLERANCE_PX)
    assert places[50.0] - places[5.0] == pytest.approx(decade, abs=TOLERANCE_PX)
    expected = [places[2.0] + decade * math.log10(mean / 2.0) for mean in (105.0, 4.1, 2.1)]
    assert [x for x, _ in chart.points("marks-C")] == pytest.approx(expected, abs=TOLERANCE_PX)


def test_an_interval_below_zero_ends_in_an_arrow_head_on_a_logarithmic_axis():
    rows = (ComparisonRow("a", ("C",), 100.0, None), ComparisonRow("b", ("P",), 2.0, (-9.0, 13.0)))
    chart = drawn(ComparisonChart("below", "Below", (ComparisonGroup("", rows),), KINDS, logarithmic=True))
    first = next(each for each in chart.elements if each.get("text-anchor") == "middle")
    assert first.text == "1"
    assert min(start for _, start, _ in strokes(chart, "intervals-partial")) == pytest.approx(
        float(first.get("x")), abs=TOLERANCE_PX
    )


@pytest.mark.parametrize(
    ("values", "expected"),
    [
        ([4.1], (2.0, 5.0)),
        ([2.0, 110.0], (2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0)),
        ([5.0, 5.0], (5.0, 10.0)),
        ([0.012, 0.3], (0.01, 0.02, 0.05, 0.1, 0.2, 0.5)),
        ([0.5, 60_000.0], (0.1, 1.0, 10.0, 100.0, 1_000.0, 10_000.0, 100_000.0)),
    ],
)
def test_ticks_of_a_logarithmic_axis(values, expected):
    assert decade_ticks(values, []) == expected


@pytest.mark.parametrize("values", [[1e-30, 1e99], [3e-7, 5e6], [1e-100]])
def test_ticks_of_any_range_are_few_and_take_in_all(values):
    ticks = decade_ticks(values, [])
    assert 2 <= len(ticks) <= 8
    assert ticks[0] <= min(values)
    assert max(values) <= ticks[-1]
    assert all(a < b for a, b in itertools.pairwise(ticks))


@pytest.mark.parametrize("mean", [0.0, -1.0, float("nan")])
def test_a_mean_that_has_no_place_on_a_logarithmic_axis_is_refused(mean):
    rows = (ComparisonRow("a", ("C",), mean, None),)
    with pytest.raises(ValueError, match="greater than 0"):
        comparison_chart(ComparisonChart("x", "x", (ComparisonGroup("", rows),), logarithmic=True))
