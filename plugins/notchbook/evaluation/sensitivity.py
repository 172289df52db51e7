"""How strongly a material answers to a notch: the ratio of two mean strengths with its interval."""

from collections.abc import Sequence
from dataclasses import dataclass

from notchbook.statistics.comparing import ratio
from notchbook.statistics.summary import Summary, summarise


@dataclass(frozen=True, slots=True)
class MeanRatio:
    """The ratio of the means of two independent sets."""

    upper: Summary
    """The set above the line, in kJ/m2."""
    lower: Summary
    """The set below the line, in kJ/m2."""
    value: float
    """Mean of the upper set over that of the lower one, without unit."""
    interval: tuple[float, float] | None
    """Two-sided 95 % confidence interval of the ratio by Fieller's theorem; None where it cannot be had."""


def mean_ratio(upper: Sequence[float], lower: Sequence[float]) -> MeanRatio | None:
    """Ratio of the means of two independent sets of single bars, with its 95 % interval.

    Args:
        upper: Strengths of single bars above the line, in kJ/m2, one dimension.
        lower: Strengths of single bars below the line, in the same unit.

    Returns:
        The ratio; its interval is None where a set has a single value, or where the lower mean is not known well
        enough to tell it from 0. None where a set is empty or a mean is not greater than 0.

    Raises:
        ValueError: A strength is not finite.
    """
    if not upper or not lower:
        return None
    above, below = summarise(upper), summarise(lower)
    if above.mean <= 0.0 or below.mean <= 0.0:
        return None
    found = ratio(upper, lower)
    return MeanRatio(above, below, found.ratio, found.interval)
