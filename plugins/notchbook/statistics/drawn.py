"""Propagation of distributions by drawn values, JCGM 101:2008: what inputs are drawn from, and what the results say."""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from notchbook.statistics.quantiles import UPPER_PROBABILITY
from notchbook.statistics.values import FloatArray

Form = Literal["normal", "rectangular", "triangular"]
"""Distribution of an input that is known by its standard uncertainty."""
_COMPARED_FIGURES = 2
"""Figures of an uncertainty that are told, and by which two are compared; it takes a million draws to know them."""


def errors(random: np.random.Generator, form: Form, standard: float, draws: int) -> FloatArray:
    """Drawn errors of an input, shape (draws,), about 0.

    Args:
        random: Where they are drawn from.
        form: Normal where a standard uncertainty was stated; rectangular between limits; triangular for the sum of two
            rectangles of the same width (JCGM 101:2008, 6.4.7, 6.4.2 and 6.4.5).
        standard: Standard uncertainty, in the unit of the input.
        draws: How many.
    """
    if form == "normal":
        return standard * random.standard_normal(draws)
    if form == "rectangular":
        return math.sqrt(3.0) * standard * random.uniform(-1.0, 1.0, draws)
    return math.sqrt(6.0) * standard * random.triangular(-1.0, 0.0, 1.0, draws)


@dataclass(frozen=True, slots=True)
class Drawn:
    """What drawn values of a result say of it, in their unit."""

    mean: float
    standard: float
    """Standard deviation of the values: the standard uncertainty."""
    low: float
    """Low end of the symmetric 95 % coverage interval."""
    high: float

    def apart(self, value: float, expanded: float) -> float:
        """How far the ends of the first order's interval are from these at most (JCGM 101:2008, 8.1).

        Args:
            value: Estimate of the first order.
            expanded: Its expanded uncertainty.
        """
        return max(abs(value - expanded - self.low), abs(value + expanded - self.high))


def summarise_draws(values: FloatArray) -> Drawn:
    """Mean, standard deviation and symmetric 95 % coverage interval of drawn values (JCGM 101:2008, 7.6 and 7.7)."""
    low, high = np.quantile(values, [1.0 - UPPER_PROBABILITY, UPPER_PROBABILITY]).tolist()
    return Drawn(float(np.mean(values)), float(np.std(values, ddof=1)), low, high)


def numerical_tolerance(standard: float) -> float:
    """Half a unit of the second figure of a standard uncertainty (JCGM 101:2008, 7.9.2)."""
    power = f"{standard:.{_COMPARED_FIGURES - 1}e}".partition("e")[2]
    return 0.5 * 10.0 ** (int(power) - _COMPARED_FIGURES + 1)
