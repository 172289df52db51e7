"""Mean and spread of a set of values."""

import math
from dataclasses import dataclass

from notchbook.statistics.quantiles import UPPER_PROBABILITY, student_t_quantile
from notchbook.statistics.values import Values, as_list


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
        quantile = student_t_quantile(UPPER_PROBABILITY, self.n - 1)
        half_width = quantile * self.standard_deviation / math.sqrt(self.n)
        return self.mean - half_width, self.mean + half_width


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
