"""Precision of a measurement that several groups repeated: within a group, between groups and both together.

By ISO 5725-2 (formulae from memory) with any number of values in a cell. A cell holds what one group or laboratory
found of the same thing.
"""

import math
import sys
from collections.abc import Sequence
from dataclasses import dataclass, field

from notchbook.statistics.summary import Summary, pooled_deviation, summarise
from notchbook.statistics.values import FloatArray, as_list

LARGEST = 1e300
"""Greatest magnitude of a value: sums of a thousand such numbers are still numbers."""
_ROUNDING = 4.0 * sys.float_info.epsilon
"""Share of the largest value by which cell means may differ and are the same: readings are no binary fractions."""


@dataclass(frozen=True, slots=True)
class Precision:
    """What the cells say together; all but h, k and cochran in the unit of the values, None where undefined.

    Attributes:
        cells: n, mean and standard deviation of each cell, in their order.
        mean: mean of all values, so that each cell weighs by their number.
        repeatability_sd: standard deviation within a cell, s_r, pooled over the cells; None where none has two values.
        between_sd: standard deviation between cells beyond what that explains, s_L, 0 where nothing is left; None of
            fewer than two cells or without a repeatability.
        reproducibility_sd: standard deviation of single values of different cells, ``s_R^2 = s_r^2 + s_L^2``; None
            where one of the two is.
        h: Mandel's h of each cell, its distance from the mean in standard deviations of the cell means; None where
            these do not scatter.
        k: Mandel's k of each cell, its standard deviation over the root mean square of all of them; None of a cell
            with one value, and where no cell scatters.
        cochran: Cochran's C, the largest variance of a cell over the sum of all; None where no cell scatters.
    """

    cells: tuple[Summary, ...] = field(repr=False)
    mean: float
    repeatability_sd: float | None
    between_sd: float | None
    reproducibility_sd: float | None
    h: tuple[float | None, ...]
    k: tuple[float | None, ...]
    cochran: float | None

    @property
    def most_scattered(self) -> int | None:
        """Place of the cell with the largest standard deviation; None where no cell scatters."""
        known = [each.standard_deviation or 0.0 for each in self.cells]
        return known.index(max(known)) if self.cochran is not None else None

    @property
    def usual_n(self) -> int:
        """How many values most cells have, the smaller number of two: the limits of k and of C are taken with it."""
        numbers = sorted(each.n for each in self.cells)
        return max(numbers, key=numbers.count)


def precision(cells: Sequence[Sequence[float] | FloatArray]) -> Precision:
    """Repeatability and reproducibility of values in cells, with the consistency of the cells.

    With n_i values of mean y_i and standard deviation s_i in each of p cells, N values in all and m their mean:
    ``s_r^2 = sum (n_i - 1) s_i^2 / (N - p)``, ``s_d^2 = sum n_i (y_i - m)^2 / (p - 1)``,
    ``s_L^2 = (s_d^2 - s_r^2) / n`` with ``n = (N - sum n_i^2 / N) / (p - 1)``, taken as 0 where it is below; ISO
    5725-2:1994, 7.4. ``h_i = (y_i - m) / sqrt(sum (y_j - m)^2 / (p - 1))`` and ``k_i = s_i / sqrt(sum s_j^2 / p)``
    are those of 7.3.1, ``C = max s_i^2 / sum s_j^2`` that of 7.3.3; k and C are taken over the cells with two values
    and more.

    Args:
        cells: At least one cell with at least one finite number of magnitude `LARGEST` at most; lengths may differ.

    Raises:
        ValueError: There is no cell, one is empty, or a value is not finite or too large.
    """
    listed = [as_list(each) for each in cells]
    if not listed:
        raise ValueError("a comparison needs at least one cell")
    for place, values in enumerate(listed, start=1):
        if not values:
            raise ValueError(f"cell {place} holds no value")
        if not all(abs(each) <= LARGEST for each in values):
            raise ValueError(f"cell {place} holds a value that is no finite number of magnitude {LARGEST:g} at most")
    summaries = tuple(map(summarise, listed))
    mean, departures = _departures(listed)
    deviations = [each.standard_deviation for each in summaries]
    within = pooled_deviation(summaries)
    between = _between(summaries, departures, within)
    scatter = math.hypot(*departures) / math.sqrt(max(len(listed) - 1, 1))
    known = [each for each in deviations if each is not None]
    root_sum = math.hypot(*known)
    shares = (each / root_sum * math.sqrt(len(known)) if root_sum and each is not None else None for each in deviations)
    return Precision(
        summaries,
        mean,
        within,
        between,
        math.hypot(within, between) if within is not None and between is not None else None,
        tuple(each / scatter if scatter and listed[1:] else None for each in departures),
        tuple(shares),
        (max(known) / root_sum) ** 2 if root_sum else None,
    )


def _departures(cells: Sequence[Sequence[float]]) -> tuple[float, list[float]]:
    """The mean of all values, and by how much the mean of each cell departs from it.

    Means are taken from a value in their midst, so that small differences between large values keep their digits.
    """
    every = [value for cell in cells for value in cell]
    origin = sorted(every)[len(every) // 2]
    middle = math.fsum(value - origin for value in every) / len(every)
    found = [math.fsum(value - origin for value in cell) / len(cell) - middle for cell in cells]
    if max(map(abs, found)) <= _ROUNDING * max(map(abs, every)):
        found = [0.0] * len(cells)  # rounding of the means must not pass for a difference
    return math.fsum(every) / len(every), found


def _between(cells: Sequence[Summary], departures: Sequence[float], within: float | None) -> float | None:
    if within is None or len(cells) == 1:
        return None
    total = sum(each.n for each in cells)
    others = len(cells) - 1
    of_means = math.hypot(*(math.sqrt(c.n / others) * d for c, d in zip(cells, departures, strict=True)))
    if of_means <= within:
        return 0.0
    usual = (total - sum(each.n**2 for each in cells) / total) / others
    # as a product, so that no square can over- or underflow
    return math.sqrt(of_means - within) * math.sqrt((of_means + within) / usual)
