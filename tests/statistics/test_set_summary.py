"""Mean and spread of a set, against certified data sets, published intervals and exact arithmetic."""

import math
import statistics
import subprocess
import sys
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from notchbook.statistics.summary import Summary, summarise

FOLDER = Path(__file__).parents[1] / "reference"
CERTIFIED = yaml.safe_load((FOLDER / "strd_univariate.yaml").read_text("utf-8"))["sets"]
SETS = yaml.safe_load((FOLDER / "set_summaries.yaml").read_text("utf-8"))

values_of_a_set = st.lists(st.floats(-1e6, 1e6), min_size=2, max_size=30)


def data_of(case):
    """The values of a certified set, written out or built from its rule: one value, then a pair 500 times."""
    if "data" in case:
        return [float(value) for value in case["data"]]
    return [case["data_rule"]["first"], *(case["data_rule"]["then_500_times"] * 500)]


def exact_deviation(values):
    """Standard deviation of the very numbers given, in rational arithmetic up to the root."""
    numbers = [Fraction(value) for value in values]
    mean = sum(numbers) / len(numbers)
    variance = sum((number - mean) ** 2 for number in numbers) / (len(numbers) - 1)
    scale = Fraction(10) ** 400  # keeps fifty digits and more through the integer root
    return float(Fraction(math.isqrt(int(variance * scale)), 10**200))


@pytest.mark.parametrize("name", CERTIFIED)
def test_certified_mean_and_deviation(name):
    # certified to 15 digits for the decimal data; their double precision images differ from these by up to 1e-13
    # in the deviation, and by 3.5e-10 in NumAcc3, where only ten digits of the spread survive the reading
    case = CERTIFIED[name]
    summary = summarise(data_of(case))
    assert summary.n == case["n"]
    assert summary.mean == pytest.approx(case["certified"]["mean"], rel=2e-15)
    tolerance = 4e-10 if name == "NumAcc3" else 1e-13
    assert summary.standard_deviation == pytest.approx(case["certified"]["sd"], rel=tolerance)


@pytest.mark.parametrize("name", CERTIFIED)
def test_interval_of_certified_sets(name):
    # computed from the certified values, 14 significant digits of the limits
    case = CERTIFIED[name]
    np.testing.assert_allclose(summarise(data_of(case)).interval, case["interval"], rtol=5e-14)


@pytest.mark.parametrize("name", CERTIFIED)
def test_certified_sets_against_exact_arithmetic(name):
    values = data_of(CERTIFIED[name])
    summary = summarise(values)
    assert summary.mean == pytest.approx(statistics.mean(values), rel=3e-16)
    assert summary.standard_deviation == pytest.approx(exact_deviation(values), rel=2e-15)


def test_interval_of_the_heat_flow_calibration():
    # NIST/SEMATECH e-Handbook 1.3.5.2, six decimals; its mean is truncated, hence a whole unit there
    case = SETS["heat_flow_calibration"]
    published = case["published"]
    summary = summarise(case["data"])
    assert summary.mean == pytest.approx(published["mean"], abs=1e-6)
    assert summary.standard_deviation == pytest.approx(published["sd"], abs=5.1e-7)
    assert summary.interval == pytest.approx((published["low"], published["high"]), abs=5.1e-7)


def test_temperature_readings():
    # JCGM 100:2008, 4.4.3: mean, s and s of the mean to three decimals
    case = SETS["temperature_readings"]
    summary = summarise(case["data"])
    assert summary.n - 1 == case["published"]["dof"]
    assert summary.mean == pytest.approx(case["published"]["mean"], abs=5.1e-4)
    assert summary.standard_deviation == pytest.approx(case["published"]["sd"], abs=5.1e-4)
    deviation_of_mean = summary.standard_deviation / math.sqrt(summary.n)
    assert deviation_of_mean == pytest.approx(case["published"]["sd_of_mean"], abs=5.1e-4)


def test_daily_maxima():
    # NIST TN 1900 (2015), example E2 (memory): 25.59, 0.872, interval 23.8 to 27.4
    case = SETS["daily_maxima"]
    summary = summarise(case["data"])
    assert summary.mean == pytest.approx(case["published"]["mean"], abs=5.1e-3)
    assert summary.standard_deviation / math.sqrt(summary.n) == pytest.approx(case["published"]["u_mean"], abs=5.1e-4)
    assert summary.interval == pytest.approx((case["published"]["low"], case["published"]["high"]), abs=0.051)


def test_ten_specimens_of_worked_case():
    # W15, six significant digits
    case = SETS["ten_specimens"]
    results = case["results"]
    summary = summarise(np.array(case["data"]))
    assert summary.mean == pytest.approx(results["mean"], rel=5e-6)
    assert summary.standard_deviation == pytest.approx(results["s"], rel=5e-6)
    assert summary.variation_pct == pytest.approx(results["CV_percent"], rel=5e-6)
    low, high = summary.interval
    assert (high - low) / 2.0 == pytest.approx(results["half_width_95"], rel=5e-6)
    assert (high + low) / 2.0 == pytest.approx(results["mean"], rel=1e-14)


