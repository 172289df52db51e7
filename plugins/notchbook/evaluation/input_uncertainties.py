"""Standard uncertainties of what an energy and a strength are worked out from: as stated, or what is taken instead."""

import math
from dataclasses import dataclass
from typing import Literal

from notchbook.evaluation.hammers import added_Nm, chain, weighed_masses
from notchbook.model.method import Method
from notchbook.model.procedure import Exercise
from notchbook.model.record import Record
from notchbook.model.rig import Indicator, Rig
from notchbook.physics.uncertainty import rectangular_standard_uncertainty, resolution_standard_uncertainty
from notchbook.statistics.drawn import Form

InputName = Literal[
    "moment",
    "gravity",
    "release-angle",
    "rise-angle",
    "first-rise",
    "second-rise",
    "later-rise",
    "indicated-energy",
    "first-indicated-energy",
    "second-indicated-energy",
    "later-indicated-energy",
    "zero",
    "bar-marks",
    "swing-marks",
    "loss-drift",
    "thickness",
    "width",
    "remaining-width",
]
STATED = "stated"
# ISO 13802:1999, 5.2, from memory and of low certainty: force and length each to about 0.2 %
_FORCE_AND_LENGTH = 0.002
_FORCE_AND_LENGTH_BASIS = (
    "limits of 0.2 % each for force and length (ISO 13802:1999, 5.2; from memory, low certainty), rectangular"
)
# ISO 13802:1999, 5.2, from memory and of medium certainty: the potential energy is the nominal one to 1 %
_MARKED = 0.01
_MARKED_BASIS = "limits of 1 % (ISO 13802:1999, 5.2; from memory, medium certainty), rectangular"
# What the methods of the package ask of a micrometer, where a method says nothing
_MICROMETER_mm = 0.02
_NO_SOURCE = "common practice, no source"
# Half of the way from the equator to the poles: GRS 80 has 9.7803 and 9.8322 m/s2
_GRAVITY_ON_EARTH_m_s2 = 0.026
_GRAVITY_ON_EARTH_BASIS = "the standard value was taken: limits of 0.026 m/s², equator to pole (GRS 80), rectangular"
# What rock and buildings nearby change; from memory
_GRAVITY_NEARBY_m_s2 = 1e-3
_GRAVITY_NEARBY_BASIS = "limits of 0.001 m/s² for rock and buildings nearby (from memory), rectangular"


@dataclass(frozen=True, slots=True)
class Taken:
    """A standard uncertainty and what it rests on."""

    standard: float
    """In the unit of its quantity."""
    basis: str
    """`stated`, or in words what was taken because nothing was stated."""
    form: Form = "normal"
    """What its errors are drawn from."""


@dataclass(frozen=True, slots=True)
class MomentTaken:
    """Uncertainty of a moment, that of gravity apart."""

    moment: Taken
    """In N m."""
    added_kg_m: float
    """`sum(m r)` of the added masses whose moment follows from gravity; 0 for a moment that was weighed as a whole."""


def moment_taken(rig: Rig, hammer_id: str) -> MomentTaken | None:
    """Uncertainty of a hammer's moment; None for a hammer that has no moment.

    An uncertainty holds for the moment of the hammer that states it, with all its masses. Where nothing is stated,
    force and length may each be off by 0.2 %, both rectangular, for the whole moment: the same scale and rule measured
    its parts. Masses added to a hammer that states an uncertainty bring theirs by that same rule, independent of it.
    What is only stamped on a mass may be off by as much as the energy of a hammer.
    """
    added_kg_m = marked_Nm = 0.0
    relative = math.sqrt(2.0) * float(rectangular_standard_uncertainty(_FORCE_AND_LENGTH))
    links = chain(rig, hammer_id) or []
    for place, hammer in enumerate(links):
        weighed_Nm = added_kg_m * rig.gravity_m_s2
        marked = float(rectangular_standard_uncertainty(_MARKED)) * marked_Nm
        also = f"; marked masses: {_MARKED_BASIS}" if marked_Nm else ""
        if hammer.moment_uncertainty_Nm is not None:
            standard = math.hypot(hammer.moment_uncertainty_Nm, relative * weighed_Nm, marked)
            basis = f"{STATED} for {hammer.id}; added masses: {_FORCE_AND_LENGTH_BASIS}" if added_kg_m else STATED
            return MomentTaken(Taken(standard, basis + also), added_kg_m)
        if hammer.moment_Nm is not None:
            standard = math.hypot(relative * (hammer.moment_Nm + weighed_Nm), marked)
            form: Form = "normal" if also else "triangular"
            return MomentTaken(Taken(standard, _FORCE_AND_LENGTH_BASIS + also, form), added_kg_m)
        here_kg_m = sum(mass_kg * radius_mm for mass_kg, radius_mm in weighed_masses(hammer)) / 1000.0
        if any(each.marked_J for each in hammer.added_masses):
            marked_Nm += (added_Nm(rig, links[place:]) or math.nan) - here_kg_m * rig.gravity_m_s2
        added_kg_m += here_kg_m
    return None


