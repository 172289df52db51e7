"""A control chart, read back from its SVG."""

import datetime as dt
import math
from dataclasses import replace

import pytest
from svg_reading import Chart, assert_fit_for_a_page

from notchbook.charts.control import MOST_POINTS, ControlChart, ControlPoint, ControlTime, control_chart

DAY = dt.date(2025, 10, 6)
HOSTILE = "<script>x</script> $x$ \u202e \x00"


def time(values, first=0, limits=(3.5, 4.5), signals=()):
    points = tuple(
        ControlPoint(DAY + dt.timedelta(days=30 * (first + place)), value, place in signals)
        for place, value in enumerate(values)
    )
    return ControlTime(points, 4.0, limits, 0.6 if limits else None)


CHART = ControlChart(
    "watch",
    "Control chart",
    "Impact strength in kJ/m²",
    (time([4.0, 4.1, 3.9], signals=(1,)), time([4.2, 4.1], 3)),
    (dt.date(2025, 11, 1),),
    (dt.date(2025, 12, 30),),
)


@pytest.mark.parametrize("title", ["Control chart", HOSTILE])
def test_it_is_fit_for_a_page(title):
    assert_fit_for_a_page(Chart(control_chart(replace(CHART, title=title, quantity=title)), "watch"))


def test_records_signals_limits_and_events_are_drawn():
    svg = control_chart(CHART)
    for name in ("records", "signals", "centre-0", "centre-1", "limits-0", "limits-1", "verified", "repaired"):
        assert f'id="watch-{name}"' in svg
    words = Chart(svg, "watch").named("desc").text
    assert "2025-11-05 4.10, a signal" in words
    assert "limits 3.50 and 4.50" in words
    assert "Repaired 2025-12-30." in words
    assert "dotted: repaired" in svg
    quiet = control_chart(replace(CHART, times=(time([4.0, 4.1]),), verified=(), repaired=()))
    for name in ("signals", "verified", "repaired"):
        assert f'id="watch-{name}"' not in quiet


def test_a_single_record_has_no_limits():
    svg = control_chart(replace(CHART, times=(time([4.0], limits=None),)))
    assert_fit_for_a_page(Chart(svg, "watch"))
    assert "watch-limits-0" not in svg


def test_the_newest_of_many_are_drawn_and_the_others_counted():
    many = (time([4.0] * 10), time([4.0 + place % 3 / 10 for place in range(MOST_POINTS)], 10))
    svg = control_chart(replace(CHART, times=many))
    assert "10 earlier records not drawn" in svg
    assert "watch-centre-0" not in svg
    assert_fit_for_a_page(Chart(svg, "watch"))


def test_what_cannot_be_drawn_is_refused():
    for times in ((), (time([math.nan]),)):
        with pytest.raises(ValueError, match="control chart"):
            control_chart(replace(CHART, times=times))
