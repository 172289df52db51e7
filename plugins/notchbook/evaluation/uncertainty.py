"""How sure the energies, strengths and mean strengths of a record are, by JCGM 100:2008 to first order.

All specimens of a record share the pendulum (moment, gravity, release angle), its scale (zero and marks), its losses
(the readings of the free swings, and how far they may have gone since they were verified) and the micrometer, whose
accuracy is an error that stays the same from bar to bar. Each has its own reading of the scale. What else differs from
bar to bar, and the noise of reading with it, shows in the scatter of a set. Inputs are taken to be uncorrelated,
thickness and width too: they are different lengths, measured apart.
"""

import math
from dataclasses import dataclass, replace

import numpy as np

from notchbook.evaluation.budgets import Input, Propagated, SetShare, SetUncertainty, known_uncertainty
from notchbook.evaluation.hammers import SwungHammer
from notchbook.evaluation.input_uncertainties import (
    InputName,
    Taken,
    dimension_taken,
    gravity_taken,
    marks_taken,
    moment_taken,
    reading_taken,
    release_taken,
    zero_taken,
)
from notchbook.evaluation.losses import Losses, swing_energies
from notchbook.evaluation.records import RecordResult, SetResult
from notchbook.evaluation.scale import scale_of
from notchbook.model.method import LossCorrection, Method
from notchbook.model.procedure import Exercise
from notchbook.model.record import Record
from notchbook.model.rig import Indicator, Rig
from notchbook.model.verification import FreeSwings
from notchbook.physics import uncertainty as gum
from notchbook.physics.arrays import FloatArray
from notchbook.physics.partial_derivatives import (
    EnergySlopes,
    metals_energy_slopes,
    plastics_energy_slopes,
    rise_slope_J_per_deg,
)
from notchbook.physics.pendulum import energy_from_rise_J, potential_energy_J, rise_from_energy_deg
from notchbook.statistics.quantiles import UPPER_PROBABILITY, student_t_quantile
from notchbook.statistics.summary import half_width

SCATTER = "scatter"
_OWN: tuple[InputName, ...] = ("rise-angle", "indicated-energy")
"""What each specimen has of its own."""
ENERGY_READINGS: dict[InputName, InputName] = {
    "rise-angle": "indicated-energy",
    "first-rise": "first-indicated-energy",
    "second-rise": "second-indicated-energy",
    "later-rise": "later-indicated-energy",
}
"""What stands for an angle of rise on a scale of energy."""


@dataclass(frozen=True, slots=True, eq=False)
class RecordUncertainty:
    """The uncertainties of a record, its specimens in their order."""

    energy: Propagated
    """Absorbed energy in J."""
    strength: Propagated
    """Impact strength in kJ/m2."""

    @np.errstate(all="ignore")  # what overflows or is no number is not known
    def of_set(self, result: SetResult) -> SetUncertainty | None:
        """Uncertainty of the mean strength of a set of the record.

        ``u^2 = s^2/n + sum (mean of the slopes)^2 u(x)^2`` over the inputs x that all specimens share. The noise of the
        own readings is in the scatter s. Where the specimens agree better than the scale can be read, the mean is no
        surer than one reading, whose resolution then stands in for the scatter (JCGM 100:2008, F.2.2.1). The scatter
        has n - 1 degrees of freedom, everything else is taken as known.

        The expanded uncertainty takes Student's t at 95 % for the effective degrees of freedom (G.4.1, G.6.4), and is
        never less than half the interval of the scatter alone. With few specimens the first by itself holds the mean
        less often than it says, because a scatter that came out small raises the effective degrees of freedom.

        Returns:
            The uncertainty; None for a set of one, whose scatter is not known, or where it cannot be had.
        """
        deviation, n = result.summary.standard_deviation, result.summary.n
        if deviation is None:
            return None
        of_members = self.strength.contributions[:, list(result.members)]
        is_shared = np.array([each.shared for each in self.strength.inputs])
        reading = float(np.sqrt(np.mean(np.sum(np.square(of_members[~is_shared]), axis=0))))
        scatter, freedom = (deviation / math.sqrt(n), n - 1.0) if deviation >= reading else (reading, math.inf)
        contributions = np.array([scatter, *of_members[is_shared].mean(axis=1)])
        standard = known_uncertainty(float(gum.combined_standard_uncertainty(contributions)))
        if standard is None:
            return None
        freedoms = np.full(len(contributions), math.inf)
        freedoms[0] = freedom
        effective = float(gum.effective_degrees_of_freedom(contributions, freedoms))
        by_freedom = student_t_quantile(UPPER_PROBABILITY, effective) * standard
        by_scatter = half_width(deviation, n)
        expanded = max(by_freedom, by_scatter)
        sources = [SCATTER, *(each.name for each in self.strength.inputs if each.shared)]
        shares = gum.variance_shares_pct(contributions)
        lines = tuple(map(SetShare, sources, contributions.tolist(), shares.tolist()))
        return SetUncertainty(standard, expanded, effective, by_scatter > by_freedom, lines)


