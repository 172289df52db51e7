"""How likely readings of a scale agree by chance, from their own spread and the marks that they lie on.

Sets stand in tables, a row a set, NaN beyond the end of a shorter one, so that those of a whole library are looked at
at once. Everything errs towards calling an agreement likely: a spread is the smaller of two estimates, and what lies
far out counts as if it lay at two standard deviations.
"""

import math
from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

from notchbook.statistics.values import FloatArray

MARKS = (1.0, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01, 0.005, 0.002, 0.001)
"""Divisions that scales and callipers have, the coarsest first."""
_LAST_BIT = 1e-6
# of a normal distribution, where the median of the absolute departures is 0.6745 standard deviations
_MEDIAN_TO_DEVIATION = 1.4826
_FURTHEST = 2.0
"""Standard deviations from the middle beyond which a value counts as if it lay there."""
_CROWD = 3
"""Other values at one place that are a cluster of their own and no accident."""
# 1 - erf(x) = (a1 t + ... + a5 t^5) exp(-x^2), t = 1/(1 + p x), to 1.5e-7: Abramowitz and Stegun, 7.1.26
_ERF_P, _ERF_A = 0.3275911, (0.254829592, -0.284496736, 1.421413741, -1.453152027, 1.061405429)
# below it the density times the width is nearer than the difference of two error functions
_NARROW = 0.05


def table(rows: Iterable[Sequence[float]]) -> FloatArray:
    """Sets of different lengths in one table, shape (sets, longest), NaN beyond their ends."""
    listed = list(rows)
    found = np.full((len(listed), max(map(len, listed), default=0)), np.nan)
    for index, each in enumerate(listed):
        found[index, : len(each)] = each
    return found


def on_marks(values: FloatArray, mark: float | FloatArray) -> NDArray[np.bool_]:
    """Whether values are whole numbers of marks, but for the last bits of a binary fraction; true of NaN.

    The mark is one for all values, or an array that stretches to their shape.
    """
    steps = values / mark
    return ~(np.abs(steps - np.rint(steps)) > _LAST_BIT * np.maximum(1.0, np.abs(steps)))


def coarsest_marks(values: FloatArray) -> FloatArray:
    """The coarsest usual division, 1 to 0.001, of which all values of a set are whole numbers; the finest if none is.

    Args:
        values: Sets, shape (sets, longest).

    Returns:
        Divisions in the unit of the values, shape (sets,).
    """
    found = np.full(len(values), MARKS[-1])
    for mark in MARKS[-2::-1]:
        found[on_marks(values, mark).all(axis=1)] = mark
    return found


def middles(values: FloatArray) -> FloatArray:
    """Median of each set, shape (sets,); NaN of an empty one."""
    ordered = np.sort(values, axis=1)
    count = (~np.isnan(values)).sum(axis=1)
    if not values.shape[1]:
        return np.full(len(values), np.nan)
    rows, half = np.arange(len(values)), count // 2
    lower, upper = np.maximum(half - 1 + count % 2, 0), np.minimum(half, count - 1)
    return np.asarray((ordered[rows, lower] + ordered[rows, upper]) / 2.0)


def typical_spreads(values: FloatArray, marks: FloatArray) -> FloatArray:
    """Spread of each set that neither an outlier nor a second cluster widens much, at least half a mark.

    The smaller of the standard deviation and of 1.4826 times the median absolute departure from the median.

    Args:
        values: Sets, shape (sets, longest).
        marks: Divisions of their scales, in the unit of the values, shape (sets,).

    Returns:
        Spreads in the unit of the values, shape (sets,); half a mark for an empty set.
    """
    count = np.maximum((~np.isnan(values)).sum(axis=1), 1)
    mean = np.nansum(values, axis=1) / count
    squares = np.nansum((values - mean[:, None]) ** 2, axis=1)
    deviation = np.sqrt(squares / np.maximum(count - 1, 1))
    departure = _MEDIAN_TO_DEVIATION * middles(np.abs(values - middles(values)[:, None]))
    return np.asarray(np.fmax(np.fmin(deviation, departure), marks / 2.0))


