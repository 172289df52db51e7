"""A control chart of individuals against a published one, and its signals."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from notchbook.statistics.control import individuals, signals_as_they_came

# NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2: flow rate of ten batches, from memory
FLOW = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]


def test_published_chart():
    found = individuals(FLOW)
    assert found.centre == pytest.approx(50.81, abs=5e-5)
    assert found.upper == pytest.approx(55.8041, abs=5e-5)
    assert found.lower == pytest.approx(45.8159, abs=5e-5)
    assert found.signals == ()


def test_a_value_beyond_a_limit_is_a_signal_and_one_on_it_is_none():
    quiet = [10.0, 11.0] * 10
    for far, kind in ((20.0, "above"), (1.0, "below")):
        found = individuals([*quiet, far])
        assert [(each.kind, each.places) for each in found.newest_signals] == [(kind, (20,))]
    assert individuals([*quiet, 12.0]).signals == ()


def test_nine_in_a_row_on_one_side_are_a_signal_and_eight_are_none():
    def kinds(number):
        return [
            each.kind for each in individuals([*[10.0, 12.0] * 10, 11.0, *[11.5, 11.6] * number][: 21 + number]).signals
        ]

    assert kinds(8) == []
    assert kinds(9) == ["run above"]
    mirrored = individuals([-each for each in [*[10.0, 12.0] * 10, *[11.5, 11.6] * 5]])
    assert [each.kind for each in mirrored.signals] == ["run below"]
    assert mirrored.signals[0].words == "is the 9th or a later one in a row below the centre line"


def test_seven_in_a_row_that_rise_are_a_signal_and_six_are_none():
    base = [10.0, 14.0] * 6
    assert individuals([*base, 10.0, 10.5, 11.0, 12.5, 13.0, 13.5]).signals == ()
    found = individuals([*base, 10.0, 10.5, 11.0, 12.5, 13.0, 13.5, 13.6])
    assert [(each.kind, each.places[0], each.places[-1]) for each in found.signals] == [("rising", 12, 18)]


def test_where_there_is_next_to_nothing():
    one = individuals([4.0])
    assert (one.centre, one.lower, one.upper, one.signals) == (4.0, None, None, ())
    equal = individuals([0.1] * 30)
    assert (equal.centre, equal.lower, equal.upper, equal.signals) == (0.1, 0.1, 0.1, ())
    for wrong, told in (([], "without values"), ([1.0, math.nan], "finite"), ([1.7e308, -1.7e308], "too far apart")):
        with pytest.raises(ValueError, match=told):
            individuals(wrong)


@given(st.lists(st.integers(-1000, 1000), min_size=2, max_size=40))
def test_an_offset_takes_nothing_from_the_limits(values):
    """By powers of two, which leave the values exact."""
    plain, moved = individuals(values), individuals(np.array(values, dtype=float) + 2.0**40)
    assert moved.upper - moved.lower == pytest.approx(plain.upper - plain.lower, rel=1e-3, abs=2e-3)
    assert moved.centre - 2.0**40 == pytest.approx(plain.centre, abs=2e-3)


def test_values_that_only_scatter_signal_rarely():
    """Of the newest of twelve or thirty values of a normal distribution, over 20,000 charts of each length."""
    random = np.random.default_rng(7870)
    for length in (12, 30):
        charts = [individuals(each) for each in random.normal(4.0, 0.2, (4000, length)).tolist()]
        share = sum(bool(each.newest_signals) for each in charts) / len(charts)
        assert share < 0.012


@given(st.lists(st.integers(0, 12), min_size=1, max_size=40))
def test_what_came_is_judged_as_by_a_chart_of_all_up_to_it(values):
    found = signals_as_they_came(values, 5)
    going = set()
    for place, told in enumerate(found):
        chart = individuals(values[: place + 1])
        kinds = {each.kind for each in chart.newest_signals} if place >= 4 else set()
        assert set(told) == {each for each in kinds if each in ("above", "below") or each not in going}
        going = kinds