@np.errstate(all="ignore")  # what overflows or is no number is not known
def record_uncertainty(
    record: Record,
    result: RecordResult,
    rig: Rig,
    hammer: SwungHammer,
    method: Method,
    swings: FreeSwings,
    exercise: Exercise | None,
    drift: Taken | None,
) -> RecordUncertainty | None:
    """Uncertainties of a record's energies and strengths.

    Arguments:
        record: the readings.
        result: what they gave.
        rig: the rig that the hammer was swung on.
        hammer: the hammer.
        method: the hammer's method.
        swings: the free swings that the losses of the result come from.
        exercise: the record's exercise; None where it is not known.
        drift: how far the losses may have gone since they were verified, over the loss; None for those of the day.

    Returns:
        The uncertainties; None where the losses of the tests are not known.
    """
    moment, scale = moment_taken(rig, hammer.id), scale_of(rig, hammer)
    if result.losses is None or moment is None:
        return None
    n = len(record.specimens)
    rise = _numbers([each.rise_angle_deg for each in result.specimens])
    later = _later_rise_deg(hammer, swings)
    slopes = _energy_slopes(hammer, method.loss_correction, result.losses, rise, later, swings.half_swings)
    if slopes is None:
        return None
    inputs: list[Input] = []
    energy_slopes: list[FloatArray] = []

    def add(name: InputName, unit: str, value: FloatArray | float, taken: Taken, slope: FloatArray | float) -> None:
        inputs.append(Input(name, unit, np.broadcast_to(value, n), taken, shared=name not in _OWN))
        energy_slopes.append(np.broadcast_to(slope, n))

    add("moment", "N m", hammer.moment_Nm, moment.moment, slopes.moment_J_per_Nm)
    if moment.added_kg_m:
        gravity_slope = slopes.moment_J_per_Nm * moment.added_kg_m
        add("gravity", "m/s²", rig.gravity_m_s2, gravity_taken(rig), gravity_slope)
    add("release-angle", "°", hammer.release_angle_deg, release_of(rig, hammer), slopes.release_J_per_deg)
    unit = "°" if scale.reads == "angle" else "J"
    read: list[FloatArray] = []
    for name, angle, slope in _readings(result.losses, rise, later, slopes):
        if scale.reads == "angle":
            add(name, unit, angle, reading_taken(scale), slope)
        else:
            shown = energy_from_rise_J(hammer.moment_Nm, hammer.release_angle_deg, angle)
            per_J = -np.asarray(slope) / shown_J_per_deg(scale, hammer, angle)
            add(ENERGY_READINGS[name], unit, shown, reading_taken(scale), per_J)
        read.append(energy_slopes[-1])
    of_bars, of_swings = read[0], np.sum(read[1:], axis=0)
    # the free swings of a verification had the zero of their own day, which is among what drifts
    add("zero", unit, 0.0, zero_taken(scale, record), of_bars + of_swings if drift is None else of_bars)
    add("bar-marks", unit, 0.0, marks_taken(scale), of_bars)
    add("swing-marks", unit, 0.0, marks_taken(scale), of_swings)
    if drift is not None and result.losses.free_swing_J > 0.0:
        lost_J = result.losses.free_swing_J
        in_test_J = _numbers([each.loss_J for each in result.specimens])
        add("loss-drift", "J", lost_J, replace(drift, standard=drift.standard * lost_J), -in_test_J / lost_J)
    energy = Propagated(_numbers([each.energy_J for each in result.specimens]), tuple(inputs), np.array(energy_slopes))
    return RecordUncertainty(energy, _strength(record, result, energy, dimension_taken(exercise, method)))


