"""The axis that strengths are drawn along."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from notchbook.wording.numbers import minus

# Scatter smaller than this share of the values is not drawn as if it were large.
_LEAST_SPAN = 0.1
# An interval may stretch the axis by this share of the values' span on each side: that of two specimens can be ten
# times as wide as the two are apart, and would leave no room to tell them apart.
_STRETCH = 0.75
# Where the lowest value is below this share of the highest, the axis may as well start at zero.
_NEAR_ZERO = 0.5
_TICKS = 5
_EDGE = 1e-10
"""A range ends at a tick that is no further off, in steps: numbers such as 0.3 are none that a computer holds."""
# The same on a logarithmic axis: an interval may stretch it by this factor on each side.
_STRETCH_FACTOR = 2.0
_MOST_DECADE_TICKS = 8
_SMALLEST_FIXED = 1e-4
_MOST_DECIMALS = 9
_LARGEST_FIXED = 1e6


@dataclass(frozen=True, slots=True)
class Scale:
    """An axis from values to pixels, straight or logarithmic."""

    ticks: tuple[float, ...]
    """Ascending; the first and the last are the ends of the axis. Greater than 0 on a logarithmic axis."""
    first_px: float
    last_px: float
    logarithmic: bool = False

    def px(self, value: float) -> float:
        """Where a value lies; outside the axis for a value beyond its ends.

        Raises:
            ValueError: The axis is logarithmic and the value is not greater than 0.
        """
        low, high = self.ticks[0], self.ticks[-1]
        share = math.log(value / low) / math.log(high / low) if self.logarithmic else (value - low) / (high - low)
        return self.first_px + share * (self.last_px - self.first_px)

    def within(self, value: float) -> float:
        """The value, or the nearer end of the axis for one beyond it."""
        return min(max(value, self.ticks[0]), self.ticks[-1])

    def labels(self) -> list[str]:
        """The ticks as numbers: on a straight axis all with as many decimals as their step needs."""
        return [_plain(tick) for tick in self.ticks] if self.logarithmic else tick_labels(self.ticks)


def tick_labels(ticks: Sequence[float]) -> list[str]:
    """Evenly spaced values as numbers with as many decimals as their step needs."""
    step = ticks[1] - ticks[0]
    if max(map(abs, ticks)) >= _LARGEST_FIXED:
        return [minus(f"{tick:.3g}") for tick in ticks]
    decimals = next((n for n in range(_MOST_DECIMALS) if math.isclose(step, round(step, n))), _MOST_DECIMALS)
    return [minus(f"{tick:.{decimals}f}") for tick in ticks]


def _plain(tick: float) -> str:
    return f"{tick:.10f}".rstrip("0").rstrip(".") if _SMALLEST_FIXED <= tick < _LARGEST_FIXED else minus(f"{tick:.0e}")


def decade_ticks(values: Iterable[float], intervals: Iterable[tuple[float, float] | None]) -> tuple[float, ...]:
    """Ticks 1, 2, 5, 10, … of a logarithmic axis that take in all values, and of the intervals what leaves them room.

    Over a wide range there is one tick a decade, or one in several.

    Raises:
        ValueError: There is no value, or one is not a finite number greater than 0.
    """
    known = list(values)
    if not known or not all(math.isfinite(value) and value > 0.0 for value in known):
        raise ValueError("a logarithmic axis needs at least one value, and finite values greater than 0 only")
    ends = [interval for interval in intervals if interval is not None]
    low, high = min(known), max(known)
    bottom = max(min([low, *(each[0] for each in ends)]), low / _STRETCH_FACTOR)
    top = min(max([high, *(each[1] for each in ends)]), high * _STRETCH_FACTOR)
    first, last = math.floor(math.log10(bottom)) - 1, math.ceil(math.log10(top)) + 1
    for digits, stride in ((("1", "2", "5"), 1), *((("1",), stride) for stride in range(1, last - first + 1))):
        # from the digits, so that 0.2 is the number that reads so
        places = range(first - first % stride, last + stride + 1, stride)
        steps = [float(f"{digit}e{place}") for place in places for digit in digits]
        below = max(step for step in steps if step <= bottom)
        above = min(step for step in steps if step >= top and step > below)
        ticks = tuple(step for step in steps if below <= step <= above)
        if len(ticks) <= _MOST_DECADE_TICKS:
            break
    return ticks


def nice_ticks(values: Iterable[float], intervals: Iterable[tuple[float, float] | None]) -> tuple[float, ...]:
    """Round ticks that take in all values, and of the intervals as much as leaves the values room.

    Raises:
        ValueError: There is no value, or a number is not finite.
    """
    known = list(values)
    ends = [interval for interval in intervals if interval is not None]
    if not known or not all(map(math.isfinite, known)) or not all(math.isfinite(end) for each in ends for end in each):
        raise ValueError("a chart needs at least one value, and finite numbers only")
    low, high = min(known), max(known)
    span = max(high - low, _LEAST_SPAN * max(abs(low), abs(high)))
    stretch = _STRETCH * span
    middle = (low + high) / 2.0
    bottom = max(min([low, *(each[0] for each in ends)]), low - stretch)
    top = min(max([high, *(each[1] for each in ends)]), high + stretch)
    bottom, top = min(bottom, middle - span / 2.0), max(top, middle + span / 2.0)
    if 0.0 <= low <= _NEAR_ZERO * high:
        bottom = 0.0
    if bottom == top:
        top = bottom + 1.0
    return _round_ticks(bottom, top)


def _round_ticks(bottom: float, top: float) -> tuple[float, ...]:
    """Multiples of 1, 2 or 5 times a power of ten around a range, in steps that cut it into five parts at most."""
    least = (top - bottom) / _TICKS
    place = math.floor(math.log10(least))
    # from the digits, so that 0.2 is the number that reads so
    steps = ((digit, each) for each in (place, place + 1) for digit in (1, 2, 5))
    digit, place = next(each for each in steps if float(f"{each[0]}e{each[1]}") >= least * (1.0 - _EDGE))
    step = float(f"{digit}e{place}")
    first, last = math.floor(bottom / step + _EDGE), math.ceil(top / step - _EDGE)
    return tuple(float(f"{digit * each}e{place}") for each in range(first, last + 1))
