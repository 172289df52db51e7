"""Readings against the scale that they were read from: what it reads, and the division that it has."""

from collections.abc import Iterator

from notchbook.checks.subject import Check, Complaint, RigCase
from notchbook.evaluation.hammers import SwungHammer
from notchbook.evaluation.resolved import ResolvedRecord
from notchbook.evaluation.scale import scale_of
from notchbook.findings import Rule, Severity
from notchbook.model.record import Record
from notchbook.model.rig import Indicator
from notchbook.model.verification import FreeSwings, Verification
from notchbook.physics.pendulum import energy_from_rise_J, rise_from_energy_deg
from notchbook.wording.numbers import number

FEWEST_OF_A_RECORD, _FEWEST_OF_A_RIG = 10, 30
"""Fewer readings agree with a grid, or miss it, by chance."""
SLIPS = 0.1
"""Somebody who estimates between the marks does so in more than one reading of ten."""
# Of readings to a tenth of a division four in five lie off its halves.
_ESTIMATED = 1.0 / 3.0
# Ten times too fine a division makes half a real one five of its own.
_COARSER = 5.0
MARK_SLACK = 1e-6
"""Share of a mark, or of a reading in marks, by which a reading may miss it for the last bits of a binary fraction."""

READING_SCALE = Rule(
    "reading-scale",
    "The reading is one that the rig's scale gives",
    "An energy noted down from a scale of angles was worked out by somebody, with losses nobody knows.",
    "contract of the data files",
    "Write the angle that was read at the pendulum.",
    Severity.WARNING,
)
SCALE_AGREEMENT = Rule(
    "scale-agreement",
    "Angle of rise and indicated energy agree to the scale's division",
    "They are two readings of one position of the indicator.",
    "contract of the data files",
    "Compare both readings with the sheet of the day and keep the one that was really read.",
)
READING_DIVISION = Rule(
    "reading-division",
    "A reading is one that the rig's scale can give",
    "A single reading between the marks among readings on them is a slipped point or a misread digit.",
    "a scale is read to half a division: common practice, no source",
    "Compare the reading with the sheet of the day; leave it if it was really estimated that finely.",
    Severity.WARNING,
)
SCALE_DIVISION = Rule(
    "scale-division",
    "The readings of a rig are as fine as the division of its scale",
    "The uncertainty of every result counts the division; one that is ten times too coarse is wrong in all of them.",
    "a scale is read to half a division: common practice, no source",
    "Look at the scale and correct the division, or have readings written down as finely as the scale gives them.",
    Severity.WARNING,
)


def division_of(scale: Indicator | None) -> tuple[str, str, float] | None:
    """The key of the division with its unit and size, of a scale; None where that is not known."""
    if scale is None or not scale.division:
        return None
    key, unit = ("division_J", " J") if scale.reads == "energy" else ("division_deg", "°")
    return key, unit, scale.division


def on_mark(reading: float, mark: float) -> bool:
    """Whether a reading is a whole number of marks, but for the last bits of a binary fraction."""
    steps = reading / mark
    return abs(steps - round(steps)) <= MARK_SLACK * max(1.0, abs(steps))


def _swing_readings(swings: FreeSwings | None, key: str) -> Iterator[tuple[tuple[str | int, ...], float]]:
    ending = "indicated_energy_J" if key == "division_J" else "rise_deg"
    for which in ("first", "second", "later"):
        value = getattr(swings, f"{which}_{ending}") if swings is not None else None
        if value is not None:
            yield ("free_swings", f"{which}_{ending}"), value


def _readings(record: Record, key: str) -> Iterator[tuple[tuple[str | int, ...], float]]:
    """Every reading of the scale in a record, with the keys that lead to it."""
    yield from _swing_readings(record.free_swings, key)
    name = "indicated_energy_J" if key == "division_J" else "rise_angle_deg"
    for index, specimen in enumerate(record.specimens):
        value = getattr(specimen, name)
        if value is not None:
            yield ("specimens", index, name), value


def reading_scale(case: ResolvedRecord) -> Iterator[Complaint]:
    """Energies from a scale of angles."""
    if case.rig is None or case.rig.indicator.reads == "energy":
        return
    for index, specimen in enumerate(case.record.specimens):
        if specimen.rise_angle_deg is None and specimen.indicated_energy_J is not None:
            yield Complaint(
                ("specimens", index, "indicated_energy_J"),
                f"rig '{case.rig.id}' reads angles, but specimen {specimen.id} has only an indicated energy",
                "write the angle that was read",
            )


