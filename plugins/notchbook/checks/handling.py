"""What was done to the bars of a record before the blow: notch, clamp, transfer, zero of the scale, moisture."""

from collections.abc import Iterator

from notchbook.checks.subject import Check, Complaint
from notchbook.checks.words import outside
from notchbook.evaluation.resolved import ResolvedRecord
from notchbook.findings import Rule, Severity
from notchbook.model.requirement import LAST_BIT, Requirement
from notchbook.wording.numbers import number

NOTCH_RADIUS = Rule(
    "notch-radius",
    "The radius at the base of the notch is that of the notch type",
    "The radius decides how far the stress at the base is raised; a blunt cutter makes brittle bars look tough.",
    "ISO 179-1:2010, Table 2; ISO 180:2000, Figure 2",
    "Measure another bar of the run; if it is right, have new bars notched with a fresh cutter.",
    declarable=True,
)
CLAMP_TORQUE = Rule(
    "clamp-torque",
    "The clamp was closed with the torque that the method asks for",
    "Some plastics take up less energy the harder they are held.",
    "ISO 180:2000, 5.1.2, which asks for control and leaves the torque to the laboratory; the method's file",
    "Set the torque screwdriver and test new bars, or declare the deviation.",
    declarable=True,
)
CLAMP_PRESENT = Rule(
    "clamp-present",
    "A torque of the clamp belongs to bars that are clamped",
    "Bars on two supports have no clamp: the torque or the hammer is that of another test.",
    "contract of the data files",
    "Delete the torque, or correct the hammer.",
)
TRANSFER_TIME = Rule(
    "transfer-time",
    "Bars were struck within the method's time after their conditioning",
    "A bar takes on the temperature of the room from the moment that it leaves the cold.",
    "the method's file",
    "Exclude the bars that took too long, with the reason, or declare the deviation.",
    declarable=True,
)
ZERO_READING = Rule(
    "zero-reading",
    "The scale shows nothing where it should, within a division",
    "What the zero is off stands in every reading of the day.",
    "one division of the scale: common practice, no source",
    "Set the zero before the next bar; acknowledge it where the readings are known to be right.",
    Severity.WARNING,
)
CONDITIONING_STATE = Rule(
    "conditioning-state",
    "Bars that are called dry were not kept in the climate that conditions them",
    "Some plastics take up water from the air and get tougher by a factor; dry and conditioned bars are two materials.",
    "bars kept in the method's humidity for its time are conditioned: ISO 291:2008; that dry ones are kept from "
    "moisture is common practice, no source",
    "Correct the state, or the climate that the bars were kept in.",
    Severity.WARNING,
)


def _asked(case: ResolvedRecord, name: str, words: str, asked: Requirement | None, hint: str) -> Iterator[Complaint]:
    """Values of a record and of its bars that count that are not what is asked for."""
    if case.method is None:
        return
    for keys, value in case.record.measured(name):
        specimen = case.record.specimens[int(keys[1])] if len(keys) > 1 else None
        if specimen is None or specimen.counts:
            whose = f"{words} of specimen {specimen.id}" if specimen is not None else words
            yield from outside(keys, whose, value, asked, case.method.standard, hint)


def notch_radius(case: ResolvedRecord) -> Iterator[Complaint]:
    """Measured radii; those of bars without a notch are told by another rule."""
    asked = case.notch.base_radius_mm if case.notch is not None else None
    yield from _asked(case, "notch_radius_mm", "the notch radius", asked, "measure it again, or declare the deviation")


def clamp_torque(case: ResolvedRecord) -> Iterator[Complaint]:
    """Torques of the clamp."""
    asked = case.method.clamp_torque_Nm if case.method is not None else None
    yield from _asked(case, "clamp_torque_Nm", "the clamp torque", asked, "see how the screwdriver was set")


def clamp_present(case: ResolvedRecord) -> Iterator[Complaint]:
    """Torques of bars that lie on supports."""
    if case.method is None or case.method.support == "cantilever":
        return
    for keys, value in case.record.measured("clamp_torque_Nm"):
        message = f"a clamp torque of {number(value)} Nm, but bars of {case.method.standard} lie on supports"
        yield Complaint(keys, message, "delete it, or correct the hammer")


def transfer_time(case: ResolvedRecord) -> Iterator[Complaint]:
    """Times from conditioning to the blow."""
    asked = case.method.transfer_s if case.method is not None else None
    yield from _asked(case, "transfer_s", "the transfer time", asked, "a bar that took too long does not count")


def zero_reading(case: ResolvedRecord) -> Iterator[Complaint]:
    """Zeros that are off by more than a division, or of another scale than the rig has."""
    scale = case.scale_read
    if scale is None:
        return
    read = "zero_reading_J" if scale.reads == "energy" else "zero_reading_deg"
    unit = "J" if scale.reads == "energy" else "°"
    for name in ("zero_reading_deg", "zero_reading_J"):
        value = getattr(case.record, name)
        if value is None:
            continue
        if name != read:
            message = f"the zero is one of another scale: that of rig '{case.record.rig}' gives {read}"
            yield Complaint((name,), message, f"write {read} as it was read")
        elif scale.division and abs(value) > scale.division * (1.0 + LAST_BIT):
            tail = unit if unit == "°" else f" {unit}"
            message = f"the zero is off by {number(value)}{tail}, more than the division of {number(scale.division)}"
            yield Complaint((name,), message + tail, "set the zero before the first bar")


def conditioning_state(case: ResolvedRecord) -> Iterator[Complaint]:
    """Bars called dry that took up water for as long as conditions them."""
    found, method = case.record.conditioning, case.method
    if found.state != "dry" or method is None or method.conditioning.hours is None:
        return
    asked = method.conditioning
    if found.humidity_pct >= asked.humidity_pct.lowest and method.conditioning.hours.allows(found.hours):
        yield Complaint(
            ("conditioning", "state"),
            f"bars that were kept at {number(found.humidity_pct)} % for {number(found.hours)} h are not dry: "
            f"{method.standard} calls that conditioning",
            "write 'conditioned', or the climate that kept them dry",
        )


RECORD_CHECKS: tuple[Check[ResolvedRecord], ...] = (
    Check(NOTCH_RADIUS, notch_radius),
    Check(CLAMP_TORQUE, clamp_torque),
    Check(CLAMP_PRESENT, clamp_present),
    Check(TRANSFER_TIME, transfer_time),
    Check(ZERO_READING, zero_reading),
    Check(CONDITIONING_STATE, conditioning_state),
)
