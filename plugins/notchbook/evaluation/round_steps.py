"""Steps of a table that people read: round, and whole divisions of the scale."""

from __future__ import annotations

import math

_FEWEST, _MOST = 20, 30
_ROUNDEST_FIRST = (1.0, 2.0, 5.0, 4.0, 3.0, 1.5, 8.0, 6.0)
"""Digits of a step; one of them, at some power of ten, divides any range into between 20 and 30 steps."""
ROUND_MULTIPLES = tuple(float(f"{digit}e{power}") for power in range(300) for digit in (1, 2, 5))
"""1, 2, 5, 10 and so on, further than any scale goes."""


def round_step(reach: float, division: float | None) -> float:
    """A round multiple of the division that divides the reach into about 20 to 30 steps.

    Where the division is too coarse for that, or none of its multiples is round, the finest that gives no more.
    """
    for digits in _ROUNDEST_FIRST:
        step = float(f"{digits}e{math.floor(math.log10(reach / _FEWEST / digits))}")
        if reach / step <= _MOST and (division is None or _is_multiple(step, division)):
            return step
    finest = division or reach / _MOST
    return finest * max(1, math.ceil(reach / _MOST / finest))


def _is_multiple(step: float, division: float) -> bool:
    ratio = step / division
    return ratio > 0.5 and abs(ratio - round(ratio)) <= 1e-9 * ratio
