"""From a reading on the scale to energy and strength, ahead of the test."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from notchbook.evaluation.hammers import SwungHammer
from notchbook.evaluation.losses import Losses
from notchbook.evaluation.scale import Section, full_scale, rise_deg_of
from notchbook.model.method import Method
from notchbook.model.rig import Indicator
from notchbook.physics.arrays import FloatArray
from notchbook.physics.pendulum import energy_from_rise_J
from notchbook.physics.strength import impact_strength_kJ_m2

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


Reads = Literal["angle", "energy"]
_PROBES = 1001


@dataclass(frozen=True, slots=True)
class LookupRow:
    """What one reading stands for."""

    reading: float
    """Angle of rise in degrees, or indicated energy in J."""
    loss_J: float
    energy_J: float
    """Absorbed by the bar: indicated energy less the loss."""
    strength_kJ_m2: float
    """Of a bar of the nominal section."""


@dataclass(frozen=True, slots=True)
class LookupTable:
    """The part of a scale that lies in the method's energy window."""

    reads: Reads
    step: float
    """In the unit of the readings, a multiple of the scale's division."""
    rows: tuple[LookupRow, ...]
    """The readings rise from row to row."""


@dataclass(frozen=True, slots=True, eq=False)
class ScaleTable:
    """The part of a scale that lies in the method's energy window, division by division or every so many of them."""

    reads: Reads
    divisions: float
    """From one reading to the next: 1, or 2, 5, 10 and so on where there would be too many rows."""
    step: float
    """The same in the unit of the readings."""
    readings: FloatArray
    """Rising, shape (n,), at least one; degrees or J."""
    loss_J: FloatArray
    """Shape (n,)."""
    energy_J: FloatArray
    """Absorbed by the bar, shape (n,)."""
    strength_kJ_m2: FloatArray
    """Of bars of each of the k sections, shape (k, n)."""


@np.errstate(all="ignore")  # a reading beyond what the pendulum holds is no number and lies in no window
def lookup_table(
    indicator: Indicator,
    hammer: SwungHammer,
    method: Method,
    losses: Losses,
    section: Section,
    own: tuple[float, float] | None = None,
) -> LookupTable | None:
    """Energies and strengths over the scale of a rig, about 20 to 30 of them, and as many more where own bars lie.

    Arguments:
        indicator: the scale.
        hammer: the hammer that is swung.
        method: whose loss correction and energy window are taken.
        losses: of the hammer's free swings.
        section: of the nominal bar.
        own: the least and the greatest reading of own bars, between which rows are closer; None where there are none.

    Returns:
        The table, or None where no reading lies in the window or the loss in a test is not known.
    """
    window = _readings_in_window(indicator, hammer, method, losses)
    if window is None:
        return None
    low, high = window
    step = round_step(max(high - low, full_scale(indicator, hammer) / _PROBES), indicator.division)
    table = _table(indicator, hammer, method, losses, [section], window, step, 1.0)
    if table is None:
        return None
    closer = None
    if own is not None and indicator.division is not None:
        divisions = next(each for each in ROUND_MULTIPLES if (own[1] - own[0]) / each / indicator.division <= _MOST)
        closer_step = divisions * indicator.division
        if closer_step < step:
            closer = _table(indicator, hammer, method, losses, [section], own, closer_step, divisions)
    rows = {row.reading: row for each in (table, closer) if each is not None for row in _rows(each)}
    return LookupTable(indicator.reads, step, tuple(rows[each] for each in sorted(rows)))


def _rows(table: ScaleTable) -> list[LookupRow]:
    columns = (table.readings, table.loss_J, table.energy_J, table.strength_kJ_m2[0])
    return list(map(LookupRow, *(each.tolist() for each in columns)))


@np.errstate(all="ignore")  # as above
def scale_table(
    indicator: Indicator, hammer: SwungHammer, method: Method, losses: Losses, sections: Sequence[Section], most: int
) -> ScaleTable | None:
    """Energies and strengths at every division of a rig's scale, or at the fewest divisions apart that give few enough.

    Arguments:
        indicator: the scale.
        hammer: the hammer that is swung.
        method: whose loss correction and energy window are taken.
        losses: of the hammer's free swings.
        sections: of the nominal bars whose strengths are wanted; none leaves the energies alone.
        most: how many rows there may be.

    Returns:
        The table, or None where no reading lies in the window or the loss in a test is not known.
    """
    window, division = _readings_in_window(indicator, hammer, method, losses), indicator.division
    if window is None or division is None:
        return None
    for divisions in ROUND_MULTIPLES:
        step = divisions * division
        # the window holds at least that many multiples of the step
        if (window[1] - window[0]) / step - 1.0 > most:
            continue
        table = _table(indicator, hammer, method, losses, sections, window, step, divisions)
        if table is None or table.readings.size <= most:
            return table
    return None


def _readings_in_window(
    indicator: Indicator, hammer: SwungHammer, method: Method, losses: Losses
) -> tuple[float, float] | None:
    """The least and the greatest reading of those tried that lie in the window; None where none does."""
    scale = np.linspace(0.0, full_scale(indicator, hammer), _PROBES)
    probes = _loss_and_energy_J(scale, indicator, hammer, method, losses)
    window = scale[_inside(probes[1], hammer, method)] if probes is not None else scale[:0]
    return (float(window[0]), float(window[-1])) if window.size else None


def _table(
    indicator: Indicator,
    hammer: SwungHammer,
    method: Method,
    losses: Losses,
    sections: Sequence[Section],
    window: tuple[float, float],
    step: float,
    divisions: float,
) -> ScaleTable | None:
    full = full_scale(indicator, hammer)
    # the window may go on up to the next reading that was tried
    low, high = max(window[0] - full / (_PROBES - 1), 0.0), min(window[1] + full / (_PROBES - 1), full)
    numbers = np.arange(math.floor(low / step), math.ceil(high / step) + 1)
    readings = np.round(numbers * step, max(0, 2 - math.floor(math.log10(step))))
    found = _loss_and_energy_J(readings, indicator, hammer, method, losses)
    if found is None:
        return None
    inside = _inside(found[1], hammer, method)
    if not inside.any():
        return None
    readings, loss, energy = (each[inside] for each in (readings, *found))
    strengths = [impact_strength_kJ_m2(energy, each.thickness_mm, each.width_mm) for each in sections]
    by_section = np.array(strengths, dtype=np.float64).reshape(len(sections), energy.size)
    return ScaleTable(indicator.reads, divisions, step, readings, loss, energy, by_section)


def _loss_and_energy_J(
    readings: FloatArray, indicator: Indicator, hammer: SwungHammer, method: Method, losses: Losses
) -> tuple[FloatArray, FloatArray] | None:
    """Loss and absorbed energy, each of shape (n,) like the readings, by the same functions as those of a record."""
    rise = rise_deg_of(readings, indicator, hammer)
    loss = losses.in_test_J(method.loss_correction, rise)
    if loss is None:
        return None
    indicated = energy_from_rise_J(hammer.moment_Nm, hammer.release_angle_deg, rise)
    return np.asarray(loss), np.asarray(indicated - loss)


def _inside(energy_J: FloatArray, hammer: SwungHammer, method: Method) -> NDArray[np.bool_]:
    used_pct = 100.0 * energy_J / hammer.potential_energy_J
    low, high = method.energy_window.bounds_pct
    return (low <= used_pct) & (used_pct <= high)
