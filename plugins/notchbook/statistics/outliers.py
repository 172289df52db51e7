"""Grubbs' test for one outlier in a set from a normal distribution."""

import math
from functools import lru_cache

from notchbook.statistics.quantiles import student_t_quantile
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


@lru_cache(maxsize=1024)
def grubbs_critical(n: int, significance: float = 0.05, two_sided: bool = True) -> float:
    """Value of Grubbs' statistic that a set without outliers exceeds with the probability ``significance``.

    ``G = (n - 1)/sqrt(n) sqrt(t^2 / (n - 2 + t^2))``, t the quantile of Student's t with n - 2 degrees of freedom at
    ``1 - significance/(2 n)``, one-sided at ``1 - significance/n``; ISO 5725-2, Table 5 (two-sided).

    Args:
        n: Number of values, at least 3.
        significance: Probability of a false alarm, between 0 and 1.
        two_sided: Whether the value was sought at both ends; False where only the largest (or only the smallest) was.

    Returns:
        The critical value, without unit.

    Raises:
        ValueError: An argument is outside its range.
    """
    if n < _SMALLEST_SET:
        raise ValueError(f"Grubbs' test needs at least {_SMALLEST_SET} values, got {n}")
    if not 0.0 < significance < 1.0:
        raise ValueError(f"a significance lies between 0 and 1, got {significance}")
    tail = significance / (2 * n if two_sided else n)
    t_squared = student_t_quantile(1.0 - tail, n - 2) ** 2
    return (n - 1) / math.sqrt(n) * math.sqrt(t_squared / (n - 2 + t_squared))


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
    return index if statistic > grubbs_critical(len(numbers), significance) else None
