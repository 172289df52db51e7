"""The ratio of two means with Fieller's interval, against a simulation and a library of error propagation."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import stats
from uncertainties import ufloat

from notchbook.statistics.comparing import KnownMean, ratio

STRENGTHS = st.lists(st.floats(0.5, 200.0), min_size=2, max_size=12)


def _set(mean: float, standard_error: float, n: int) -> list[float]:
    """An even number of values with exactly that mean and that standard error of it: half of them on each side."""
    # s^2 = n d^2/(n - 1), and the standard error is s/sqrt(n)
    distance = standard_error * math.sqrt(n - 1)
    return [mean - distance, mean + distance] * (n // 2)


def test_ends_are_the_quantiles_of_simulated_ratios() -> None:
    """With so many bars t is normal, and the ends are those ratios r for which A - r B has one sign in 97.5 %."""
    mean_a, error_a, mean_b, error_b = 4.1, 0.25, 9.0, 1.1
    found = ratio(_set(mean_a, error_a, 40_000), _set(mean_b, error_b, 40_000))
    assert found.interval is not None
    draws = 2_000_000
    random = np.random.default_rng(20261006)
    ratios = random.normal(mean_a, error_a, draws) / random.normal(mean_b, error_b, draws)
    for end, probability in zip(found.interval, (0.025, 0.975), strict=True):
        share = float(np.mean(ratios <= end))
        # tolerance: four standard errors of a simulated share
        assert share == pytest.approx(probability, abs=4.0 * math.sqrt(0.025 * 0.975 / draws))
    # the interval is not symmetrical, as one by the first order of the errors would be
    low, high = found.interval
    assert high - found.ratio > 1.2 * (found.ratio - low)


def test_interval_of_ten_bars_holds_the_true_ratio_in_95_percent() -> None:
    random = np.random.default_rng(19540716)
    rounds, held = 20_000, 0
    above = random.normal(4.0, 0.3, (rounds, 10)).tolist()
    below = random.normal(60.0, 9.0, (rounds, 8)).tolist()
    for a, b in zip(above, below, strict=True):
        found = ratio(a, b)
        assert found.interval is not None
        held += found.interval[0] <= 4.0 / 60.0 <= found.interval[1]
    # tolerance: four standard errors of a simulated share, and a tenth of a percent for Welch's approximation
    assert held / rounds == pytest.approx(0.95, abs=4.0 * math.sqrt(0.95 * 0.05 / rounds) + 0.001)


@pytest.mark.parametrize(("relative_a", "relative_b"), [(1e-4, 1e-4), (3e-4, 1e-5), (1e-6, 2e-4)])
def test_small_errors_give_the_first_order_of_the_errors(relative_a: float, relative_b: float) -> None:
    n = 10
    found = ratio(_set(4.1, 4.1 * relative_a, n), _set(9.0, 9.0 * relative_b, n))
    expected = ufloat(4.1, 4.1 * relative_a) / ufloat(9.0, 9.0 * relative_b)
    # Welch and Satterthwaite, from memory
    u, w = relative_a**2, relative_b**2
    t = stats.t.ppf(0.975, (u + w) ** 2 / (u**2 / (n - 1) + w**2 / (n - 1)))
    assert found.interval is not None
    assert found.ratio == pytest.approx(expected.nominal_value, rel=1e-12)
    # tolerance: what is left out is of the order of t times the relative error of the lower mean
    half_width = (found.interval[1] - found.interval[0]) / 2.0
    assert half_width == pytest.approx(t * expected.std_dev, rel=1e-6)


def test_by_hand() -> None:
    # means 4 and 8, both of variance 1 over 4 bars: u = w = 1/4. R = 1/2; in absolute terms the degrees of freedom of
    # A - R B are (1/4 + 1/16)^2 / [(1/16)/3 + (1/256)/3] = 75/17; (64 - t^2/4) r^2 - 64 r + (16 - t^2/4) = 0
    away = math.sqrt(0.75)
    found = ratio([4.0 - away, 4.0 + away] * 2, [8.0 - away, 8.0 + away] * 2)
    t_squared = float(stats.t.ppf(0.975, 75.0 / 17.0)) ** 2
    expected = sorted(np.roots([64.0 - t_squared / 4.0, -64.0, 16.0 - t_squared / 4.0]))
    assert found.ratio == pytest.approx(0.5, rel=1e-12)
    # tolerance: rounding of the sets' spread and of the roots
    assert found.interval == pytest.approx(expected, rel=1e-10)


def test_where_there_is_no_interval() -> None:
    # t = 12.7 with one degree of freedom: the lower mean cannot be told from 0
    vague = ratio([4.0, 4.0], [3.0, 5.0])
    assert (vague.ratio, vague.interval) == (1.0, None)


@given(STRENGTHS, STRENGTHS)
def test_holds_its_ratio_and_satisfies_its_definition(upper: list[float], lower: list[float]) -> None:
    found = ratio(upper, lower)
    u, w = np.var(upper, ddof=1) / len(upper), np.var(lower, ddof=1) / len(lower)
    # of sets with next to no spread the difference A - r B has no digits left
    assume(found.interval is not None and u > 1e-6 * np.mean(upper) ** 2)
    assert found.interval is not None
    low, high = found.interval
    assert low < found.ratio < high
    at_ends = [(np.mean(upper) - end * np.mean(lower)) ** 2 / (u + end**2 * w) for end in (low, high)]
    # both are t^2; tolerance: rounding, a thousandth at most of what the spread leaves
    assert at_ends[0] == pytest.approx(at_ends[1], rel=1e-6)


@given(STRENGTHS, STRENGTHS, st.floats(0.01, 100.0))
def test_unit_does_not_matter(upper: list[float], lower: list[float], factor: float) -> None:
    one = ratio(upper, lower)
    other = ratio([each * factor for each in upper], [each * factor for each in lower])
    assert other.ratio == pytest.approx(one.ratio, rel=1e-12)


def test_degrees_of_freedom_of_both_standard_errors_together() -> None:
    # means 4 and 8 with the relative error 0.05 each: Fieller's quadratic with t of three degrees of freedom
    found = ratio(KnownMean(4.0, 0.2), KnownMean(8.0, 0.4), 3.0)
    left = 1.0 - (float(stats.t.ppf(0.975, 3.0)) * 0.05) ** 2
    expected = sorted(0.5 * np.roots([left, -2.0, left]))
    assert found.interval == pytest.approx(expected, rel=1e-9)
    assert found.degrees_of_freedom == 3.0
