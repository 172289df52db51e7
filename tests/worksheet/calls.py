"""Single functions of the scripts with what their twins in the engine give, at the edges of what these let through."""

import dataclasses
import math
from collections.abc import Callable, Iterator
from typing import Any

from edges import edge

from notchbook.checks.bench_limits import bench_limits
from notchbook.checks.scale import MARK_SLACK, on_mark
from notchbook.checks.words import power_of_ten_off, too_far
from notchbook.evaluation.known import LARGEST, known
from notchbook.evaluation.scale import division_worth_J
from notchbook.evaluation.uncertainty import shown_J_per_deg
from notchbook.facts.worksheet_limits import student_t, worksheet_limits
from notchbook.handbook import Handbook
from notchbook.model.requirement import LAST_BIT, Origin, Requirement
from notchbook.model.rig import Indicator
from notchbook.physics.pendulum import ROUNDING, rise_from_energy_deg
from notchbook.statistics.quantiles import UPPER_PROBABILITY, student_t_quantile
from notchbook.statistics.summary import summarise
from notchbook.wording.numbers import interval_ends, to_decimals, to_figures

Call = list[Any]
"""Script, function, what it is given, and what its twin gives; of an object the values."""
UNDERSTOOD = {
    "10,02": "10.02", "10.020": "10.020", " 4.10 ": "4.10", ",5": "0.5", "7.": "7", "007.50": "7.50", "+3": "3",
    "\u22125": "-5", "0": "0", "0,0": "0.0", "1" * 30: "1" * 30,
}  # fmt: skip
"""Numbers as they are typed, and as they stand in the file."""
NO_NUMBERS = (
    "1.234,5", "10,02,1", "0x10", "1e3", "ten", "1 0", "Infinity", "NaN", "-", ".", "\u0663", "1" * 31, "4 mm",
)  # fmt: skip
_SETS = ([0.1] * 3, [2.5], [1.0, 2.0, 4.0], [1e9 + 0.1, 1e9, 1e9 - 0.3], [1.0, -1.0], [3.0, -3.0, 1e-3, -1e-3, 7.5])
_ASKED = ((10.0, 0.2, 0.2), (0.5, 0.1, 0.2), (1.5, 0.3, 0.1), (-20.0, 2.0, 2.0), (16.0, 0.0, math.inf))
_VALUES = (0.0, -0.04, 0.06, 0.95, 9.996, 10.0, 12.345, 99.95, 100.0, 123456.7, -7.26, 0.00123456, 1e-9)


def calls(handbook: Handbook) -> list[Call]:
    """Every call."""
    parts = (
        _typed(), _shown(), _comparisons(), _tolerances(), _marks(), _sets(), _swings(handbook), _quantiles(), _ends(),
        _scale_ends(handbook),
    )  # fmt: skip
    return [call for part in parts for call in part]


def _typed() -> Iterator[Call]:
    longest = worksheet_limits()["longest"]
    for given, written in UNDERSTOOD.items():
        yield ["numbers", "typed", [given, longest], [written, float(written)]]
    for given in NO_NUMBERS:
        yield ["numbers", "typed", [given, longest], [given.replace(",", ".", 1), None]]
    yield ["numbers", "typed", ["  ", longest], None]


def _shown() -> Iterator[Call]:
    for value in _VALUES:
        for count in (1, 2, 3, 4):
            yield ["numbers", "fixed", [value, count], to_decimals(value, count)]
            yield ["numbers", "significant", [value, count], to_figures(value, count)]


def _comparisons() -> Iterator[Call]:
    for value in (LARGEST, math.nextafter(LARGEST, math.inf), -LARGEST, 3.0):
        yield ["numbers", "known", [value, LARGEST], known(value)]
    for allowed in (0.01, 1.0, 1.5, 4.0):
        for off in _both(lambda value, allowed=allowed: too_far(value, allowed), allowed, allowed * 1.1):  # type: ignore[misc]
            yield ["numbers", "tooFar", [off, allowed, LAST_BIT], too_far(off, allowed)]
            yield ["numbers", "tooFar", [-off, allowed, LAST_BIT], too_far(-off, allowed)]


def _both(word: Callable[[float], object], low: float, high: float) -> tuple[float, float]:
    """The two numbers between which a word changes."""
    assert word(low) != word(high)
    return edge(word, low, high)


