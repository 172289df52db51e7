"""How well a mean is known by how many specimens, for a given scatter."""

from __future__ import annotations

import math

from notchbook.statistics.quantiles import UPPER_PROBABILITY, student_t_quantile

MOST_SPECIMENS = 1000
"""Where more would be needed, none is named."""


def half_width(standard_deviation: float, n: int) -> float:
    """Half the width of the two-sided 95 % interval of a mean: ``t(0.975; n - 1) s / sqrt(n)``, Student's t.

    Arguments:
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