def gravity_taken(rig: Rig) -> Taken:
    """Uncertainty of gravity in m/s2: small where the rig states it or its place, wide where it states neither."""
    limit, basis = (
        (_GRAVITY_ON_EARTH_m_s2, _GRAVITY_ON_EARTH_BASIS)
        if rig.gravity_assumed
        else (_GRAVITY_NEARBY_m_s2, _GRAVITY_NEARBY_BASIS)
    )
    return Taken(float(rectangular_standard_uncertainty(limit)), basis, "rectangular")


def zero_taken(scale: Indicator, record: Record) -> Taken:
    """Uncertainty of the zero of a scale on the day of a record, in its unit: half a division, rectangular.

    A zero that is off by less is not seen. Where the record says by how much it was off, readings are not corrected
    for it, so that they may be off by that and by half a division. Common practice, no source.
    """
    off = record.zero_reading_J if scale.reads == "energy" else record.zero_reading_deg
    if not off or scale.division is None:
        return _half_a_division(scale, "the zero is set to half of a division")
    unit = "°" if scale.reads == "angle" else " J"
    limit = abs(off) + scale.division / 2.0
    basis = f"limits of {limit:g}{unit} for a zero that was read as {off:g}{unit} ({_NO_SOURCE}), rectangular"
    return Taken(float(rectangular_standard_uncertainty(limit)), basis, "rectangular")


def marks_taken(scale: Indicator) -> Taken:
    """Uncertainty of where the marks of a scale stand, in its unit: half a division, rectangular.

    What ISO 13802:1999 asks of an indicator is not known here. Common practice, no source.
    """
    return _half_a_division(scale, "the marks stand right to half of a division")


def _half_a_division(scale: Indicator, words: str) -> Taken:
    return Taken(reading_taken(scale).standard, f"{words} ({_NO_SOURCE}), rectangular", "rectangular")


def reading_taken(scale: Indicator) -> Taken:
    """Uncertainty of one reading of a scale, in its unit: half a division to each side, rectangular."""
    division = scale.division
    if division is None:
        return Taken(math.nan, "no division")
    unit = "°" if scale.reads == "angle" else " J"
    return Taken(
        float(resolution_standard_uncertainty(division)),
        f"half of a division of {division:g}{unit} to each side, rectangular",
        "rectangular",
    )


def release_taken(rig: Rig, scale: Indicator, J_per_deg: float) -> Taken:
    """Uncertainty of the release angle in degrees: as the rig states it, else that of a reading of its scale.

    Arguments:
        rig: the rig.
        scale: the scale that the hammer is read on.
        J_per_deg: energy that one degree at the release angle is worth, through which an energy scale becomes one of
            angles; NaN where that scale does not tell the angle.
    """
    if rig.release_angle_uncertainty_deg is not None:
        return Taken(rig.release_angle_uncertainty_deg, STATED)
    reading = reading_taken(scale)
    if scale.reads == "angle":
        return reading
    return Taken(reading.standard / J_per_deg, f"{reading.basis}, as an angle", reading.form)


def dimension_taken(exercise: Exercise | None, method: Method) -> Taken:
    """Uncertainty of a measured thickness or width in mm: as the exercise states it, else what the method allows."""
    if exercise is not None and exercise.dimension_uncertainty_mm is not None:
        return Taken(exercise.dimension_uncertainty_mm, STATED)
    asked = method.dimension_accuracy_mm
    limit_mm, origin = (_MICROMETER_mm, _NO_SOURCE) if asked is None else (asked.highest, asked.origin.clause)
    sure = "; from memory" if asked is not None and asked.origin.confidence == "memory" else ""
    basis = f"limits of {limit_mm:g} mm for the micrometer ({origin}{sure}), rectangular"
    return Taken(float(rectangular_standard_uncertainty(limit_mm)), basis, "rectangular")
