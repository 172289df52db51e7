"""Dates: not in the future, in order, and covered by a verification."""

import datetime as dt
from collections.abc import Iterator

from notchbook.checks.subject import Check, Complaint, RecordCase, RigCase, Surroundings, SwingsCase, VerificationCase
from notchbook.findings import Rule, Severity

_LONGEST_days = 550

DATE_FUTURE = Rule(
    "date-future",
    "Nothing was done in the future",
    "A date that is still to come is a slip, most often of the year.",
    "the calendar",
    "Write the day on which it was done.",
)
DATE_ORDER = Rule(
    "date-order",
    "A verification is valid from its date on",
    "One that ends before it began covers no test.",
    "ISO 13802:1999, 6",
    "Write the last day on which the verification holds.",
)
VERIFICATION_VALIDITY = Rule(
    "verification-validity",
    "A verification is valid for about a year",
    "Bearings and indicators wear; a year that was mistyped leaves a pendulum unchecked for as long as nobody notices.",
    "ISO 13802:1999, 6; that it is a year, and a year and a half at most: common practice, no source",
    "Check the year of both dates; acknowledge it where the laboratory verifies less often.",
    Severity.WARNING,
)
VERIFICATION_DAY = Rule(
    "verification-day",
    "A hammer has one verification of a day",
    "Of several the one whose name comes last is in force, and nobody chose it.",
    "common practice, no source",
    "Keep the verification that holds; take the others out, or correct their day or hammer.",
    Severity.WARNING,
)
VERIFICATION_IN_FORCE = Rule(
    "verification-in-force",
    "A verification of rig and hammer was in force on the day",
    "Without one nobody knows whether the pendulum had the energy it says.",
    "ISO 179-1, 5.1; ISO 13802:1999, 6",
    "Add the verification that was in force; if there was none, have the pendulum verified before it is used again.",
    declarable=True,
)


def _future(around: Surroundings, day: dt.date, *keys: str | int) -> Iterator[Complaint]:
    if day > around.today:
        said = f"{day} is in the future (today is {around.today})"
        yield Complaint(keys or ("date",), said, "write the day it was done")


def repairs_to_come(case: RigCase) -> Iterator[Complaint]:
    """Repairs that are still to be done."""
    for index, repair in enumerate(case.rig.repairs):
        yield from _future(case.around, repair.on, "repairs", index, "on")


def verification_order(case: VerificationCase) -> Iterator[Complaint]:
    """Validity that ends before it begins."""
    begins, ends = case.verification.date, case.verification.valid_until
    if ends < begins:
        yield Complaint(
            ("valid_until",),
            f"the verification of {begins} is valid until {ends}, which is before it",
            "write the last day on which it holds",
        )


def verification_validity(case: VerificationCase) -> Iterator[Complaint]:
    """Validity of much more than a year."""
    begins, ends = case.verification.date, case.verification.valid_until
    days = (ends - begins).days
    if days > _LONGEST_days:
        yield Complaint(
            ("valid_until",),
            f"the verification of {begins} is valid until {ends}, for {days / 365.25:.1f} years; a year is the custom",
            "check the year of both dates",
        )


def verification_day(case: VerificationCase) -> Iterator[Complaint]:
    """Verifications beside the one of the same hammer and day that is in force."""
    own = case.verification
    in_force = case.around.evaluation.around_day(own.rig, own.hammer, own.date, 1)[0]
    if in_force is not own:
        yield Complaint(
            ("date",),
            f"'{in_force.id}' is of the same hammer and day; tests rest on that one, because its name comes last",
            "keep the one that holds, and correct day or hammer of the other",
        )


def verification_in_force(case: RecordCase) -> Iterator[Complaint]:
    """Tests that no verification covers."""
    record = case.record
    if case.hammer is None or case.verification is not None:
        return
    unreadable = case.around.library.unreadable.get("verification")
    if unreadable:
        return
    nearest = case.around.evaluation.nearest_verification(record.rig, record.hammer, record.date)
    if nearest is None:
        reason = "there is none of this hammer"
    elif nearest.date <= record.date:
        reason = f"the last one, '{nearest.id}', was valid until {nearest.valid_until}"
    else:
        reason = f"the first one, '{nearest.id}', is of {nearest.date}"
    yield Complaint(
        ("date",),
        f"no verification of rig '{record.rig}' with hammer '{record.hammer}' was in force on {record.date}: {reason}",
        "check the date, or add the verification that was in force",
    )


RIG_CHECKS = (Check(DATE_FUTURE, repairs_to_come),)
RECORD_CHECKS: tuple[Check[RecordCase], ...] = (
    Check(DATE_FUTURE, lambda case: _future(case.around, case.record.date)),
    Check(VERIFICATION_IN_FORCE, verification_in_force),
)
VERIFICATION_CHECKS: tuple[Check[VerificationCase], ...] = (
    Check(DATE_FUTURE, lambda case: _future(case.around, case.verification.date)),
    Check(DATE_ORDER, verification_order),
    Check(VERIFICATION_VALIDITY, verification_validity),
    Check(VERIFICATION_DAY, verification_day),
)
SWINGS_CHECKS: tuple[Check[SwingsCase], ...] = (
    Check(DATE_FUTURE, lambda case: _future(case.around, case.record.date)),
)
