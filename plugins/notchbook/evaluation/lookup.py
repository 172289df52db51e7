"""From a reading on the scale to energy and strength ahead of the test, and from an energy to the rise."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

import numpy as np

from notchbook.evaluation.known import known
from notchbook.physics.pendulum import energy_from_rise_J, rise_from_energy_deg
from notchbook.physics.strength import impact_strength_kJ_m2

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from notchbook.evaluation.hammer_choice import Section
    from notchbook.evaluation.hammers import SwungHammer
    from notchbook.evaluation.losses import Losses
    from notchbook.model.method import LossCorrection, Method
    from notchbook.model.rig import Indicator
    from notchbook.physics.arrays import FloatArray

_FEWEST, _MOST = 20, 30
_ROUNDEST_FIRST = (1.0, 2.0, 5.0, 4.0, 3.0, 1.5, 8.0, 6.0)
"""Digits of a step; one of them, at some power of ten, divides any range into between 20 and 30 steps."""
_PROBES = 1001
_ROUNDS = 50
_SETTLED_DEG = 1e-9


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

    reads: Literal["angle", "energy"]
    step: float
    """In the unit of the readings, a multiple of the scale's division."""
    rows: tuple[LookupRow, ...]
    """The readings rise from row to row."""


@np.errstate(all="ignore")  # a reading beyond what the pendulum holds is no number and lies in no window
def lookup_table(
    indicator: Indicator, hammer: SwungHammer, method: Method, losses: Losses, section: Section
) -> LookupTable | None:
    """Energies and strengths over the scale of a rig, about 20 to 30 of them.

    Arguments:
        indicator: the scale.
        hammer: the hammer that is swung.
        method: whose loss correction and energy window are taken.
        losses: of the hammer's free swings.
        section: of the nominal bar.

    Returns:
        The table, or None where no reading lies in the window or the loss in a test is not known.
    """
    on_angles = indicator.reads == "angle"
    division = indicator.division_deg if on_angles else indicator.division_J
    full = hammer.release_angle_deg if on_angles else hammer.potential_energy_J
    scale = np.linspace(0.0, full, _PROBES)
    probes = _loss_and_energy_J(scale, on_angles, hammer, method, losses)
    if probes is None:
        return None
    window = scale[_inside(probes[1], hammer, method)]
    if window.size == 0:
        return None
    low, high = float(window[0]), float(window[-1])
    step = _step(max(high - low, full / _PROBES), division)
    numbers = np.arange(math.floor(low / step), math.ceil(high / step) + 1)
    readings = np.round(numbers * step, max(0, 2 - math.floor(math.log10(step))))
    found = _loss_and_energy_J(readings, on_angles, hammer, method, losses)
    if found is None:
        return None
    loss, energy = found
    strength = np.asarray(impact_strength_kJ_m2(energy, section.thickness_mm, section.width_mm))
    inside = _inside(energy, hammer, method)
    columns = (each[inside].tolist() for each in (readings, loss, energy, strength))
    return LookupTable(indicator.reads, step, tuple(map(LookupRow, *columns)))


def _loss_and_energy_J(
    readings: FloatArray, on_angles: bool, hammer: SwungHammer, method: Method, losses: Losses
) -> tuple[FloatArray, FloatArray] | None:
    """Loss and absorbed energy, each of shape (n,) like the readings, by the same functions as those of a record."""
    rise = readings if on_angles else _rise_deg(hammer, readings)
    loss = losses.in_test_J(method.loss_correction, rise)
    if loss is None:
        return None
    indicated = energy_from_rise_J(hammer.moment_Nm, hammer.release_angle_deg, rise)
    return np.asarray(loss), np.asarray(indicated - loss)


def _inside(energy_J: FloatArray, hammer: SwungHammer, method: Method) -> NDArray[np.bool_]:
    used_pct = 100.0 * energy_J / hammer.potential_energy_J
    return (method.energy_window.low_pct <= used_pct) & (used_pct <= method.energy_window.high_pct)


def _rise_deg(hammer: SwungHammer, indicated_J: FloatArray) -> FloatArray:
    return np.asarray(rise_from_energy_deg(hammer.moment_Nm, hammer.release_angle_deg, indicated_J))


def _step(reach: float, division: float | None) -> float:
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


@np.errstate(all="ignore")  # more energy than the pendulum holds leaves no rise
def rise_after_break_deg(
    hammer: SwungHammer, losses: Losses | None, correction: LossCorrection, energy_J: float
) -> float | None:
    """Angle of rise after a bar that absorbed an energy.

    The loss depends on the rise, so that the rise is found by repetition; without losses there is none.

    Returns:
        Degrees, or None where the pendulum cannot pass such a bar.
    """
    rise = hammer.release_angle_deg
    for _ in range(_ROUNDS):
        loss = losses.in_test_J(correction, rise) if losses is not None else None
        given_off = energy_J + (0.0 if loss is None else float(loss))
        before, rise = rise, float(rise_from_energy_deg(hammer.moment_Nm, hammer.release_angle_deg, given_off))
        if math.isnan(rise) or abs(rise - before) <= _SETTLED_DEG:
            break
    return known(rise)
