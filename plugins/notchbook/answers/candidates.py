"""What an answer may be: the numbers that are right, and those that each slip gives."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from notchbook.answers.bars import Bars
from notchbook.answers.slips import Way, ways
from notchbook.evaluation.records import SetResult, rounded
from notchbook.statistics.quantiles import UPPER_PROBABILITY, student_t_quantile
from notchbook.statistics.summary import half_width, summarise

Quantity = Literal[
    "energy_J",
    "strength_kJ_m2",
    "mean_kJ_m2",
    "standard_deviation_kJ_m2",
    "interval_low_kJ_m2",
    "interval_high_kJ_m2",
]
OF_A_BAR: tuple[Quantity, ...] = ("energy_J", "strength_kJ_m2")
OF_A_SET: tuple[Quantity, ...] = (
    "mean_kJ_m2", "standard_deviation_kJ_m2", "interval_low_kJ_m2", "interval_high_kJ_m2",
)  # fmt: skip
_FIGURES = (2, 3)
"""To how many somebody rounds on the way."""
_DECIMALS = (0, 1, 2)
Candidate = tuple[str, float]
"""The id of a slip, and what it gives."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What an answer is about."""

    quantity: Quantity
    place: int
    """Of a bar its place in the record, of a set its place among the sets."""


@dataclass(frozen=True, slots=True)
class _Spread:
    """Mean and spread as somebody works them out; the factor of the interval and the divisor may be slips."""

    mean: float
    deviation: float
    half_width: float

    def of(self, quantity: Quantity) -> float:
        """The value that is asked for."""
        ends = {"interval_low_kJ_m2": -self.half_width, "interval_high_kJ_m2": self.half_width}
        return self.deviation if quantity == "standard_deviation_kJ_m2" else self.mean + ends.get(quantity, 0.0)


def _spread(values: Sequence[float]) -> _Spread | None:
    known = [each for each in values if math.isfinite(each)]
    if not known:
        return None
    found = summarise(known)
    deviation = math.nan if found.standard_deviation is None else found.standard_deviation
    half = half_width(deviation, found.n) if found.n > 1 else math.nan
    return _Spread(found.mean, deviation, half)


def right_values(bars: Bars, asked: Asked) -> tuple[float, ...]:
    """The numbers of which each is right; none where there is nothing to be worked out."""
    if asked.quantity in OF_A_BAR:
        values = bars.energy_J if asked.quantity == "energy_J" else bars.strength_kJ_m2
        return _known(float(values[asked.place]))
    members = bars.sets[asked.place].members
    found = _spread([float(bars.strength_kJ_m2[each]) for each in members])
    if found is None:
        return ()
    wider = bars.expanded[asked.place]
    ends = (found, _Spread(found.mean, found.deviation, math.nan if wider is None else wider))
    return tuple(dict.fromkeys(value for each in ends for value in _known(each.of(asked.quantity))))


def _known(value: float) -> tuple[float, ...]:
    return (value,) if math.isfinite(value) else ()


def candidates(bars: Bars, asked: Asked) -> list[Candidate]:
    """The numbers that slips give, those of one slip after the other."""
    found = list(_of_bar(bars, asked) if asked.quantity in OF_A_BAR else _of_set(bars, asked))
    return [each for each in found if math.isfinite(each[1])]


def of_way(way: Way, bars: Bars, asked: Asked) -> float | None:
    """What a way of working a record out gives for what was asked; None where it changes nothing of it."""
    if asked.quantity == "energy_J":
        return float(way.energy_J[asked.place]) if way.changes_energy else None
    if asked.quantity == "strength_kJ_m2":
        return float(way.strength_kJ_m2[asked.place])
    found = _spread([float(way.strength_kJ_m2[each]) for each in bars.sets[asked.place].members])
    return None if found is None else found.of(asked.quantity)


def _ways(bars: Bars, asked: Asked) -> Iterator[Candidate]:
    for way in ways(bars):
        value = of_way(way, bars, asked)
        if value is not None:
            yield way.slips[0], value


def _of_bar(bars: Bars, asked: Asked) -> Iterator[Candidate]:
    yield from _ways(bars, asked)
    energy_J, place = bars.energy_J, asked.place
    per_section = 1.0 if asked.quantity == "energy_J" else float(bars.per_section_m2[place])
    for neighbour in (place - 1, place + 1):
        if 0 <= neighbour < len(energy_J):
            yield "neighbour-reading", float(energy_J[neighbour]) * per_section
    for energy in _rounded(float(energy_J[place])):
        yield "rounding", energy * per_section


def _rounded(value: float) -> Iterator[float]:
    """A value as somebody rounds it on the way; one that is no number gives none."""
    if math.isfinite(value):
        yield from (rounded(value, figures) for figures in _FIGURES)


def _of_set(bars: Bars, asked: Asked) -> Iterator[Candidate]:
    yield from _ways(bars, asked)
    result = bars.sets[asked.place]
    strengths = [float(bars.strength_kJ_m2[each]) for each in result.members]
    for slip, spread in (*_other_spreads(strengths), *_other_bars(bars, result), *_rounded_bars(strengths)):
        if spread is not None:
            yield slip, spread.of(asked.quantity)
    right = _spread(strengths)
    for value in _rounded(right.of(asked.quantity)) if right is not None else ():
        yield "rounding", value


def _other_spreads(strengths: list[float]) -> Iterator[tuple[str, _Spread]]:
    """The right bars with another spread."""
    right, n = _spread(strengths), len(strengths)
    if right is None or n < 2:
        return
    of_n = right.deviation * math.sqrt((n - 1) / n)
    yield "n-for-n-minus-1", _Spread(right.mean, of_n, half_width(of_n, n))
    error = right.deviation / math.sqrt(n)
    yield "standard-error", _Spread(right.mean, error, error)
    for factor in (student_t_quantile(UPPER_PROBABILITY, math.inf), 2.0):
        yield "normal-for-t", _Spread(right.mean, right.deviation, factor * error)


def _other_bars(bars: Bars, result: SetResult) -> Iterator[tuple[str, _Spread | None]]:
    """Other bars than those of the set."""
    breaks, group = bars.method.breaks, bars.method.breaks.group_of(result.breaks[0])
    places = range(len(bars.ids))
    excluded = [each for each in places if not bars.counts[each] and bars.breaks[each] in group]
    unbroken = [each for each in places if bars.counts[each] and breaks.leave_unbroken(bars.breaks[each])]
    others = [
        each
        for each in places
        if bars.counts[each] and each not in result.members and breaks.give_strength(bars.breaks[each])
    ]
    for slip, more in (("excluded-counted", excluded), ("no-break-counted", unbroken), ("breaks-mixed", others)):
        if more:
            yield slip, _spread([float(bars.strength_kJ_m2[each]) for each in (*result.members, *more)])


def _rounded_bars(strengths: list[float]) -> Iterator[tuple[str, _Spread | None]]:
    """The right bars, each rounded before the sum."""
    known = [each for each in strengths if math.isfinite(each)]
    for figures in _FIGURES:
        yield "rounded-first", _spread([rounded(each, figures) for each in known])
    for decimals in _DECIMALS:
        yield "rounded-first", _spread([float(np.round(each, decimals)) for each in known])
