"""What is wrong with rigs and verifications, and the records that rest on them."""

from dataclasses import dataclass

from notchbook.checks.subject import Complaint, RecordCase
from notchbook.evaluation.library import Evaluation
from notchbook.findings import Rule, Severity

_MOST_NAMED = 3
"""Records that a message names before it only counts them."""
Found = list[tuple[Rule, Complaint]]
"""What checks found of one object."""


@dataclass(frozen=True, slots=True)
class Inherited:
    """Something wrong with a rig or a verification, as one that a record rests on."""

    kind: str
    id: str
    rule: Rule
    complaint: Complaint

    @property
    def carried(self) -> Complaint:
        """The complaint as one about the record."""
        told = self.complaint
        key = ("rig",) if self.kind == "rig" else ("date",)
        hint = f"{told.hint}, or declare the deviation in this record"
        return Complaint(key, f"{self.kind} '{self.id}': {told.message}", hint)


class Equipment:
    """What is wrong with rigs and verifications, and whether whoever rests on it declared it."""

    def __init__(self, rigs: dict[str, Found], verifications: dict[str, Found], evaluation: Evaluation) -> None:
        self._rigs = rigs
        self._verifications = verifications
        self._evaluation = evaluation
        self._users: dict[Inherited, dict[str, bool]] = {}
        """By record that rests on a departure, whether it declares it."""

    def inherited(self, case: RecordCase) -> list[Inherited]:
        """The errors that a record has from its rig, hammer and verification."""
        rig, hammer, verification = case.record.rig, case.record.hammer, case.verification
        method = case.hammer.method if case.hammer is not None else None
        told = [("rig", rig, self._rigs.get(rig, []))]
        if verification is not None:
            told.append(("verification", verification.id, self._verifications.get(verification.id, [])))
        return [
            Inherited(kind, of, rule, complaint)
            for kind, of, found in told
            for rule, complaint in found
            if rule.severity is Severity.ERROR and complaint.concerns(hammer, method)
        ]

    def note_user(self, trouble: Inherited, record_id: str, *, declared: bool) -> None:
        """Remember a record that rests on the troubled equipment."""
        self._users.setdefault(trouble, {})[record_id] = declared

    def declared_by(self, departure: Inherited) -> str:
        """Who declares a departure of the equipment, in words; empty where somebody who rests on it does not.

        These are the records that rest on it, or before the first of them the exercises that will make them.
        """
        users = self._users.get(departure, {})
        if users:
            return "every record that rests on it declares the deviation" if all(users.values()) else ""
        accepting = [
            any(each.rule == departure.rule.id for each in exercise.accepted_deviations)
            for exercise in self._evaluation.library.exercises.values()
            if exercise.specimen is not None and exercise.method in self._methods(departure)
        ]
        return "every exercise with it accepts the deviation" if accepting and all(accepting) else ""

    def _methods(self, departure: Inherited) -> set[str]:
        """The methods of the hammers that a departure concerns."""
        library, told = self._evaluation.library, departure.complaint
        verified = library.verifications[departure.id] if departure.kind == "verification" else None
        hammers = self._evaluation.hammers_of(verified.rig if verified is not None else departure.id).values()
        return {
            each.method
            for hammer in hammers
            for each in hammer.fittings
            if told.concerns(each.id, each.method) and (verified is None or each.id == verified.hammer)
        }

    def resting(self, trouble: Inherited) -> str:
        """The records that rest on the equipment, as the end of a hint; empty where there are none."""
        users = sorted(self._users.get(trouble, {}))
        if not users:
            return ""
        more = f" and {len(users) - _MOST_NAMED} more" if len(users) > _MOST_NAMED else ""
        return f"; tests that rest on it: {', '.join(users[:_MOST_NAMED])}{more}"
