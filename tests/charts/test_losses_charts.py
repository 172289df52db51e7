"""Losses over the years and energy dying away, read back from their SVG."""

import datetime as dt

import pytest
from svg_reading import Chart, assert_fit_for_a_page

from notchbook.charts.losses import (
    EnergyLeftChart,
    HammerLosses,
    LossesOverTimeChart,
    LossPoint,
    energy_left_chart,
    losses_over_time_chart,
)
from notchbook.evaluation.losses import EnergyLeft

YEARS = tuple(
    LossPoint(dt.date(year, 9, 9), share) for year, share in ((2023, 45.5), (2024, 55.5), (2025, 63.0), (2026, 50.5))
)
HAMMERS = (HammerLosses("1 J", YEARS), HammerLosses("2 J", YEARS[2:]))
OVER_TIME = LossesOverTimeChart("years", "Losses of a rig", HAMMERS)
LEFT = EnergyLeftChart("left", "Energy left", EnergyLeft((0, 1, 11), (100.0, 99.1, 90.7), 0.0089))
HOSTILE = "<script>x</script> $x$ \u202e \x00"


@pytest.mark.parametrize(
    ("svg", "prefix"), [(losses_over_time_chart(OVER_TIME), "years"), (energy_left_chart(LEFT), "left")]
)
def test_a_chart_is_fit_for_a_page(svg, prefix):
    assert_fit_for_a_page(Chart(svg, prefix))


def test_the_numbers_are_told_in_words():
    words = Chart(losses_over_time_chart(OVER_TIME), "years").named("desc").text
    for part in ("1 J", "2 J", "2023", "2026"):
        assert part in words
    words = Chart(energy_left_chart(LEFT), "left").named("desc").text
    for part in ("99.1", "90.7", "11"):
        assert part in words


def test_the_same_numbers_give_the_same_chart():
    assert losses_over_time_chart(OVER_TIME) == losses_over_time_chart(OVER_TIME)
    assert energy_left_chart(LEFT) == energy_left_chart(LEFT)


def test_other_losses_give_another_chart():
    other = LossesOverTimeChart("years", "Losses of a rig", (HammerLosses("1 J", YEARS[:3]),))
    assert losses_over_time_chart(other) != losses_over_time_chart(OVER_TIME)


def test_foreign_text_is_text():
    svg = losses_over_time_chart(LossesOverTimeChart("years", HOSTILE, (HammerLosses(HOSTILE, YEARS),)))
    assert "<script" not in svg
    assert_fit_for_a_page(Chart(svg, "years"))


def test_repairs_are_marked_on_the_axis_of_time():
    svg = losses_over_time_chart(
        LossesOverTimeChart("years", "Losses of a rig", HAMMERS, (dt.date(2022, 3, 4), dt.date(2026, 7, 1)))
    )
    assert_fit_for_a_page(Chart(svg, "years"))
    assert 'id="years-repaired"' in svg
    assert "Repaired 2022-03-04, 2026-07-01." in Chart(svg, "years").named("desc").text
    assert 'id="years-repaired"' not in losses_over_time_chart(OVER_TIME)