def test_one_value_has_a_mean_and_nothing_else():
    summary = summarise([4.2])
    assert summary == Summary(n=1, mean=4.2, standard_deviation=None, variation_pct=None)
    assert summary.interval is None


def test_equal_values_have_no_spread():
    # 0.1 in thirds and sevenths does not add up exactly in binary
    for n in (2, 3, 7, 10, 49):
        summary = summarise([0.1] * n)
        assert (summary.mean, summary.standard_deviation, summary.variation_pct) == (0.1, 0.0, 0.0)
        assert summary.interval == (0.1, 0.1)


def test_variation_needs_a_mean_other_than_zero():
    assert summarise([-1.0, 1.0]).variation_pct is None
    # by hand: mean -2, s = 1, 50 % of the magnitude of the mean
    assert summarise([-3.0, -2.0, -1.0]).variation_pct == pytest.approx(50.0, rel=1e-15)


@pytest.mark.parametrize("values", [[], np.array([]), [1.0, math.nan], [1.0, math.inf], [math.nan]])
def test_sets_that_cannot_be_summarised(values):
    with pytest.raises(ValueError, match=r"without values|finite"):
        summarise(values)


def test_very_small_and_very_large_spreads_survive():
    # squares of these would leave the range of double precision
    assert summarise([1e-170, 3e-170]).standard_deviation == pytest.approx(math.sqrt(2.0) * 1e-170, rel=1e-14)
    assert summarise([1e200, 3e200]).standard_deviation == pytest.approx(math.sqrt(2.0) * 1e200, rel=1e-14)


def test_summary_leaves_scipy_unloaded_until_the_interval_is_asked_for():
    script = (
        "import sys\n"
        "from notchbook.statistics.summary import summarise\n"
        "summary = summarise([1.0, 2.0, 4.0])\n"
        "assert 'scipy' not in sys.modules\n"
        "summary.interval\n"
        "assert 'scipy' in sys.modules\n"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


@given(values_of_a_set)
def test_summary_against_the_standard_library(values):
    summary = summarise(values)
    assert summary.mean == pytest.approx(statistics.mean(values), rel=1e-15, abs=1e-300)
    assert summary.standard_deviation == pytest.approx(statistics.stdev(values), rel=1e-14, abs=1e-300)


@given(values_of_a_set, st.randoms(use_true_random=False))
def test_order_does_not_matter(values, random):
    shuffled = list(values)
    random.shuffle(shuffled)
    summary, other = summarise(values), summarise(shuffled)
    assert other.mean == summary.mean
    assert other.standard_deviation == pytest.approx(summary.standard_deviation, rel=1e-14, abs=1e-300)


@given(st.lists(st.integers(-10_000, 10_000), min_size=2, max_size=30), st.integers(-10_000, 10_000))
def test_a_shift_moves_the_mean_and_not_the_spread(values, shift):
    summary, moved = summarise(values), summarise([value + shift for value in values])
    assert moved.mean == pytest.approx(summary.mean + shift, rel=1e-14, abs=1e-11)
    assert moved.standard_deviation == pytest.approx(summary.standard_deviation, rel=1e-12, abs=1e-12)


@given(st.lists(st.floats(0.1, 1000.0), min_size=2, max_size=30), st.floats(0.01, 100.0))
def test_a_change_of_unit_scales_all_but_the_variation(values, factor):
    # rounding of each scaled value is a spread of its own, 1e-16 of the values
    summary, scaled = summarise(values), summarise([factor * value for value in values])
    floor = 1e-13 * factor * max(values)
    assert scaled.mean == pytest.approx(factor * summary.mean, rel=1e-14)
    assert scaled.standard_deviation == pytest.approx(factor * summary.standard_deviation, rel=1e-12, abs=floor)
    assert scaled.variation_pct == pytest.approx(summary.variation_pct, rel=1e-12, abs=1e-8)
    assert scaled.interval == pytest.approx([factor * limit for limit in summary.interval], rel=1e-11, abs=1e3 * floor)


@given(values_of_a_set)
def test_interval_surrounds_the_mean(values):
    summary = summarise(values)
    low, high = summary.interval
    assert low <= summary.mean <= high


@given(values_of_a_set, st.floats(-2e6, 2e6))
def test_a_value_is_excluded_where_it_lies_outside_the_interval(values, value):
    summary = summarise(values)
    low, high = summary.interval
    margin = 1e-9 * (abs(low) + abs(high) + abs(value))  # where rounding decides, it may do so either way
    if not low - margin <= value <= high + margin:
        assert summary.excludes(value)
    if low + margin <= value <= high - margin:
        assert not summary.excludes(value)


def test_what_a_single_value_excludes():
    summary = summarise([2.0])
    assert (summary.excludes(2.0), summary.excludes(2.1)) == (False, True)
