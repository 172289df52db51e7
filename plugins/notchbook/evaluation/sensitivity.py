"""How strongly a material answers to a notch: the ratio of two mean strengths with its interval."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from notchbook.statistics.comparing import KnownMean, ratio
from notchbook.statistics.summary import pooled_deviation, summarise

_MOST_FREEDOM = 2
"""Times the degrees of freedom between records that an interval may have where one side is a single record: what such a
record shares with no other one is known no better. Found by simulation, so that 95 % at least hold the ratio."""


@dataclass(frozen=True, slots=True)
class Side:
    """The records on one side of a ratio."""

    records: int
    bars: int
    mean: float
    """Mean of the records' means, in kJ/m2: bars of one record have more than the material in common."""


@dataclass(frozen=True, slots=True)
class MeanRatio:
    """The ratio of the means of two independent sets of records."""

    upper: Side
    """Above the line."""
    lower: Side
    value: float
    """Mean of the upper side over that of the lower one, without unit."""
    interval: tuple[float, float] | None
    """Two-sided 95 % confidence interval of the ratio by Fieller's theorem; None where it cannot be had."""
    of_these_records: bool
    """Whether the interval is that of these two records alone, since nothing tells how far records lie apart."""


@dataclass(frozen=True, slots=True)
class _Spread:
    """Records of one side, relative to its mean: squares of standard deviations."""

    side: Side
    of_means: float
    """Variance of the records' means; 0 of a single record."""
    within: float
    """What the scatter of bars within a record adds to that, the mean over the records."""
    within_freedom: int

    @property
    def between_freedom(self) -> int:
        return self.side.records - 1


def mean_ratio(upper: Sequence[Sequence[float]], lower: Sequence[Sequence[float]]) -> MeanRatio | None:
    """Ratio of the mean strengths of two independent sets of records, with its 95 % interval.

    Records of one material scatter about its mean by a share of it, and bars about the mean of their record. The share
    is taken to be the same on both sides, whatever the notch, and found from the records' means, less what the bars
    explain; a side of one record has it from the other. Its standard errors go into Fieller's interval with the degrees
    of freedom of Satterthwaite (Biometrics Bulletin 2, 1946, from memory) for the sum of all that they were found from.
    Of one record a side nothing tells that share, and the interval is Welch's of their bars alone.

    Args:
        upper: The records above the line, each with the strengths of its bars in kJ/m2.
        lower: The records below the line, in the same unit.

    Returns:
        The ratio; its interval is None where a side is a single bar, or where the lower mean is not known well enough
        to tell it from 0. None where a side has no bar or a mean is not greater than 0.

    Raises:
        ValueError: A strength is not finite.
    """
    above, below = _spread(upper), _spread(lower)
    if above is None or below is None:
        return None
    if above.between_freedom or below.between_freedom:
        squares, freedom = _squares(above, below)
        first, second = (_known(each, square) for each, square in zip((above, below), squares, strict=True))
        found = ratio(first, second, freedom)
        return MeanRatio(above.side, below.side, found.ratio, found.interval, of_these_records=False)
    (only_above,), (only_below,) = filter(None, upper), filter(None, lower)
    found = ratio(only_above, only_below)
    return MeanRatio(above.side, below.side, found.ratio, found.interval, of_these_records=True)


def _spread(records: Sequence[Sequence[float]]) -> _Spread | None:
    sets = [summarise(each) for each in records if each]
    if not sets:
        return None
    bars = sum(each.n for each in sets)
    means = summarise([each.mean for each in sets])
    if means.mean <= 0.0:
        return None
    within = (pooled_deviation(sets) or 0.0) / means.mean
    of_one = math.fsum(1.0 / each.n for each in sets) / len(sets)
    deviation = (means.standard_deviation or 0.0) / means.mean
    return _Spread(Side(len(sets), bars, means.mean), deviation**2, within**2 * of_one, bars - len(sets))


def _known(spread: _Spread, square: float) -> KnownMean:
    """The mean of a side by the square of its relative standard error, which a single bar does not have."""
    is_known = spread.between_freedom or spread.within_freedom
    return KnownMean(spread.side.mean, spread.side.mean * math.sqrt(square) if is_known else None)


def _squares(*sides: _Spread) -> tuple[list[float], float]:
    """Squares of the relative standard errors of both sides, and the degrees of freedom of their sum."""
    freedom = sum(each.between_freedom for each in sides)
    weights = [each.between_freedom / freedom for each in sides]
    between = math.fsum(w * (each.of_means - each.within) for w, each in zip(weights, sides, strict=True))
    # less than nothing is a matter of chance among several records, but a lone one scatters at least as its bars do
    least = [-each.within if each.between_freedom else 0.0 for each in sides]
    squares = [(max(between, low) + each.within) / each.side.records for low, each in zip(least, sides, strict=True)]
    carried = math.fsum(1.0 / each.side.records for each in sides if each.between_freedom or between > 0.0)
    parts = []
    for weight, each in zip(weights, sides, strict=True):
        if each.between_freedom:
            parts.append((carried * weight * each.of_means) ** 2 / each.between_freedom)
        if each.within_freedom:
            parts.append((each.within * (1.0 / each.side.records - carried * weight)) ** 2 / each.within_freedom)
    found = math.fsum(squares) ** 2 / math.fsum(parts) if any(parts) else math.inf
    if min(each.between_freedom for each in sides) == 0:
        found = min(found, _MOST_FREEDOM * freedom)
    return squares, found
