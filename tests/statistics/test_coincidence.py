"""Chance agreements against counting, scipy's distributions, and a simulation of readings on a scale."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from notchbook.statistics.coincidence import (
    agreement_probabilities,
    arrangements,
    at_least,
    coarsest_marks,
    crowded,
    fewest_beyond_chance,
    middles,
    on_marks,
    table,
    typical_spreads,
)

probabilities = st.lists(st.floats(0.0, 1.0), min_size=1, max_size=8)


@given(probabilities, st.integers(0, 9))
def test_at_least_so_many_of_independent_events_counted_out(chances: list[float], count: int) -> None:
    expected = 0.0
    for outcome in itertools.product([0, 1], repeat=len(chances)):
        if sum(outcome) >= count:
            expected += math.prod(p if happened else 1.0 - p for p, happened in zip(chances, outcome, strict=True))
    assert at_least(chances, count) == pytest.approx(expected, abs=1e-12)


@pytest.mark.parametrize(("n", "p", "k"), [(10, 0.2, 9), (10, 0.06, 8), (7, 0.5, 7), (12, 0.9, 3)])
def test_at_least_so_many_is_the_binomial_tail_where_all_are_alike(n: int, p: float, k: int) -> None:
    assert at_least([p] * n, k) == pytest.approx(stats.binom.sf(k - 1, n, p), rel=1e-12)


@given(st.lists(st.integers(0, 3), max_size=7))
def test_arrangements_counted_out(values: list[int]) -> None:
    assert arrangements(values) == pytest.approx(len(set(itertools.permutations(values))), rel=1e-9)


def test_arrangements_beyond_all_numbers() -> None:
    assert arrangements(range(1000)) == math.inf


@given(st.floats(1e-6, 0.999), st.integers(1, 40), st.floats(1e-9, 0.5))
def test_fewest_beyond_a_chance_really_are_beyond_it(p: float, n: int, chance: float) -> None:
    (fewest,) = fewest_beyond_chance(np.array([p]), np.array([float(n)]), np.array([chance])).tolist()
    # where both are the same number the last digit decides
    assert fewest == n + 1 or stats.binom.sf(fewest - 1, n, p) < chance * (1.0 + 1e-9)


def test_fewest_beyond_a_chance_of_no_set_and_of_an_empty_one() -> None:
    nothing = np.zeros(0)
    assert fewest_beyond_chance(nothing, nothing, nothing).shape == (0,)
    assert fewest_beyond_chance(np.array([0.1]), np.array([0.0]), np.array([1e-3])).tolist() == [1]


@pytest.mark.parametrize(
    ("values", "mark"),
    [
        ([86.4, 87.0, 85.8], 0.2),
        ([86.5, 87.0, 85.5], 0.5),
        ([126.0, 127.0], 1.0),
        ([9.98, 10.02], 0.02),
        ([10.01, 3.99], 0.01),
        ([1.185, 1.23], 0.005),
        ([0.1234567], 0.001),
    ],
)
def test_coarsest_division_that_values_lie_on(values: list[float], mark: float) -> None:
    assert coarsest_marks(table([values])).tolist() == [mark]


def test_marks_of_binary_fractions_and_of_what_is_missing() -> None:
    # 0.3 / 0.1 is 2.9999999999999996
    assert on_marks(np.array([0.3, 0.35, np.nan]), 0.1).tolist() == [True, False, True]


@given(st.lists(st.lists(st.floats(-1e6, 1e6), min_size=1, max_size=7), min_size=1, max_size=5))
def test_middles_are_medians(rows: list[list[float]]) -> None:
    assert middles(table(rows)) == pytest.approx([np.median(each) for each in rows])


def test_middle_of_an_empty_set_is_missing() -> None:
    assert np.isnan(middles(table([[], [1.0]])).tolist()[0])
    assert np.isnan(middles(table([[]]))).all()


def test_outlier_and_ties_leave_the_spread_small() -> None:
    one_far = [10.0, 10.1, 10.2, 10.3, 10.4, 10.5, 90.0]
    all_alike = [8.01] * 6
    spreads = typical_spreads(table([one_far, all_alike]), np.array([0.1, 0.01]))
    # 1.4826 times the median of |x - 10.3|, which is 0.2
    assert spreads == pytest.approx([1.4826 * 0.2, 0.005])


@pytest.mark.parametrize("within", [0, 1, 2])
def test_agreement_is_that_of_the_normal_distribution(within: int) -> None:
    values = np.array([126.0, 126.4, 126.6, 126.8, 127.0, 127.4, 127.8])
    found = agreement_probabilities(values[None, :], np.array([0.2]), within)[0]
    spread, half = min(values.std(ddof=1), 1.4826 * 0.4), (within + 0.5) * 0.2
    near = np.abs(values - 126.8) <= 2.0 * spread
    expected = stats.norm.cdf(values + half, 126.8, spread) - stats.norm.cdf(values - half, 126.8, spread)
    assert found[near] == pytest.approx(expected[near], abs=1e-6)


def test_fine_scale_keeps_its_digits() -> None:
    values = np.array([[1.0, 2.0, 3.0, 4.0, 5.0]])
    spread = float(typical_spreads(values, np.array([1e-3]))[0])
    found = agreement_probabilities(values, np.array([1e-3]))[0]
    assert found[2] == pytest.approx(1e-3 / spread / math.sqrt(2.0 * math.pi), rel=1e-6)


def test_values_that_crowd_count_as_often_as_they_stand_there() -> None:
    # two ways of breaking: six readings alike and four far away
    values = [100.0] * 6 + [130.0, 131.0, 132.0, 133.0]
    assert crowded([0.01] * 10, values, 0.2) == pytest.approx([5 / 9] * 6 + [0.01] * 4)


@pytest.mark.parametrize("spread_in_marks", [0.5, 1.0, 3.0, 8.0])
def test_sound_series_agree_no_more_often_than_is_said(spread_in_marks: float) -> None:
    # pairs of sound sets of ten from one population: how often a value lies on the mark of its counterpart
    random = np.random.default_rng(7)
    first, second = (np.rint(random.normal(500.3, spread_in_marks, (4000, 10))) for _ in range(2))
    said = agreement_probabilities(first, np.ones(4000)).mean()
    assert (first == second).mean() < said
