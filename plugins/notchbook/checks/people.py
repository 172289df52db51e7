"""People are codes of a role or group: the site is public."""

from collections.abc import Iterator

from notchbook.checks.subject import Check, Complaint, ExerciseCase, MethodCase, RigCase, SwingsCase, VerificationCase
from notchbook.evaluation.resolved import ResolvedRecord
from notchbook.findings import Rule
from notchbook.model.codes import CODE
from notchbook.model.procedure import Deviation
from notchbook.model.verification import Acknowledgement

PEOPLE_CODES = Rule(
    "people-codes",
    "People are codes of a role or group",
    "Names of students and staff do not belong on a public site or in its history.",
    "contract of the data files; data protection law",
    "Write capitals and a number, such as G3 or LT-2, and keep the list of names elsewhere.",
)


def _named(keys: tuple[str | int, ...], code: str) -> Iterator[Complaint]:
    if not CODE.fullmatch(code):
        yield Complaint(
            keys,
            f"'{code}' is not a code of a role or group",
            "write capitals and a number, such as G3 or LT-2; names stay out of the site",
        )


def _deviations(key: str, deviations: tuple[Deviation, ...]) -> Iterator[Complaint]:
    for index, deviation in enumerate(deviations):
        yield from _named((key, index, "accepted_by"), deviation.accepted_by)


def _acknowledged(acknowledged: tuple[Acknowledgement, ...]) -> Iterator[Complaint]:
    for index, each in enumerate(acknowledged):
        yield from _named(("acknowledged", index, "by"), each.by)


def record_people(case: ResolvedRecord) -> Iterator[Complaint]:
    """Groups, who accepted deviations, and who acknowledged warnings."""
    yield from _named(("group",), case.record.group)
    yield from _deviations("deviations", case.record.deviations)
    yield from _acknowledged(case.record.acknowledged)


def swings_people(case: SwingsCase) -> Iterator[Complaint]:
    """The group, and who acknowledged warnings."""
    yield from _named(("group",), case.record.group)
    yield from _acknowledged(case.record.acknowledged)


def verification_people(case: VerificationCase) -> Iterator[Complaint]:
    """Who checked, and who acknowledged warnings."""
    yield from _named(("checked_by",), case.verification.checked_by)
    yield from _acknowledged(case.verification.acknowledged)


def exercise_people(case: ExerciseCase) -> Iterator[Complaint]:
    """Who accepted deviations."""
    yield from _deviations("accepted_deviations", case.exercise.accepted_deviations)


def method_people(case: MethodCase) -> Iterator[Complaint]:
    """Who set what differs."""
    for index, each in enumerate(case.method.differences):
        yield from _named(("differences", index, "set_by"), each.set_by)


def rig_people(case: RigCase) -> Iterator[Complaint]:
    """Who repaired."""
    for index, each in enumerate(case.rig.repairs):
        yield from _named(("repairs", index, "by"), each.by)


RIG_CHECKS = (Check(PEOPLE_CODES, rig_people),)
METHOD_CHECKS = (Check(PEOPLE_CODES, method_people),)
RECORD_CHECKS = (Check(PEOPLE_CODES, record_people),)
VERIFICATION_CHECKS = (Check(PEOPLE_CODES, verification_people),)
EXERCISE_CHECKS = (Check(PEOPLE_CODES, exercise_people),)
SWINGS_CHECKS = (Check(PEOPLE_CODES, swings_people),)
