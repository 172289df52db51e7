"""The charts that explain, read back from their SVG."""

import itertools
import math
import re
from dataclasses import replace

import pytest
from svg_reading import SVG, Chart, assert_fit_for_a_page

from notchbook.charts.theory import IntervalChart, LossChart, interval_chart, loss_chart

RISES = (0.0, 50.0, 100.0, 148.0)
PLASTICS = (0.0031, 0.0055, 0.0078, 0.0101)
METALS = (0.0030, 0.0052, 0.0075, 0.0096)
LOSSES = LossChart("losses", "Loss correction of a hammer", 150.0, RISES, PLASTICS, METALS)
# Student's t, two-sided 95 %, for 2, 4, 9, 19 degrees of freedom: any printed table, such as NIST/SEMATECH e-Handbook
# of Statistical Methods, 1.3.6.7.2
T_TABLE = {3: 4.303, 5: 2.776, 10: 2.262, 20: 2.093}
WIDTHS = {n: t * 0.25 / math.sqrt(n) for n, t in T_TABLE.items()}
INTERVALS = IntervalChart("widths", "Interval by the number of bars", WIDTHS, 10, 0.25)
TOLERANCE_PX = 0.15  # positions are written to a tenth of a pixel


def losses_of(chart):
    return Chart(loss_chart(chart), chart.id_prefix)


def intervals_of(chart):
    return Chart(interval_chart(chart), chart.id_prefix)


def upright(chart, y_px):
    """The value at a height, after the lowest and the highest of the numbers, whose base line is 4 px below."""
    numbers = [
        (float(each.text.replace("−", "-")), float(each.get("y")) - 4.0)
        for each in chart.elements
        if each.tag == f"{SVG}text" and each.get("text-anchor") == "end"
    ]
    (low, low_px), (high, high_px) = numbers[0], numbers[-1]
    return low + (y_px - low_px) / (high_px - low_px) * (high - low)


def level(chart, x_px):
    """The value at a place of the level axis."""
    numbers = [
        (float(each.text), float(each.get("x")))
        for each in chart.elements
        if each.tag == f"{SVG}text" and each.get("text-anchor") == "middle" and each.text.isdigit()
    ]
    (low, low_px), (high, high_px) = numbers[0], numbers[-1]
    return low + (x_px - low_px) / (high_px - low_px) * (high - low)


def vertices(chart, name):
    """Corners of a polyline without level or upright strokes."""
    data = chart.named(name).get("d")
    return [tuple(map(float, each.split())) for each in re.findall(r"[ML]([\d.]+ [\d.]+)", data)]


@pytest.mark.parametrize("chart", [losses_of(LOSSES), intervals_of(INTERVALS)], ids=["losses", "intervals"])
def test_is_fit_for_a_page(chart):
    assert_fit_for_a_page(chart)


@pytest.mark.parametrize(("name", "losses"), [("plastics", PLASTICS), ("metals", METALS)])
def test_line_of_a_correction_lies_at_its_values(name, losses):
    chart = losses_of(LOSSES)
    found = vertices(chart, name)
    assert len(found) == len(RISES)
    for (x, y), rise, loss in zip(found, RISES, losses, strict=True):
        assert level(chart, x) == pytest.approx(rise, abs=0.1)  # half a degree to the pixel
        assert upright(chart, y) == pytest.approx(loss, abs=2e-5)  # 0.015 J over 168 px
    ends = chart.points(f"{name}-ends")
    for end, corner in zip(ends, (found[0], found[-1]), strict=True):
        assert end == pytest.approx(corner, abs=TOLERANCE_PX)


def test_corrections_can_be_told_apart_without_colour():
    chart = losses_of(LOSSES)
    assert "stroke-dasharray" not in chart.named("plastics").attrib
    assert "stroke-dasharray" in chart.named("metals").attrib
    assert chart.shape("plastics-ends") != chart.shape("metals-ends")
    assert {"plastics methods", "metals methods"} <= set(chart.texts())


def test_corrections_are_told_in_words():
    said = losses_of(LOSSES).description
    for number in ("0.00310 J", "0.0101 J", "0.00300 J", "0.00960 J", "0.000500 J apart"):
        assert number in said


def test_width_of_each_number_of_bars_has_its_mark():
    chart = intervals_of(INTERVALS)
    marks = sorted(chart.points("marks") + chart.points("own"))
    assert [round(level(chart, x)) for x, _ in marks] == list(WIDTHS)
    assert [upright(chart, y) for _, y in marks] == pytest.approx(list(WIDTHS.values()), abs=2e-3)
    (own,) = chart.points("own")
    assert level(chart, own[0]) == pytest.approx(10, abs=0.02)


def test_record_of_another_number_is_not_marked():
    chart = intervals_of(replace(INTERVALS, own_n=7))
    assert chart.points("own") == []
    assert len(chart.points("marks")) == len(WIDTHS)
    assert "this record, n = 7" not in chart.texts()


def test_intervals_are_told_in_words():
    said = intervals_of(INTERVALS).description
    # 2.262 x 0.25 / sqrt(10) = 0.1788
    assert "standard deviation of 0.25 kJ/m²" in said
    assert "10 bars 0.18" in said


@pytest.mark.parametrize("most", [2, 3, 20, 21, 24, 25, 60, 500])
def test_numbers_of_bars_stay_apart(most):
    chart = intervals_of(replace(INTERVALS, half_widths_kJ_m2={2: 1.0, most: 0.5}, own_n=most))
    ticks = sorted(
        float(each.get("x"))
        for each in chart.elements
        if each.tag == f"{SVG}text" and each.get("text-anchor") == "middle" and each.text.isdigit()
    )
    assert 2 <= len(ticks) <= 13
    assert min(b - a for a, b in itertools.pairwise(ticks)) >= 18.0
    assert chart.points("own")[0][0] <= ticks[-1] + TOLERANCE_PX


@pytest.mark.parametrize(
    "chart",
    [
        replace(LOSSES, rise_deg=(0.0,), plastics_J=(0.1,), metals_J=(0.1,)),
        replace(LOSSES, metals_J=METALS[:3]),
        replace(LOSSES, plastics_J=(*PLASTICS[:3], math.nan)),
    ],
)
def test_corrections_that_cannot_be_drawn_are_refused(chart):
    with pytest.raises(ValueError, match="loss correction"):
        loss_chart(chart)


@pytest.mark.parametrize("widths", [{}, {3: math.inf}])
def test_intervals_that_cannot_be_drawn_are_refused(widths):
    with pytest.raises(ValueError, match="chart of intervals"):
        interval_chart(replace(INTERVALS, half_widths_kJ_m2=widths))


def test_without_losses_and_without_scatter_there_is_still_a_chart():
    flat = losses_of(replace(LOSSES, plastics_J=(0.0,) * 4, metals_J=(0.0,) * 4))
    level_chart = intervals_of(replace(INTERVALS, half_widths_kJ_m2={3: 0.0, 4: 0.0}, standard_deviation_kJ_m2=0.0))
    assert_fit_for_a_page(flat)
    assert_fit_for_a_page(level_chart)


def test_hostile_title_is_text():
    chart = losses_of(replace(LOSSES, title="</title><script>x</script> \x1b&"))
    assert_fit_for_a_page(chart)
