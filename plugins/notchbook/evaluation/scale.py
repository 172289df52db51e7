"""The scale of a rig: its division and its end, what a reading stands for, and what one division is worth to a bar."""

from dataclasses import dataclass, replace

import numpy as np

from notchbook.evaluation.hammers import SwungHammer
from notchbook.evaluation.known import known
from notchbook.evaluation.losses import Losses
from notchbook.model.method import LossCorrection, Method
from notchbook.model.procedure import SpecimenChoice
from notchbook.model.rig import Indicator, Rig
from notchbook.physics.arrays import FloatArray
from notchbook.physics.pendulum import energy_from_rise_J, rise_from_energy_deg
from notchbook.physics.strength import impact_strength_kJ_m2


@dataclass(frozen=True, slots=True)
class Section:
    """The part of a bar that breaks, at its nominal dimensions."""

    thickness_mm: float
    width_mm: float
    """What is left under a notch, the whole width without one."""

    def energy_J(self, strength_kJ_m2: float) -> float:
        """Energy that a bar of that strength absorbs: ``W = a h b``."""
        return strength_kJ_m2 / float(impact_strength_kJ_m2(1.0, self.thickness_mm, self.width_mm))


def nominal_section(method: Method, specimen: SpecimenChoice) -> Section | None:
    """The nominal section of a method's specimen; None where the method has no such type or notch."""
    return bar_section(method, specimen.type, specimen.notch)


def bar_section(method: Method, type_id: str, notch_id: str) -> Section | None:
    """The nominal section of a type with a notch, or with `none`; None where the method has no such type or notch."""
    bar, notch = method.specimen_type(type_id), method.notch(notch_id)
    if bar is None or (notch is None and notch_id != "none"):
        return None
    width = bar.width_mm if notch is None else notch.remaining_width_mm
    return Section(bar.thickness_mm.value, width.value)


def scale_of(rig: Rig, hammer: SwungHammer) -> Indicator:
    """The scale that a hammer is read on: the rig's, with the division of the hammer's own ring where it has one."""
    scale = rig.indicator
    return replace(
        scale,
        division_deg=scale.division_deg if hammer.division_deg is None else hammer.division_deg,
        division_J=scale.division_J if hammer.division_J is None else hammer.division_J,
    )


def full_scale(indicator: Indicator, hammer: SwungHammer) -> float:
    """The end of the scale: the release angle, or the whole energy."""
    return hammer.release_angle_deg if indicator.reads == "angle" else hammer.potential_energy_J


def rise_deg_of(readings: FloatArray, indicator: Indicator, hammer: SwungHammer) -> FloatArray:
    """Angles of rise of readings of the scale, in their shape."""
    if indicator.reads == "angle":
        return readings
    return np.asarray(rise_from_energy_deg(hammer.moment_Nm, hammer.release_angle_deg, readings))


@np.errstate(all="ignore")  # a reading beyond what the pendulum holds is no number
def division_worth_J(
    indicator: Indicator,
    hammer: SwungHammer,
    rise_deg: float,
    losses: Losses | None = None,
    correction: LossCorrection = "plastics",
) -> float:
    """What one division of the scale is worth in energy: that between two readings half a division to each side.

    At an end of the scale it is the division there, and a division longer than the scale is the whole of it.

    Arguments:
        indicator: the scale.
        hammer: the hammer that is swung.
        rise_deg: where on the scale.
        losses: of the hammer's free swings, which grow with the rise and are taken off; left out, the division is
            that of the scale alone.
        correction: the form of the loss in a test.

    Returns:
        J; 0 where the division is not stated.
    """
    division, full = indicator.division, full_scale(indicator, hammer)
    if division is None:
        return 0.0
    if losses is None and indicator.reads == "energy":
        return division
    swung = (hammer.moment_Nm, hammer.release_angle_deg)
    at = rise_deg if indicator.reads == "angle" else float(energy_from_rise_J(*swung, rise_deg))
    half = min(division, full) / 2.0
    middle = min(max(at, half), full - half)
    if losses is None:
        return float(energy_from_rise_J(hammer.moment_Nm, middle + half, middle - half))
    rises = rise_deg_of(np.array([middle - half, middle + half]), indicator, hammer)
    loss = losses.in_test_J(correction, rises)
    low, high = np.asarray(energy_from_rise_J(*swung, rises)) - (0.0 if loss is None else loss)
    return abs(float(high - low))


def division_worth_kJ_m2(
    indicator: Indicator,
    hammer: SwungHammer,
    losses: Losses | None,
    correction: LossCorrection,
    section: Section,
    rise_deg: float,
) -> float | None:
    """What one division of the scale is worth in strength, for a bar of nominal section.

    Arguments:
        indicator: the scale.
        hammer: the hammer that is swung.
        losses: of the hammer's free swings; None where they are not known, which leaves what the scale alone makes.
        correction: the form of the loss in a test.
        section: of the nominal bar.
        rise_deg: where on the scale.

    Returns:
        kJ/m2, or None where the scale has no such division.
    """
    if indicator.division is None or indicator.division > full_scale(indicator, hammer):
        return None
    worth_J = division_worth_J(indicator, hammer, rise_deg, losses, correction)
    return known(float(impact_strength_kJ_m2(worth_J, section.thickness_mm, section.width_mm)))
