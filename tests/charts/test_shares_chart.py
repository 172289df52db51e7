"""The chart of shares, read back from its SVG."""

import re
from dataclasses import replace

import pytest
from svg_reading import Chart, assert_fit_for_a_page

from notchbook.charts.shares import SharesChart, shares_chart

SHARES = (("Scatter of the bars", 81.26), ("Moment of the pendulum", 18.62), ("Thickness", 0.06), ("Gravity", 0.03))
CHART = SharesChart("shares", "What it comes from", SHARES)
TOLERANCE_PX = 0.15  # positions are written with one decimal


def drawn(chart):
    return Chart(shares_chart(chart), chart.id_prefix)


def ends_of(chart, row):
    """Where a bar begins and ends."""
    places = [float(each) for each in re.findall(r"[MHL]\s*(-?[0-9.]+)", chart.named(f"share-{row}").get("d"))]
    return min(places), max(places)


def test_is_fit_for_a_page():
    assert_fit_for_a_page(drawn(CHART))


def test_bars_are_as_long_as_their_shares():
    chart = drawn(CHART)
    zero, whole = (chart.text(label)[0] for label in ("0", "100"))
    for row, (_, share) in enumerate(SHARES, start=1):
        start, end = ends_of(chart, row)
        assert start == pytest.approx(zero, abs=TOLERANCE_PX)
        assert end == pytest.approx(zero + share / 100.0 * (whole - zero), abs=TOLERANCE_PX)


def test_names_and_numbers_stand_beside_the_bars():
    texts = drawn(CHART).texts()
    assert {name for name, _ in SHARES} <= set(texts)
    assert [each for each in texts if each in ("81.3", "18.6", "<0.1")] == ["81.3", "18.6", "<0.1", "<0.1"]


def test_description_says_every_share():
    description = shares_chart(CHART)
    assert "Scatter of the bars 81.3; Moment of the pendulum" in description
    assert "Thickness below 0.1; Gravity below 0.1." in description


def test_a_single_source_fills_the_axis():
    chart = drawn(replace(CHART, shares=(("Scatter of the bars", 100.0 + 1e-12),)))
    assert ends_of(chart, 1)[1] == pytest.approx(chart.text("100")[0], abs=TOLERANCE_PX)


def test_foreign_names_are_text():
    source = shares_chart(replace(CHART, shares=(("<b>&\u202e" + "x" * 300, 100.0),)))
    assert "<b>" not in source
    assert_fit_for_a_page(drawn(replace(CHART, shares=(("<b>&\u202e" + "x" * 300, 100.0),))))


@pytest.mark.parametrize("shares", [(), (("a", -1.0),), (("a", 101.0),), (("a", float("nan")),)])
def test_what_is_no_share_is_refused(shares):
    with pytest.raises(ValueError, match="between 0 and 100 %"):
        shares_chart(replace(CHART, shares=shares))