def agreement_probabilities(values: FloatArray, marks: FloatArray, within: int = 0) -> FloatArray:
    """For each value, how likely a further one of the same population lies at most so many marks from it.

    Args:
        values: Sets, shape (sets, longest).
        marks: Divisions of their scales, in the unit of the values, shape (sets,).
        within: Marks that the further value may lie off; 0 for the same mark.

    Returns:
        Probabilities of a normal distribution about the median with :func:`typical_spreads`, shape of the values; NaN
        of NaN.
    """
    spreads = typical_spreads(values, marks)[:, None]
    reach = (within + 0.5) * marks[:, None] / spreads
    off = np.minimum(np.abs(values - middles(values)[:, None]) / spreads, _FURTHEST)
    narrow = 2.0 * reach * np.exp(-0.5 * off**2) / math.sqrt(2.0 * math.pi)
    wide = 0.5 * (_erf((off + reach) / math.sqrt(2.0)) - _erf((off - reach) / math.sqrt(2.0)))
    return np.minimum(np.where(reach < _NARROW, narrow, wide), 1.0)


def crowded(probabilities: Sequence[float], values: Sequence[float], mark: float, within: int = 0) -> list[float]:
    """The probabilities of one set, raised to the share of its other values that do lie there, where three or more do.

    Args:
        probabilities: Of each value, by :func:`agreement_probabilities`.
        values: The values, without NaN.
        mark: Division of their scale.
        within: As it was given there.
    """
    half, ordered = (within + 0.5) * mark, sorted(values)
    found = []
    for probability, value in zip(probabilities, values, strict=True):
        together = bisect_left(ordered, value + half) - bisect_right(ordered, value - half) - 1
        share = together / (len(values) - 1) if together >= _CROWD else 0.0
        found.append(max(probability, share))
    return found


def at_least(probabilities: Sequence[float], count: int) -> float:
    """Probability that at least so many of independent events happen (Poisson's binomial distribution).

    Args:
        probabilities: Of each event, between 0 and 1.
        count: How many of them.

    Returns:
        The probability, 1 where the count is 0 or less.
    """
    if count <= 0:
        return 1.0
    # happened[k]: that exactly k of the events so far did, the last entry that the count was reached
    happened = [1.0] + [0.0] * count
    for probability in probabilities:
        happened[count] += happened[count - 1] * probability
        for k in range(count - 1, 0, -1):
            happened[k] += (happened[k - 1] - happened[k]) * probability
        happened[0] -= happened[0] * probability
    return happened[count]


def fewest_beyond_chance(probabilities: FloatArray, bars: FloatArray, chances: FloatArray) -> FloatArray:
    """How many of a set's values have to agree with those of another to be beyond a chance.

    By the bound ``P(k of n) <= exp(-n (a ln(a/p) + (1 - a) ln((1 - a)/(1 - p))))`` with ``a = k/n`` above the mean
    probability ``p`` (W. Hoeffding, Probability inequalities for sums of bounded random variables, 1963, Theorem 1).

    Args:
        probabilities: Mean probability of one agreement, shape (sets,).
        bars: Number n of values, shape (sets,).
        chances: The chance, shape (sets,).

    Returns:
        Numbers k, one more than there are values where no number is enough, shape (sets,).
    """
    n, p = bars[:, None], np.clip(probabilities, 1e-12, 1.0 - 1e-12)[:, None]
    k = np.arange(1.0, max(bars.max(initial=0.0), 1.0) + 1.0)[None, :]
    share = np.minimum(k / np.maximum(n, 1), 1.0)
    rest = np.where(share < 1.0, (1.0 - share) * np.log(np.maximum(1.0 - share, 1e-300) / (1.0 - p)), 0.0)
    bound = np.where(share > p, -n * (share * np.log(share / p) + rest), 0.0)
    enough = (bound < np.log(chances)[:, None]) & (k <= n)
    return np.where(enough.any(axis=1), enough.argmax(axis=1) + 1, bars + 1)


def arrangements(values: Sequence[float]) -> float:
    """In how many different orders the values can stand: ``n! / (k_1! k_2! ...)`` with k of each value.

    Args:
        values: Any numbers.

    Returns:
        The number of orders, infinite where it is beyond all numbers.
    """
    log = math.lgamma(len(values) + 1) - sum(math.lgamma(k + 1) for k in Counter(values).values())
    return math.exp(log) if log < 700.0 else math.inf


def _erf(x: FloatArray) -> FloatArray:
    """The error function to 1.5e-7; that of scipy takes longer to load than a handbook to check."""
    t = 1.0 / (1.0 + _ERF_P * np.abs(x))
    series = np.zeros_like(t)
    for factor in reversed(_ERF_A):
        series = (series + factor) * t
    return np.asarray(np.sign(x) * (1.0 - series * np.exp(-(x**2))))