def scale_agreement(case: ResolvedRecord) -> Iterator[Complaint]:
    """Bars with both readings."""
    if case.hammer is None or case.rig is None:
        return
    for index, specimen in enumerate(case.record.specimens):
        rise, indicated = specimen.rise_angle_deg, specimen.indicated_energy_J
        if rise is not None and indicated is not None and 0.0 < rise < case.hammer.release_angle_deg:
            message = _disagreement(case, case.hammer, rise, indicated)
            if message:
                yield Complaint(("specimens", index, "indicated_energy_J"), message, "read both scales again")


def _disagreement(case: ResolvedRecord, hammer: SwungHammer, rise_deg: float, indicated_J: float) -> str | None:
    indicator = case.scale_read
    if indicator is None:
        return None
    from_rise_J = float(energy_from_rise_J(hammer.moment_Nm, hammer.release_angle_deg, rise_deg))
    if indicator.reads == "energy" and indicator.division_J is not None:
        if abs(from_rise_J - indicated_J) <= indicator.division_J * (1 + 1e-9):
            return None
        division = f"{number(indicator.division_J)} J"
    else:
        angle = float(rise_from_energy_deg(hammer.moment_Nm, hammer.release_angle_deg, indicated_J))
        if abs(angle - rise_deg) <= (indicator.division_deg or 0.0) * (1 + 1e-9):
            return None
        division = f"{number(indicator.division_deg or 0.0)}°"
    return (
        f"{number(indicated_J)} J does not agree with a rise of {number(rise_deg)}°, which is "
        f"{number(from_rise_J)} J; they differ by more than a division of {division}"
    )


def reading_division(case: ResolvedRecord) -> Iterator[Complaint]:
    """Single readings between the marks, in a record whose other readings lie on them."""
    division = division_of(case.scale_read)
    if division is None:
        return
    key, unit, size = division
    readings = list(_readings(case.record, key))
    between = [(keys, value) for keys, value in readings if not on_mark(value, size / 2.0)]
    if len(readings) < FEWEST_OF_A_RECORD or len(between) > SLIPS * len(readings):
        return
    for keys, value in between:
        yield Complaint(
            keys,
            f"{number(value)}{unit} is finer than half a division of {number(size)}{unit}, which the other readings "
            "of this record keep to",
            "compare with the sheet of the day",
        )


def scale_division(case: RigCase) -> Iterator[Complaint]:
    """Divisions of the rig's scale, and of the rings of single hammers, that the readings of its files do not fit."""
    rings = {hammer_id: each for hammer_id, each in case.hammers.items() if each.has_ring}
    yield from _not_of_the_division(case, case.rig.indicator, case.rig.hammers.keys() - rings.keys(), ("indicator",))
    for hammer_id, hammer in rings.items():
        yield from _not_of_the_division(case, scale_of(case.rig, hammer), {hammer_id}, ("hammers", hammer_id))


def _not_of_the_division(
    case: RigCase, scale: Indicator, hammers: set[str], keys: tuple[str, ...]
) -> Iterator[Complaint]:
    """A complaint where the readings of hammers that share a scale do not fit its division."""
    division, library = division_of(scale), case.around.library
    if division is None:
        return
    key, unit, size = division
    swings = [each.free_swings for each in library.verifications.values() if _on(each, case, hammers)]
    readings = [value for each in swings for _, value in _swing_readings(each, key)]
    readings += [
        value for each in library.records.values() if _on(each, case, hammers) for _, value in _readings(each, key)
    ]
    if len(readings) < _FEWEST_OF_A_RIG:
        return
    between = sum(not on_mark(value, size / 2.0) for value in readings)
    hint = "look at the scale, then correct the division or how readings are written down"
    if between > _ESTIMATED * len(readings):
        yield Complaint(
            (*keys, key),
            f"{between} of the {len(readings)} readings of this rig are finer than half a division of "
            f"{number(size)}{unit}",
            hint,
        )
    elif all(on_mark(value, _COARSER * size) for value in readings):
        yield Complaint(
            (*keys, key),
            f"all {len(readings)} readings of this rig are multiples of {number(_COARSER * size)}{unit}, five "
            f"divisions of {number(size)}{unit}",
            hint,
        )


def _on(each: Record | Verification, case: RigCase, hammers: set[str]) -> bool:
    return each.rig == case.rig.id and each.hammer in hammers


RECORD_CHECKS = (
    Check(READING_SCALE, reading_scale),
    Check(SCALE_AGREEMENT, scale_agreement),
    Check(READING_DIVISION, reading_division),
)
RIG_CHECKS = (Check(SCALE_DIVISION, scale_division),)