@np.errstate(all="ignore")  # an angle that the scale does not tell is not known
def release_of(rig: Rig, hammer: SwungHammer) -> Taken:
    """Uncertainty of a hammer's release angle in degrees; NaN where it is not stated and the scale does not tell it."""
    scale = scale_of(rig, hammer)
    return release_taken(rig, scale, float(shown_J_per_deg(scale, hammer, hammer.release_angle_deg)))


def _numbers(values: list[float | None]) -> FloatArray:
    """Shape (n,), NaN for what is not known."""
    return np.array([math.nan if each is None else each for each in values], dtype=np.float64)


def shown_J_per_deg(scale: Indicator, hammer: SwungHammer, angle_deg: FloatArray | float) -> FloatArray:
    """By how much an energy scale shows another energy one degree on, J/deg, in the shape of the angle.

    NaN less than half a division from the lowest or the highest point, where the scale does not tell the angle.
    """
    half_division = (scale.division_J or 0.0) / 2.0
    height = np.asarray(potential_energy_J(hammer.moment_Nm, angle_deg))
    told = (half_division <= height) & (height <= 2.0 * hammer.moment_Nm - half_division)
    return np.where(told, rise_slope_J_per_deg(hammer.moment_Nm, angle_deg), np.nan)


def _later_rise_deg(hammer: SwungHammer, swings: FreeSwings) -> float | None:
    if swings.later_rise_deg is not None:
        return swings.later_rise_deg
    energy = swing_energies(hammer, swings).later_J
    return None if energy is None else float(rise_from_energy_deg(hammer.moment_Nm, hammer.release_angle_deg, energy))


def _energy_slopes(
    hammer: SwungHammer,
    correction: LossCorrection,
    losses: Losses,
    rise_deg: FloatArray,
    later_rise_deg: float | None,
    half_swings: int | None,
) -> EnergySlopes | None:
    swung = (hammer.moment_Nm, hammer.release_angle_deg, rise_deg, losses.first_rise_deg, losses.second_rise_deg)
    if correction == "plastics":
        return plastics_energy_slopes(*swung)
    if later_rise_deg is None or not half_swings:
        return None
    return metals_energy_slopes(*swung, later_rise_deg, half_swings)


def _readings(
    losses: Losses, rise_deg: FloatArray, later_rise_deg: float | None, slopes: EnergySlopes
) -> list[tuple[InputName, FloatArray | float, FloatArray | float]]:
    """The readings of the scale as angles, each with the slope of the energy over it, J/deg."""
    found: list[tuple[InputName, FloatArray | float, FloatArray | float]] = [
        ("rise-angle", rise_deg, slopes.rise_J_per_deg),
        ("first-rise", losses.first_rise_deg, slopes.first_rise_J_per_deg),
        ("second-rise", losses.second_rise_deg, slopes.second_rise_J_per_deg),
    ]
    if slopes.later_rise_J_per_deg is not None and later_rise_deg is not None:
        found.append(("later-rise", later_rise_deg, slopes.later_rise_J_per_deg))
    return found


def _strength(record: Record, result: RecordResult, energy: Propagated, dimension: Taken) -> Propagated:
    """From the energies to the strengths ``a = 1000 W / (h b)``, with ``da/dh = -a/h`` and ``da/db = -a/b``."""
    notched = record.specimen.notched
    thickness = _numbers([each.thickness_mm for each in record.specimens])
    width = _numbers([each.remaining_width_mm if notched else each.width_mm for each in record.specimens])
    strength = _numbers([each.strength_kJ_m2 for each in result.specimens])
    inputs = (
        *energy.inputs,
        Input("thickness", "mm", thickness, dimension, shared=True),
        Input("remaining-width" if notched else "width", "mm", width, dimension, shared=True),
    )
    # where a specimen has no strength it has no slopes either
    per_energy = np.where(np.isnan(strength), np.nan, 1000.0 / (thickness * width))
    slopes = np.vstack([energy.slopes * per_energy, -strength / thickness, -strength / width])
    return Propagated(strength, inputs, slopes)