def _tolerances() -> Iterator[Call]:
    origin = Origin("", "", "department")
    limits = bench_limits()
    for value, below, above in _ASKED:
        asked = Requirement(value, below, above, origin)
        given = {
            "value": value, "low": asked.lowest, "high": None if math.isinf(asked.highest) else asked.highest,
        }  # fmt: skip
        ends = [(value - 3.0, value), *([(value, value + 3.0)] if given["high"] is not None else [])]
        for low, high in ends:
            for measured in _both(asked.allows, low, high):
                yield ["checksBars", "allows", [given, measured, limits], asked.allows(measured)]
    for low, high in ((0.04, 0.1), (0.1, 0.15), (0.5, 1.0), (4.0, 10.0), (10.0, 15.0), (900.0, 1300.0)):
        for factor in _both(lambda each: power_of_ten_off(each, 1.0), low, high) if power_of_ten_off(
            low, 1.0
        ) != power_of_ten_off(high, 1.0) else (low,):  # fmt: skip
            yield ["checksBars", "powerOfTenOff", [factor, 1.0, limits], power_of_ten_off(factor, 1.0)]


def _marks() -> Iterator[Call]:
    for steps in (0.0, 1.0, 2.0, 650.0):
        for reading in _both(lambda each: on_mark(each, 0.25), steps * 0.25, steps * 0.25 + 0.1):
            yield ["checksSeries", "onMark", [reading, 0.25, MARK_SLACK], on_mark(reading, 0.25)]


def _sets() -> Iterator[Call]:
    values_of_t = student_t()
    for values in _SETS:
        found = summarise(values)
        listed = [found.n, found.mean, found.standard_deviation, found.variation_pct, *(found.interval or (None,))]
        yield ["summary", "summarise", [values, values_of_t], listed]


_DIVISIONS = (("angle", None, None), ("angle", 0.2, None), ("energy", None, None), ("energy", None, 0.01))
"""What a rig reads, and one division of its scale in degrees and in J."""


def _swings(handbook: Handbook) -> Iterator[Call]:
    # the only swings at which a squared sine is below 0 by exactly what is taken for rounding
    for release, energy in ((0.0, 2.0 * ROUNDING), (180.0, -2.0 * ROUNDING)):
        for value in (energy, energy * 1.5):
            rise = float(rise_from_energy_deg(1.0, release, value))
            yield ["physics", "riseFromEnergy_deg", [1.0, release, value, ROUNDING], None if math.isnan(rise) else rise]
    hammer = next(iter(handbook.evaluation.hammers.values()))
    for indicator in (Indicator(reads, deg, J) for reads, deg, J in _DIVISIONS):
        scale = dataclasses.asdict(indicator)
        rig = {"reads": scale.pop("reads")}
        swung = scale | {"moment_Nm": hammer.moment_Nm, "release_deg": hammer.release_angle_deg}
        worth = division_worth_J(indicator, hammer, 70.0)
        yield ["physics", "divisionWorth_J", [rig, swung, 70.0], worth]


def _quantiles() -> Iterator[Call]:
    """Student's t for degrees of freedom that need not be whole, up to none."""
    values = student_t()
    for freedom in (1.0, 1.0001, 1.3, 2.0, 2.7, 4.9, 9.7, 38.5, 39.5, 500.0, 2e4, 1e9, 1e100, 1e150):
        known = student_t_quantile(UPPER_PROBABILITY, freedom)
        yield ["summary", "studentT", [freedom, values], known]


def _scale_ends(handbook: Handbook) -> Iterator[Call]:
    """Both sides of where a scale of energy tells no angle, at the lowest and the highest point."""
    hammer = next(iter(handbook.evaluation.hammers.values()))
    division_J = 0.02 * hammer.moment_Nm
    scale = Indicator("energy", None, division_J)
    given = {"moment_Nm": hammer.moment_Nm, "division_J": division_J, "rig": {"reads": "energy"}}
    for end_deg in (math.degrees(math.acos(0.99)), math.degrees(math.acos(-0.99))):
        for angle_deg in (end_deg - 1e-3, end_deg + 1e-3):
            shown = -float(shown_J_per_deg(scale, hammer, angle_deg))
            yield ["uncertainty", "unitsPerDegree", [given, angle_deg], None if math.isnan(shown) else shown]


def _ends() -> Iterator[Call]:
    """Both ends of an interval."""
    for low, high in ((3.7886, 4.1094), (9.4306, 10.279), (99.46, 110.72), (-4.1, 48.2), (3.0, 3.0), (-0.04, 0.061)):
        yield ["numbers", "intervalEnds", [low, high], list(interval_ends(low, high))]
