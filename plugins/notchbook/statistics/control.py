"""A control chart of single values in the order in which they came, with its signals."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise
from typing import Literal

from notchbook.statistics.summary import summarise
from notchbook.statistics.values import Values, as_list

_D2 = 1.128
"""Mean range of two values over their standard deviation, as ISO 7870-2:2013 tabulates it; 2/sqrt(pi)."""
_D4 = 3.267
"""Upper limit of the ranges of two values over their mean, as ISO 7870-2:2013 tabulates it."""
_LONG_RUN = 9
_LONG_TREND = 7
_LAST_BIT = 1e-12

SignalKind = Literal["above", "below", "run above", "run below", "rising", "falling"]

SIGNAL_WORDS: dict[SignalKind, str] = {
    "above": "lies above the upper limit",
    "below": "lies below the lower limit",
    "run above": f"is the {_LONG_RUN}th or a later one in a row above the centre line",
    "run below": f"is the {_LONG_RUN}th or a later one in a row below the centre line",
    "rising": f"is the {_LONG_TREND}th or a later one in a row that rise",
    "falling": f"is the {_LONG_TREND}th or a later one in a row that fall",
}
"""What is seen, as the end of a sentence about the last of the values."""


@dataclass(frozen=True, slots=True)
class Signal:
    """Something in a chart that values which only scatter show rarely.

    Attributes:
        kind: what it is.
        places: of the values that make it, from 0, one after the other.
    """

    kind: SignalKind
    places: tuple[int, ...]

    @property
    def words(self) -> str:
        """What is seen, as the end of a sentence about the last of the values."""
        return SIGNAL_WORDS[self.kind]


@dataclass(frozen=True, slots=True)
class Individuals:
    """A control chart of individuals.

    Attributes:
        values: in their order.
        centre: their mean, in their unit.
        standard_deviation: by the mean moving range, in their unit; None for one value.
        lower: lower limit, three standard deviations below the centre; None for one value.
        upper: upper limit.
        signals: in the order of their last values.
    """

    values: tuple[float, ...]
    centre: float
    standard_deviation: float | None
    lower: float | None
    upper: float | None
    signals: tuple[Signal, ...]

    @property
    def highest_range(self) -> float | None:
        """Upper limit of the ranges from one value to the next, in their unit; None for one value."""
        return None if self.standard_deviation is None else _D4 * _D2 * self.standard_deviation

    @property
    def newest_signals(self) -> list[Signal]:
        """Those that the newest value makes or goes on."""
        return [each for each in self.signals if each.places[-1] == len(self.values) - 1]


def individuals(values: Values) -> Individuals:
    """Centre line, limits and signals of values in the order in which they came.

    ``mean -+ 3 R/1.128`` with R the mean of the ranges of two values that follow each other: ISO 7870-2:2013, chart of
    individuals and moving range; NIST/SEMATECH e-Handbook, 6.3.2.2. Signals are a value beyond a limit, nine in a row
    on one side of the centre line (ISO 8258:1991, test 2, from memory: ISO 7870-2:2013 has seven, which chance brings
    in one chart of ten), and seven in a row that rise or fall (ISO 7870-2:2013, from memory). Of values that only
    scatter about one in 400 lies beyond, and one in 250 ends such a run.

    Args:
        values: At least one finite number.

    Returns:
        The chart. Equal values have limits without distance and no signal.

    Raises:
        ValueError: There is no value, one is not finite, or they lie too far apart for a number.
    """
    numbers = [float(each) for each in as_list(values)]
    centre = summarise(numbers).mean
    if len(numbers) == 1:
        return Individuals(tuple(numbers), centre, None, None, None, ())
    ranges = [abs(later - earlier) for earlier, later in pairwise(numbers)]
    deviation = math.fsum(each / len(ranges) for each in ranges) / _D2
    lower, upper = centre - 3.0 * deviation, centre + 3.0 * deviation
    if not math.isfinite(upper - lower):
        raise ValueError("the values lie too far apart for a number")
    found = [*_beyond(numbers, lower, upper), *_runs(numbers, centre), *_trends(numbers)]
    found.sort(key=lambda each: (each.places[-1], each.places[0]))
    return Individuals(tuple(numbers), centre, deviation, lower, upper, tuple(found))


def signals_as_they_came(values: Values, fewest: int) -> list[list[SignalKind]]:
    """What each value signalled when it was the newest, by a chart of all values up to it.

    Runs are told once, by the value that makes them long.

    Args:
        values: Finite numbers in the order in which they came.
        fewest: How many values there have to be before anything is told, at least 2.

    Returns:
        The kinds of signals of each value in turn, sorted.
    """
    numbers, found, going = [float(each) for each in as_list(values)], [], set[SignalKind]()
    total = ranges = 0.0
    for place, number in enumerate(numbers):
        total += number - numbers[0]
        ranges += abs(number - numbers[max(place - 1, 0)])
        kinds: set[SignalKind] = set()
        if place + 1 >= fewest:
            centre, reach = numbers[0] + total / (place + 1), 3.0 * ranges / place / _D2
            latest = numbers[max(0, place + 1 - _LONG_RUN) : place + 1]
            signals = (_beyond([number], centre - reach, centre + reach), _runs(latest, centre), _trends(latest))
            newest = len(latest) - 1
            kinds = {each.kind for some in signals for each in some if each.places[-1] in (newest, 0)}
        found.append(sorted(kinds - (going - {"above", "below"})))
        going = kinds
    return found


def _beyond(numbers: Sequence[float], lower: float, upper: float) -> Iterator[Signal]:
    rounding = _LAST_BIT * max(abs(lower), abs(upper))
    for place, number in enumerate(numbers):
        if number > upper + rounding:
            yield Signal("above", (place,))
        elif number < lower - rounding:
            yield Signal("below", (place,))


def _runs(numbers: Sequence[float], centre: float) -> Iterator[Signal]:
    """Nine or more one after the other on one side; a value on the line ends a run."""
    for side, places in groupby(
        range(len(numbers)), lambda place: (numbers[place] > centre) - (numbers[place] < centre)
    ):
        run = tuple(places)
        if side and len(run) >= _LONG_RUN:
            yield Signal("run above" if side > 0 else "run below", run)


def _trends(numbers: Sequence[float]) -> Iterator[Signal]:
    """Seven or more one after the other that only rise or only fall."""
    steps = [(later > earlier) - (later < earlier) for earlier, later in pairwise(numbers)]
    for way, places in groupby(range(len(steps)), lambda place: steps[place]):
        run = list(places)
        if way and len(run) + 1 >= _LONG_TREND:
            yield Signal("rising" if way > 0 else "falling", tuple(range(run[0], run[-1] + 2)))
