"""The difference of two means by Welch and their ratio, against published values and a reference library."""

import math
from pathlib import Path

import numpy as np
import pytest
import yaml
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import stats

from notchbook.statistics.comparing import KnownMean, difference, ratio

SETS = yaml.safe_load((Path(__file__).resolve().parents[1] / "reference/set_summaries.yaml").read_text("utf-8"))
CARS = SETS["car_mileage"]
VALUES = st.lists(st.floats(0.5, 200.0), min_size=2, max_size=12)


def _known(values):
    return KnownMean(float(np.mean(values)), float(np.std(values, ddof=1)) / math.sqrt(len(values)), len(values) - 1)


def test_published_test_of_two_sets():
    """NIST/SEMATECH e-Handbook, 1.3.5.3."""
    published = CARS["published"]
    found = difference(CARS["a"], CARS["b"])
    assert found.t == pytest.approx(published["t"], abs=5e-6)
    # tolerance: published from the rounded standard deviations
    assert found.degrees_of_freedom == pytest.approx(published["degrees_of_freedom"], abs=2e-5)
    assert found.difference == pytest.approx(published["mean_a"] - published["mean_b"], abs=1e-5)
    assert found.excludes_zero
    # and from what is published of the sets alone
    means = [
        KnownMean(published[f"mean_{each}"], published[f"sd_{each}"] / math.sqrt(n), n - 1)
        for each, n in (("a", 249), ("b", 79))
    ]
    printed = difference(*means)
    assert printed.t == pytest.approx(published["t"], abs=5e-6)
    assert printed.degrees_of_freedom == pytest.approx(published["degrees_of_freedom"], abs=5e-6)


@given(VALUES, VALUES)
def test_the_same_as_the_reference_library(a, b):
    assume(np.std(a) > 1e-6 and np.std(b) > 1e-6)
    found, expected = difference(a, b), stats.ttest_ind(a, b, equal_var=False)
    low, high = expected.confidence_interval(0.95)
    assert found.t == pytest.approx(expected.statistic, rel=1e-9, abs=1e-9)
    assert found.degrees_of_freedom == pytest.approx(expected.df, rel=1e-9)
    # tolerance: older versions of scipy stop the search for a quantile at the ninth digit
    assert found.interval == pytest.approx((low, high), rel=1e-7, abs=1e-7 * (high - low))
    assert difference(_known(a), _known(b)).interval == pytest.approx(found.interval, rel=1e-9, abs=1e-7)


@given(VALUES, VALUES)
def test_turned_round_it_has_the_other_sign_and_the_ratio_is_inverse(a, b):
    one, other = difference(a, b), difference(b, a)
    assert other.difference == -one.difference
    assert other.interval == (-one.interval[1], -one.interval[0])
    there, back = ratio(a, b), ratio(b, a)
    assert there.ratio * back.ratio == pytest.approx(1.0, rel=1e-12)
    if there.interval and back.interval and there.interval[0] > 0.0:
        assert there.interval[0] * back.interval[1] == pytest.approx(1.0, rel=1e-9)


@pytest.mark.parametrize("offset", [0.0, 2.0**30, 2.0**45])
def test_an_offset_takes_no_digits(offset):
    """Values that an offset leaves exact, so that any difference is one of the arithmetic."""
    a, b = [1.25, 2.5, 3.0, 4.75], [2.0, 5.5, 3.25]
    plain, moved = difference(a, b), difference([offset + each for each in a], np.array(b) + offset)
    assert moved.difference == plain.difference
    assert moved.t == pytest.approx(plain.t, rel=1e-12)
    assert moved.interval == pytest.approx(plain.interval, rel=1e-12)


def test_a_single_value_has_no_interval():
    found = difference([4.0], [1.0, 2.0, 3.0])
    assert (found.difference, found.standard_error, found.interval) == (2.0, None, None)
    assert (found.t, found.degrees_of_freedom, found.excludes_zero) == (None, None, False)
    assert ratio([4.0], [1.0, 2.0, 3.0]).interval is None
    assert difference(KnownMean(4.0, None), [1.0, 2.0]).interval is None


def test_sets_without_scatter_have_an_interval_without_length():
    found = difference([4.0, 4.0], [1.0, 1.0, 1.0])
    assert (found.interval, found.t, found.degrees_of_freedom) == ((3.0, 3.0), None, None)
    assert found.excludes_zero
    assert not difference([4.0, 4.0], [4.0, 4.0]).excludes_zero
    assert ratio([4.0, 4.0], [8.0, 8.0]).interval == (0.5, 0.5)
    # where one scatters, its degrees of freedom are those of the difference
    assert difference([4.0, 4.0], [1.0, 2.0, 3.0]).degrees_of_freedom == pytest.approx(2.0)


def test_a_mean_that_is_known_for_sure_leaves_the_degrees_of_freedom_of_the_other():
    found = difference(KnownMean(10.0, 0.0), [9.0, 11.0, 13.0, 15.0])
    one = stats.ttest_1samp([9.0, 11.0, 13.0, 15.0], 10.0)
    assert found.t == pytest.approx(-one.statistic)
    assert found.degrees_of_freedom == pytest.approx(3.0)
    # with a standard error that is not in doubt the interval is the normal one
    normal = difference(KnownMean(10.0, 3.0), KnownMean(4.0, 4.0))
    assert normal.interval[1] - normal.difference == pytest.approx(5.0 * stats.norm.ppf(0.975), rel=1e-12)


@pytest.mark.parametrize("compare", [difference, ratio])
@pytest.mark.parametrize(
    ("a", "b", "told"),
    [
        ([], [1.0, 2.0], "without values"),
        ([1.0, 2.0], [], "without values"),
        ([1.0, math.nan], [1.0, 2.0], "finite"),
        ([1.0, 2.0], [math.inf, 2.0], "finite"),
    ],
)
def test_what_is_no_set_is_refused_in_words(compare, a, b, told):
    with pytest.raises(ValueError, match=told):
        compare(a, b)


def test_what_is_no_mean_is_refused_in_words():
    for wrong in ((math.nan, 1.0, 3.0), (1.0, -1.0, 3.0), (1.0, math.inf, 3.0), (1.0, 1.0, 0.0), (1.0, 1.0, math.nan)):
        with pytest.raises(ValueError, match=r"finite|greater than 0"):
            KnownMean(*wrong)
    with pytest.raises(ValueError, match="greater than 0"):
        ratio([1.0, 2.0], [-1.0, 1.0])
    with pytest.raises(ValueError, match="too far apart"):
        difference([1.7e308, 1.7e308], [-1.7e308, -1.7e308])
    with pytest.raises(ValueError, match="too far apart"):
        ratio([1e300, 1e300], [1e-300, 1e-300])


def test_the_interval_of_a_difference_holds_the_true_one_in_95_percent():
    """Sets of unequal size and scatter, 20,000 times."""
    random = np.random.default_rng(19470101)
    rounds, held = 20_000, 0
    above, below = random.normal(5.0, 0.3, (rounds, 10)).tolist(), random.normal(4.0, 0.9, (rounds, 5)).tolist()
    for a, b in zip(above, below, strict=True):
        low, high = difference(a, b).interval
        held += low <= 1.0 <= high
    # tolerance: four standard errors of a simulated share, and half a percent for Welch's approximation
    assert held / rounds == pytest.approx(0.95, abs=4.0 * math.sqrt(0.95 * 0.05 / rounds) + 0.005)
