"""The chart of the energies used, read back from its SVG."""

import itertools
from dataclasses import replace

import pytest
from svg_reading import KINDS, SVG, Chart, assert_fit_for_a_page

from notchbook.charts.kinds import BreakKind
from notchbook.charts.shown import WindowChart, WindowMark
from notchbook.charts.window import window_chart
from notchbook.model.method import EnergyWindow
from notchbook.model.requirement import Origin

CHART = WindowChart(
    "used",
    "Energy used",
    (
        WindowMark("01", "C", 12.7),
        WindowMark("02", "C", 12.8),
        WindowMark("03", "H", 55.0),
        WindowMark("04", "P", 84.2),
        WindowMark("05", "C", 30.0, excluded=True),
    ),
    EnergyWindow(10.0, 80.0, Origin("7.3", "memory", "memory", "high")),
    KINDS,
)
TOLERANCE_PX = 0.15  # positions are written with one decimal


def drawn(chart):
    return Chart(window_chart(chart), chart.id_prefix)


def place_of(chart, value):
    """Where a share lies after the labels 0 and 100 of the axis."""
    low, high = (chart.text(label)[0] for label in ("0", "100"))
    return low + value / 100.0 * (high - low)


def test_is_fit_for_a_page():
    assert_fit_for_a_page(drawn(CHART))


def test_marks_stand_at_their_shares():
    chart = drawn(CHART)
    expected = {"marks-C": [12.7, 12.8], "marks-H": [55.0], "marks-P": [84.2], "marks-C-excluded": [30.0]}
    for name, shares in expected.items():
        places = [x for x, _ in chart.points(name)]
        assert places == pytest.approx([place_of(chart, each) for each in shares], abs=TOLERANCE_PX)
    assert len({chart.shape(name) for name in ("marks-C", "marks-H", "marks-P")}) == 3


def test_window_is_shaded_from_end_to_end():
    chart = drawn(CHART)
    data = chart.named("window").get("d")
    left, right = (f"{place_of(chart, end):.1f}".removesuffix(".0") for end in (10.0, 80.0))
    assert data.startswith(f"M{left} ")
    assert f"H{right}" in data
    assert "nb-band" in chart.named("window").get("fill")
    assert "allowed: 10 % to 80 %" in chart.texts()


def test_marks_that_would_cover_each_other_are_stacked():
    marks = tuple(WindowMark(f"{number:02}", "C", 13.0 + number / 100.0) for number in range(10))
    chart = drawn(replace(CHART, specimens=marks))
    heights = sorted(y for _, y in chart.points("marks-C"))
    assert all(b - a >= 8.9 for a, b in itertools.pairwise(heights))
    axis = float(chart.named("axis").get("d").split()[1].split("H")[0])
    assert max(heights) < axis
    apart = drawn(replace(CHART, specimens=tuple(replace(each, used_pct=8.0 * n) for n, each in enumerate(marks))))
    assert len({y for _, y in apart.points("marks-C")}) == 1


def test_a_share_beyond_the_axis_stands_at_its_end():
    marks = (WindowMark("01", "C", -3.0), WindowMark("02", "C", 140.0))
    chart = drawn(replace(CHART, specimens=marks))
    places = [x for x, _ in chart.points("marks-C")]
    assert places == pytest.approx([place_of(chart, 0.0), place_of(chart, 100.0)], abs=TOLERANCE_PX)
    assert "01 C −3.00; 02 C 140." in chart.description


def test_says_all_in_words():
    description = drawn(CHART).description
    assert "Allowed: 10 % to 80 %." in description
    assert "3 of 4 specimens that count lie inside." in description
    assert "01 C 12.7; 02 C 12.8; 03 H 55.0; 04 P 84.2; 05 C 30.0, excluded." in description


def test_legend_names_the_break_types_that_occur():
    texts = drawn(CHART).texts()
    assert {"C complete", "H hinge", "P partial", "excluded"} <= set(texts)
    assert "N none" not in texts


def test_many_specimens_keep_the_chart_small():
    marks = tuple(WindowMark(f"{number:03}", "C", 40.0) for number in range(300))
    chart = drawn(replace(CHART, specimens=marks))
    assert len(chart.points("marks-C")) == 300
    assert chart.height < 250.0
    assert "260 more specimens not listed here." in chart.description
    assert all(0.0 < y < chart.height for _, y in chart.points("marks-C"))


@pytest.mark.parametrize("used", [float("nan"), float("inf")])
def test_what_is_no_number_is_refused(used):
    with pytest.raises(ValueError, match="finite"):
        window_chart(replace(CHART, specimens=(WindowMark("01", "C", used),)))


def test_no_specimen_is_refused():
    with pytest.raises(ValueError, match="at least one"):
        window_chart(replace(CHART, specimens=()))


@pytest.mark.parametrize("text", ["<script>alert(1)</script>", "$x_1^2$", "\u202eabc", "a\x00\x1b", "x" * 300])
def test_text_of_any_kind_is_only_text(text):
    chart = drawn(
        replace(CHART, title=text, specimens=(WindowMark(text, text, 20.0),), kinds={text: BreakKind(text, "partial")})
    )
    assert_fit_for_a_page(chart)
    assert sum(each.tag == f"{SVG}desc" for each in chart.elements) == 1
