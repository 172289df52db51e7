"""The ratio of two mean strengths: how often its interval holds the true one, and what it rests on."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from notchbook.evaluation.sensitivity import mean_ratio

STRENGTHS = st.lists(st.floats(0.5, 200.0), min_size=2, max_size=12)
SEVERAL = st.lists(STRENGTHS, min_size=1, max_size=5)
TRUE = 4.0, 60.0
"""Strengths in kJ/m2, as of a notched bar and one without a notch."""


def _classes(random, records, mean, between, within, rounds):
    """Records of so many classes: a record's share of the mean, and the bars' about their record, both normal."""
    found = []
    for n in records:
        shares = 1.0 + between * random.normal(size=(rounds, 1)) + within * random.normal(size=(rounds, n))
        found.append((mean * shares).tolist())
    return list(zip(*found, strict=True))


def _coverage(above, below, between, rounds):
    random = np.random.default_rng(20261006)
    upper = _classes(random, above, TRUE[0], between, 0.06, rounds)
    lower = _classes(random, below, TRUE[1], between, 0.10, rounds)
    held = 0
    for a, b in zip(upper, lower, strict=True):
        found = mean_ratio(a, b)
        held += found.interval is None or found.interval[0] <= TRUE[0] / TRUE[1] <= found.interval[1]
    return held / rounds


# what the demo's records scatter by beyond their bars, and the most that is usual; in shares of the strength
@pytest.mark.parametrize("between", [0.017, 0.04])
@pytest.mark.parametrize(
    ("above", "below"),
    [
        ([10] * 8, [10]),
        ([10] * 5, [10] * 5),
        ([10] * 3, [10] * 2),
        ([10, 9, 5, 10], [10]),
    ],
)
def test_interval_of_several_records_holds_the_true_ratio_in_95_percent(above, below, between):
    rounds = 3_000
    # tolerance: four standard errors of a simulated share, and one percent for the approximated degrees of freedom
    assert _coverage(above, below, between, rounds) == pytest.approx(
        0.95, abs=4.0 * math.sqrt(0.95 * 0.05 / rounds) + 0.01
    )


@pytest.mark.repeats
@pytest.mark.parametrize("between", [0.017, 0.04])
@pytest.mark.parametrize(("above", "below"), [([10] * 8, [10]), ([10] * 5, [10] * 5), ([10] * 3, [10] * 2)])
def test_the_same_with_twenty_thousand_classes(above, below, between):
    assert _coverage(above, below, between, 20_000) == pytest.approx(0.955, abs=0.01)


def test_interval_of_two_records_in_all_is_said_to_be_of_these_alone():
    rounds = 3_000
    assert _coverage([10], [8], 0.0, rounds) == pytest.approx(0.95, abs=4.0 * math.sqrt(0.95 * 0.05 / rounds) + 0.002)
    # with four percent between records it is that of these records and not of the material
    assert _coverage([10], [8], 0.04, rounds) < 0.85
    assert mean_ratio([[4.0, 4.2]], [[60.0, 66.0]]).of_these_records
    assert not mean_ratio([[4.0, 4.2], [4.1, 4.4]], [[60.0, 66.0]]).of_these_records


def test_two_records_are_compared_by_welch():
    upper, lower = [4.0, 4.2, 3.9, 4.1], [60.0, 66.0, 71.0]
    found = mean_ratio([upper], [lower])
    for end in found.interval:
        # Welch's test rejects just what the interval leaves out; tolerance: its degrees of freedom are those at the end
        assert stats.ttest_ind(upper, [end * each for each in lower], equal_var=False).pvalue == pytest.approx(
            0.05, abs=0.01
        )


def test_equal_records_without_scatter_of_bars_give_student_on_record_means():
    # two records a side, all bars of one alike: nothing is left but the record means, with the same relative spread
    # r on both sides; then u = w = r^2/2 and Satterthwaite's degrees of freedom are (r^2)^2 / [2 (r^2/2)^2] = 2
    upper, lower = [[3.9] * 3, [4.1] * 3], [[78.0] * 2, [82.0] * 2]
    found = mean_ratio(upper, lower)
    half = (math.sqrt(2.0) * 0.1 / 4.0) ** 2 / 2.0
    t_squared = float(stats.t.ppf(0.975, 2.0)) ** 2
    # Fieller: (1 - t^2 w) q^2 - 2 q + (1 - t^2 u) = 0 with q the share of the ratio
    ends = sorted(np.roots([1.0 - t_squared * half, -2.0, 1.0 - t_squared * half]))
    assert found.value == pytest.approx(0.05, rel=1e-12)
    assert found.interval == pytest.approx([0.05 * each for each in ends], rel=1e-9)


def test_each_record_counts_once():
    found = mean_ratio([[4.0] * 10, [5.0]], [[9.0, 9.0]])
    assert found.value == pytest.approx(0.5)
    assert (found.upper.records, found.upper.bars, found.upper.mean) == (2, 11, 4.5)
    assert (found.lower.records, found.lower.bars) == (1, 2)


def test_where_there_is_none():
    pair = [3.9, 4.1]
    assert mean_ratio([], [pair]) is None
    assert mean_ratio([pair], [[]]) is None
    assert mean_ratio([[-1.0, -2.0]], [pair]) is None
    assert mean_ratio([pair], [[-1.0, 1.0]]) is None
    single = mean_ratio([[4.0]], [pair])
    assert (single.value, single.interval) == (1.0, None)
    # a single bar scatters by an unknown amount, whatever the records on the other side
    assert mean_ratio([[4.0]], [pair, [4.0, 4.4]]).interval is None
    # t = 12.7 with one degree of freedom: the lower mean cannot be told from 0
    assert mean_ratio([[4.0, 4.0]], [[3.0, 5.0]]).interval is None
    assert mean_ratio([[4.0], [4.0]], [[2.0], [6.0]]).interval is None
    exact = mean_ratio([[4.0, 4.0], [4.0]], [[8.0, 8.0, 8.0]])
    assert (exact.value, exact.interval) == (0.5, (0.5, 0.5))
    with pytest.raises(ValueError, match="finite"):
        mean_ratio([[4.0, math.nan]], [pair])


@given(SEVERAL, SEVERAL, st.floats(0.01, 100.0))
def test_unit_does_not_matter(upper, lower, factor):
    one = mean_ratio(upper, lower)
    other = mean_ratio(
        [[bar * factor for bar in each] for each in upper], [[bar * factor for bar in each] for each in lower]
    )
    assert other.value == pytest.approx(one.value, rel=1e-12)
    assert one.interval is None or one.interval[0] <= one.value <= one.interval[1]
