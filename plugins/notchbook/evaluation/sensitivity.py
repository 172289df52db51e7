"""How strongly a material answers to a notch: the ratio of two mean strengths with its interval."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from notchbook.statistics.quantiles import UPPER_PROBABILITY, student_t_quantile
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
    """Two-sided 95 % confidence interval of the ratio; None where it cannot be had."""


def mean_ratio(upper: Sequence[float], lower: Sequence[float]) -> MeanRatio | None:
    """Ratio of the means of two independent sets of single bars, with its 95 % interval by Fieller's theorem.

    The interval holds the ratios r for which ``(A - r B)^2 <= t^2 (u + r^2 w)``, A and B the means of the upper and the
    lower set, ``u = s_A^2/n_A`` and ``w = s_B^2/n_B`` the squares of their standard errors; Fieller, Journal of the
    Royal Statistical Society B 16 (1954), from memory. With the relative squares ``u' = u/A^2`` and ``w' = w/B^2``, and
    ``R = A/B``, its ends are ``R [1 -+ sqrt(1 - (1 - t^2 u') (1 - t^2 w'))] / (1 - t^2 w')``.

    t is the quantile of Student's t at 0.975 with the degrees of freedom of ``A - R B`` after Welch and Satterthwaite,
    ``(u' + w')^2 / [u'^2/(n_A - 1) + w'^2/(n_B - 1)]``; from memory. The sets need not have the same variance.

    Args:
        upper: Strengths of single bars above the line, in kJ/m2, one dimension.
        lower: Strengths of single bars below the line, in the same unit.

    Returns:
        The ratio; its interval is None where a set has a single value, or where the lower mean is not known well
        enough to tell it from 0, so that no interval of finite length holds. None where a set is empty or a mean is
        not greater than 0.

    Raises:
        ValueError: A strength is not finite.
    """
    if not upper or not lower:
        return None
    above, below = summarise(upper), summarise(lower)
    if above.mean <= 0.0 or below.mean <= 0.0:
        return None
    value = above.mean / below.mean
    return MeanRatio(above, below, value, _interval(value, above, below))


def _interval(value: float, upper: Summary, lower: Summary) -> tuple[float, float] | None:
    if upper.standard_deviation is None or lower.standard_deviation is None:
        return None
    u = (upper.standard_deviation / upper.mean) ** 2 / upper.n
    w = (lower.standard_deviation / lower.mean) ** 2 / lower.n
    if u + w == 0.0:
        return value, value
    # as shares of their sum, whose squares cannot vanish both
    freedom = 1.0 / ((u / (u + w)) ** 2 / (upper.n - 1) + (w / (u + w)) ** 2 / (lower.n - 1))
    t_squared = student_t_quantile(UPPER_PROBABILITY, freedom) ** 2
    known_below = 1.0 - t_squared * w
    if known_below <= 0.0:
        return None
    # 1 - (1 - t^2 u)(1 - t^2 w), written without taking nearly equal numbers from each other
    half_width = math.sqrt(t_squared * (u * known_below + w))
    return value * (1.0 - half_width) / known_below, value * (1.0 + half_width) / known_below
