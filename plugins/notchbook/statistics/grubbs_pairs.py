"""Grubbs' test for two outliers on one side of a set from a normal distribution, after ISO 5725-2."""

import math

from notchbook.statistics.summary import summarise
from notchbook.statistics.values import Values, as_list

LEAST_SET, LARGEST_SET = 4, 40
"""Sets that the table of critical values is for."""
# By number of values from 4 on: two-sided 5 % and 1 %. F. E. Grubbs and G. Beck, Technometrics 14 (1972), by a public
# copy up to 30; from 31 on ISO 5725-2:1994, Table 5, from memory. The test has no formula.
_CRITICAL = {
    0.05: (
        0.0002, 0.0090, 0.0349, 0.0708, 0.1101, 0.1492, 0.1864, 0.2213, 0.2537, 0.2836, 0.3112, 0.3367, 0.3603, 0.3822,
        0.4025, 0.4214, 0.4391, 0.4556, 0.4711, 0.4857, 0.4994, 0.5123, 0.5245, 0.5360, 0.5470, 0.5574, 0.5672, 0.5766,
        0.5856, 0.5941, 0.6023, 0.6101, 0.6175, 0.6247, 0.6316, 0.6382, 0.6445,
    ),
    0.01: (
        0.0000, 0.0018, 0.0116, 0.0308, 0.0563, 0.0851, 0.1150, 0.1448, 0.1738, 0.2016, 0.2280, 0.2530, 0.2767, 0.2990,
        0.3200, 0.3398, 0.3585, 0.3761, 0.3927, 0.4085, 0.4234, 0.4376, 0.4510, 0.4638, 0.4759, 0.4875, 0.4985, 0.5091,
        0.5192, 0.5288, 0.5381, 0.5469, 0.5554, 0.5636, 0.5714, 0.5789, 0.5862,
    ),
}  # fmt: skip
SIGNIFICANCES = tuple(_CRITICAL)
"""For which there are critical values: that of a straggler and that of an outlier."""


def pair_statistic(values: Values) -> tuple[float, tuple[int, int]]:
    """The share of the squares that is left without the two largest or the two smallest values, and where these are.

    ``G = S_(without two)^2 / S^2``, sums of squared distances from the mean of what is left and of all; ISO 5725-2.

    Args:
        values: At least four finite numbers that are not all equal, one dimension.

    Returns:
        The smaller G of both ends, without unit, and the indices of the two values, in their order; of the upper end
        where both are alike.

    Raises:
        ValueError: There are fewer values, or they are all equal.
    """
    numbers = as_list(values)
    if len(numbers) < LEAST_SET or min(numbers) == max(numbers):
        raise ValueError(f"two outliers can be told in {LEAST_SET} values that are not all equal")
    order = sorted(range(len(numbers)), key=numbers.__getitem__)
    whole = _root_of_squares(numbers)
    found = []
    for pair in (order[-2:], order[:2]):
        left = [value for place, value in enumerate(numbers) if place not in pair]
        first, second = sorted(pair)
        found.append(((_root_of_squares(left) / whole) ** 2, (first, second)))
    return min(found, key=lambda each: each[0])


def pair_limit(n: int, significance: float) -> float | None:
    """The critical value that the share falls below where two values are outliers; None where no table has one.

    Args:
        n: Number of values.
        significance: One of `SIGNIFICANCES`, of a two-sided test.
    """
    table = _CRITICAL.get(significance, ())
    return table[n - LEAST_SET] if LEAST_SET <= n < LEAST_SET + len(table) else None


def _root_of_squares(values: list[float]) -> float:
    summary = summarise(values)
    return (summary.standard_deviation or 0.0) * math.sqrt(summary.n - 1)
