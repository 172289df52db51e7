"""Limits of the statistics by which ISO 5725-2 and ASTM E691 tell whether the cells of a comparison are consistent.

Formulae from memory; they give the tables of ISO 5725-2:1994 (4, 6 and 7) and of E691 to their last digit.
"""

import math

from notchbook.statistics.quantiles import student_t_quantile

_LEAST_CELLS = 3
"""Of two cells neither mean is further from the middle than the other."""


def h_limit(cells: int, significance: float) -> float | None:
    """Magnitude that Mandel's h of one cell exceeds with a probability where all are alike; None below three cells.

    ``(p - 1) t / sqrt(p (t^2 + p - 2))``, t the quantile at ``1 - significance/2`` with p - 2 degrees of freedom.

    Args:
        cells: Number of cells, p.
        significance: Between 0 and 1: 0.05 and 0.01 in ISO 5725-2, 0.005 in E691.

    Raises:
        ValueError: The significance is not between 0 and 1.
    """
    _check(significance)
    if cells < _LEAST_CELLS:
        return None
    t = student_t_quantile(1.0 - significance / 2.0, cells - 2)
    return (cells - 1) * t / math.sqrt(cells * (t * t + cells - 2))


def k_limit(cells: int, n: int, significance: float) -> float | None:
    """What Mandel's k of one cell exceeds with a probability where all are alike; None below two cells or values.

    ``sqrt(p F / (F + p - 1))``, F the quantile at ``1 - significance`` with n - 1 and (p - 1)(n - 1) degrees of
    freedom.

    Args:
        cells: Number of cells with two values and more, p.
        n: Number of values in a cell.
        significance: Between 0 and 1, as for h.

    Raises:
        ValueError: The significance is not between 0 and 1.
    """
    _check(significance)
    share = _share_limit(cells, n, significance)
    return math.sqrt(cells * share) if share is not None else None


def cochran_limit(cells: int, n: int, significance: float) -> float | None:
    """What Cochran's C exceeds with a probability, at most, where all cells are alike; None below two cells or values.

    ``F / (F + p - 1)``, F the quantile at ``1 - significance/p`` with n - 1 and (p - 1)(n - 1) degrees of freedom.

    Args:
        cells: Number of cells with two values and more, p.
        n: Number of values in a cell.
        significance: Between 0 and 1: 0.05 for a straggler and 0.01 for an outlier in ISO 5725-2.

    Raises:
        ValueError: The significance is not between 0 and 1.
    """
    _check(significance)
    return _share_limit(cells, n, significance / cells) if cells else None


def _share_limit(cells: int, n: int, significance: float) -> float | None:
    """Share of one variance in the sum of them all that is exceeded with a probability: F / (F + p - 1).

    With a and b degrees of freedom a F / (a F + b) follows the beta distribution of a/2 and b/2.
    """
    if cells < _LEAST_CELLS - 1 or n < 2:
        return None
    # scipy takes longer to load than a small handbook to evaluate
    from scipy.special import betaincinv

    freedom = n - 1
    return float(betaincinv(freedom / 2.0, (cells - 1) * freedom / 2.0, 1.0 - significance))


def _check(significance: float) -> None:
    if not 0.0 < significance < 1.0:
        raise ValueError(f"a significance lies between 0 and 1, got {significance}")
