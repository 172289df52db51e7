"""Mean and spread of a set of values, and how well the mean is known."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from notchbook.statistics.quantiles import UPPER_PROBABILITY, student_t_outside, student_t_quantile
from notchbook.statistics.values import Values, as_list

MOST_SPECIMENS = 1000
"""Where more would be needed, none is named."""


@dataclass(frozen=True, slots=True)
class Summary:
    """Mean and spread of a set.

    Attributes:
        n: Number of values, at least 1.
        mean: Arithmetic mean, in the unit of the values.
        standard_deviation: Of the sample, with n - 1, in the unit of the values; None for one value.
        variation_pct: Coefficient of variation, standard deviation over the mean's magnitude; None for one value or
            where the mean is 0.
    """

    n: int
    mean: float
    standard_deviation: float | None
    variation_pct: float | None

    @property
    def interval(self) -> tuple[float, float] | None:
        """Two-sided 95 % confidence interval of the mean, low and high, in the unit of the values.

        ``mean -+ t(0.975; n - 1) s / sqrt(n)``, Student's t; None for one value.
        """
        if self.standard_deviation is None:
            return None
        reach = half_width(self.standard_deviation, self.n)
        return self.mean - reach, self.mean + reach

    def excludes(self, value: float) -> bool:
        """Whether a value lies outside the interval; of a single value, or of equal ones, whether it is another."""
        if not self.standard_deviation:
            return value != self.mean
        t = abs(value - self.mean) * math.sqrt(self.n) / self.standard_deviation
        return student_t_outside(t, self.n - 1) < 2.0 * (1.0 - UPPER_PROBABILITY)


def summarise(values: Values) -> Summary:
    """Mean, standard deviation and coefficient of variation of a set.

    Two passes with exactly rounded sums; what rounding left in the mean after the first is taken out of the spread in
    the second, so that small differences between large values keep their digits.

    Args:
        values: At least one finite number, one dimension, any order.

    Returns:
        The summary, in the unit of the values.

    Raises:
        ValueError: There is no value, or one is not finite.
    """
    numbers = as_list(values)
    n = len(numbers)
    if n == 0:
        raise ValueError("a set without values has no mean")
    if not all(map(math.isfinite, numbers)):
        raise ValueError("a set holds finite numbers only")
    if n == 1:
        return Summary(1, float(numbers[0]), None, None)
    if min(numbers) == max(numbers):
        mean, deviation = float(numbers[0]), 0.0  # rounding of the mean must not pass for spread
    else:
        mean = math.fsum(numbers) / n
        deviations = [number - mean for number in numbers]
        # with r what rounding left in the mean: sum (x - mean - r)^2 = sum (x - mean)^2 - n r^2, taken in roots and
        # as a product, so that no square can over- or underflow
        about_mean = math.hypot(*deviations)
        shift = abs(math.fsum(deviations)) / math.sqrt(n)
        deviation = math.sqrt(about_mean - shift) * math.sqrt((about_mean + shift) / (n - 1))
    variation = 100.0 * deviation / abs(mean) if mean else None
    return Summary(n, mean, deviation, variation)


def pooled_deviation(sets: Iterable[Summary]) -> float | None:
    """Standard deviation within sets that scatter alike about means of their own; None where none has two values.

    ``sqrt(sum (n_i - 1) s_i^2 / sum (n_i - 1))``.
    """
    listed = [each for each in sets if each.standard_deviation is not None]
    freedom = sum(each.n - 1 for each in listed)
    if not freedom:
        return None
    return math.hypot(*(math.sqrt((each.n - 1) / freedom) * (each.standard_deviation or 0.0) for each in listed))


def chance_of_variation_below(limit_pct: float, true_pct: float, n: int) -> float:
    """How often sets of so many specimens have a coefficient of variation below a limit, by chance alone.

    ``(n - 1) s^2 / sigma^2`` is distributed as chi-square with n - 1 degrees of freedom, for specimens that scatter
    normally about a mean that is large against their scatter, which is taken for known.

    Args:
        limit_pct: the limit of the coefficient of variation found, greater than 0.
        true_pct: the coefficient of variation of all specimens that could be had, greater than 0.
        n: number of specimens, at least 2.

    Returns:
        The probability, between 0 and 1.
    """
    # scipy takes longer to load than a small handbook to evaluate
    from scipy.special import gammainc

    half = (n - 1) / 2.0
    return float(gammainc(half, half * (limit_pct / true_pct) ** 2))


def half_width(standard_deviation: float, n: int) -> float:
    """Half the width of the two-sided 95 % interval of a mean: ``t(0.975; n - 1) s / sqrt(n)``, Student's t.

    Args:
        standard_deviation: that of the specimens, s, in any unit.
        n: number of specimens, at least 2.

    Returns:
        The half-width in the unit of the standard deviation.

    Raises:
        ValueError: n is less than 2.
    """
    return student_t_quantile(UPPER_PROBABILITY, n - 1) * standard_deviation / math.sqrt(n)


def specimens_for(standard_deviation: float, wanted: float) -> int | None:
    """The least number of specimens whose mean has an interval of no more than that half-width.

    None where more than `MOST_SPECIMENS` would be needed. The scatter is taken to stay as it is.
    """
    return next((n for n in range(2, MOST_SPECIMENS + 1) if half_width(standard_deviation, n) <= wanted), None)
