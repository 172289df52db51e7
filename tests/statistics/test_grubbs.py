"""Grubbs' test for one outlier, against the published tables and examples."""

import math
from pathlib import Path

import numpy as np
import pytest
import scipy.stats
import yaml
from hypothesis import assume, given
from hypothesis import strategies as st

from notchbook.statistics.outliers import furthest_outlier, grubbs_probability, grubbs_statistic

REFERENCE = yaml.safe_load((Path(__file__).parents[1] / "reference" / "critical_values.yaml").read_text("utf-8"))
ISO_TABLE = REFERENCE["grubbs_iso_5725_2"]
EXAMPLE = REFERENCE["grubbs_example"]
REPEATED = REFERENCE["repeated_grubbs_example"]
LEVELS = {"one_percent": 0.01, "five_percent": 0.05}

sets_with_spread = st.lists(st.integers(0, 1000), min_size=3, max_size=30).filter(lambda values: len(set(values)) > 1)


def critical(n, significance):
    """The critical value of ISO 5725-2, Table 5: (n - 1)/sqrt(n) sqrt(t^2/(n - 2 + t^2)), t by scipy."""
    t = scipy.stats.t.isf(significance / (2 * n), n - 2)
    return (n - 1) / math.sqrt(n) * math.sqrt(t**2 / (n - 2 + t**2))


def is_critical(statistic, n, significance, tolerance):
    """Whether a statistic is the critical one to within a tolerance."""
    below, above = (grubbs_probability(max(statistic + off, 0.0), n) for off in (-tolerance, tolerance))
    return above < significance < below


@pytest.mark.parametrize("level", LEVELS)
@pytest.mark.parametrize("n", range(3, 41))
def test_critical_values_of_iso_5725_2(level, n):
    # three decimals printed; the printed last digit is known to be off by one at the n listed in the reference
    tolerance = 0.00091 if n in ISO_TABLE["last_digit"][level] else 0.00051
    assert is_critical(ISO_TABLE[level][n - 3], n, LEVELS[level], tolerance)


@pytest.mark.parametrize(("n", "row"), REFERENCE["grubbs_four_decimals"]["rows"].items())
def test_critical_values_of_a_four_decimal_table(n, row):
    # that table stands up to 0.00015 from the formula
    assert is_critical(row[0], int(n), 0.05, 0.00016)
    assert is_critical(row[1], int(n), 0.01, 0.00016)


@given(st.integers(3, 500), st.floats(0.001, 0.5))
def test_probability_at_the_critical_value(n, significance):
    assert grubbs_probability(critical(n, significance), n) == pytest.approx(significance, rel=1e-9)


def test_published_example():
    # NIST/SEMATECH e-Handbook 1.3.5.17.1: G to six decimals, one-sided critical value at 5 %
    published = EXAMPLE["published"]
    statistic, index = grubbs_statistic(EXAMPLE["data"])
    assert statistic == pytest.approx(published["G"], abs=5.1e-7)
    assert EXAMPLE["data"][index] == EXAMPLE["suspect"]
    # one-sided at 5 % is two-sided at 10 %
    assert is_critical(published["critical_one_sided_5pct"], len(EXAMPLE["data"]), 0.1, 5.1e-7)
    assert furthest_outlier(EXAMPLE["data"]) == index
    assert furthest_outlier(np.array(EXAMPLE["data"])) == index


def test_published_example_with_repeated_removal():
    # NIST/SEMATECH e-Handbook 1.3.5.17.3 (Rosner): ten statistics and two-sided critical values, six decimals
    remaining = list(REPEATED["data"])
    for statistic, published in zip(REPEATED["statistics"], REPEATED["critical"], strict=True):
        computed, index = grubbs_statistic(remaining)
        assert computed == pytest.approx(statistic, abs=5.1e-7)
        assert is_critical(published, len(remaining), REPEATED["significance"], 5.1e-7)
        remaining.pop(index)


def test_several_outliers_mask_each_other():
    # the first published statistic, 3.1189, stays below its critical value 3.1588: a single test finds nothing
    assert furthest_outlier(REPEATED["data"]) is None


def test_ten_strengths_with_a_slip_of_the_decimal_point():
    strengths = [5.2, 5.4, 5.1, 5.3, 5.5, 5.2, 0.53, 5.3, 5.4, 5.2]
    assert furthest_outlier(strengths) == 6
    assert furthest_outlier([*strengths[:6], 5.3, *strengths[7:]]) is None


def test_first_of_equally_far_values():
    statistic, index = grubbs_statistic([1.0, 2.0, 3.0])
    assert (statistic, index) == (pytest.approx(1.0, rel=1e-15), 0)


@pytest.mark.parametrize("values", [[], [1.0], [1.0, 9.0], [0.1, 0.1, 0.1], [7.0] * 10])
def test_sets_too_small_or_without_spread_have_no_outlier(values):
    assert furthest_outlier(values) is None


@pytest.mark.parametrize("values", [[4.2], [0.1, 0.1, 0.1]])
def test_statistic_needs_spread(values):
    with pytest.raises(ValueError, match="without spread"):
        grubbs_statistic(values)


@pytest.mark.parametrize(("statistic", "n"), [(1.0, 2), (-0.1, 10), (math.nan, 10)])
def test_statistic_outside_its_range(statistic, n):
    with pytest.raises(ValueError, match="at least 3 values"):
        grubbs_probability(statistic, n)


@given(sets_with_spread)
def test_statistic_stays_below_its_ceiling(values):
    # (n - 1)/sqrt(n), reached when all other values are equal; Grubbs 1969
    n = len(values)
    statistic, index = grubbs_statistic(values)
    assert statistic <= (n - 1) / math.sqrt(n) * (1.0 + 1e-12)
    assert grubbs_probability((n - 1) / math.sqrt(n), n) == pytest.approx(0.0, abs=1e-6)
    mean = sum(values) / n
    assert abs(values[index] - mean) == pytest.approx(max(abs(value - mean) for value in values), rel=1e-12)


@given(sets_with_spread, st.integers(-1000, 1000), st.integers(1, 50))
def test_statistic_does_not_depend_on_unit_or_zero(values, shift, factor):
    statistic, _ = grubbs_statistic(values)
    moved, _ = grubbs_statistic([factor * value + shift for value in values])
    assert moved == pytest.approx(statistic, rel=1e-11)


@given(sets_with_spread, st.randoms(use_true_random=False))
def test_the_same_value_is_found_in_any_order(values, random):
    found = furthest_outlier(values)
    # a critical value within rounding of the statistic could go either way
    assume(abs(grubbs_statistic(values)[0] - critical(len(values), 0.05)) > 1e-9)
    shuffled = list(values)
    random.shuffle(shuffled)
    other = furthest_outlier(shuffled)
    assert (found is None) == (other is None)
    if found is not None and other is not None:
        assert shuffled[other] == values[found]


@given(st.integers(3, 200), st.floats(0.1, 3.0), st.floats(0.01, 0.5))
def test_probability_falls_with_the_distance_and_grows_with_the_set(n, statistic, more):
    assert grubbs_probability(statistic + more, n) <= grubbs_probability(statistic, n)
    assert grubbs_probability(statistic, n + 1) >= grubbs_probability(statistic, n)
