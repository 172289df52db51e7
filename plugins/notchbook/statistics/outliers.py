"""Grubbs' test for one outlier in a set from a normal distribution."""

import math

from notchbook.statistics.quantiles import student_t_outside
from notchbook.statistics.summary import summarise
from notchbook.statistics.values import Values, as_list

_SMALLEST_SET = 3  # of two values neither is further from the mean than the other


def grubbs_statistic(values: Values) -> tuple[float, int]:
    """Largest distance from the mean in standard deviations, and where it is.

    ``G = max |x - mean| / s``; Grubbs, Technometrics 11 (1969), ISO 5725-2.

    Args:
        values: At least two finite numbers that are not all equal, one dimension.

    Returns:
        G, without unit, and the index of the value it belongs to; the first one where several are as far.

    Raises:
        ValueError: The set has no spread: fewer than two values, or all equal.
    """
    numbers = as_list(values)
    summary = summarise(numbers)
    if not summary.standard_deviation:
        raise ValueError("a set without spread has no outlier statistic: it needs two values that differ")
    distances = [abs(number - summary.mean) for number in numbers]
    furthest = max(distances)
    return furthest / summary.standard_deviation, distances.index(furthest)


def grubbs_probability(statistic: float, n: int) -> float:
    """Probability that some value of a set without outliers lies so far from the mean, to either side, or further.

    ``n P(|t| > T)`` with Student's t of n - 2 degrees of freedom at ``T^2 = n (n - 2) G^2 / ((n - 1)^2 - n G^2)``: the
    critical value of ISO 5725-2, Table 5, solved for its significance. It is the bound by which that table was made.

    Args:
        statistic: Grubbs' G, 0 or more, without unit.
        n: Number of values, at least 3.

    Returns:
        The probability; the bound is greater than 1 where many values may lie so far.

    Raises:
        ValueError: An argument is outside its range.
    """
    if n < _SMALLEST_SET or not statistic >= 0.0:
        raise ValueError(f"Grubbs' test needs at least {_SMALLEST_SET} values and a statistic, got {n}, {statistic}")
    left = (n - 1) ** 2 - n * statistic**2
    # at the largest G that there is, all other values are equal
    t = statistic * math.sqrt(n * (n - 2) / left) if left > 0.0 else math.inf
    return n * student_t_outside(t, n - 2)


def furthest_outlier(values: Values, significance: float = 0.05) -> int | None:
    """Index of the value that a two-sided Grubbs test takes for an outlier.

    Args:
        values: Finite numbers, one dimension.
        significance: Probability of a false alarm, between 0 and 1.

    Returns:
        The index, or None: no value is so far off, the set has fewer than three, or all are equal.
    """
    numbers = as_list(values)
    if len(numbers) < _SMALLEST_SET or min(numbers) == max(numbers):
        return None
    statistic, index = grubbs_statistic(numbers)
    return index if grubbs_probability(statistic, len(numbers)) < significance else None
