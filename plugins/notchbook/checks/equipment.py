"""What is wrong with rigs and verifications, and the records that rest on them."""

from dataclasses import dataclass

from notchbook.checks.subject import Complaint, RecordCase
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
    """What is wrong with rigs and verifications, and whether the records that rest on it declared it."""

    def __init__(self, rigs: dict[str, Found], verifications: dict[str, Found]) -> None:
        self._rigs = rigs
        self._verifications = verifications
        self._users: dict[Inherited, dict[str, bool]] = {}
        """By record that rests on a departure, whether it declares it."""

    def inherited(self, case: RecordCase) -> list[Inherited]:
        """The errors that a record has from its rig, hammer and verification."""
        found = []
        for rule, complaint in self._rigs.get(case.record.rig, ()):
            concerned = complaint.hammer in (None, case.record.hammer) and (
                complaint.method is None or (case.hammer is not None and case.hammer.method == complaint.method)
            )
            if rule.severity is Severity.ERROR and concerned:
                found.append(Inherited("rig", case.record.rig, rule, complaint))
        if case.verification is not None:
            for rule, complaint in self._verifications.get(case.verification.id, ()):
                if rule.severity is Severity.ERROR:
                    found.append(Inherited("verification", case.verification.id, rule, complaint))
        return found

    def note_user(self, trouble: Inherited, record_id: str, *, declared: bool) -> None:
        """Remember a record that rests on the troubled equipment."""
        self._users.setdefault(trouble, {})[record_id] = declared

    def all_declared(self, departure: Inherited) -> bool:
        """Whether every record that rests on the equipment declares its departure, and there is one."""
        users = self._users.get(departure, {})
        return bool(users) and all(users.values())

    def resting(self, trouble: Inherited) -> str:
        """The records that rest on the equipment, as the end of a hint; empty where there are none."""
        users = sorted(self._users.get(trouble, {}))
        if not users:
            return ""
        more = f" and {len(users) - _MOST_NAMED} more" if len(users) > _MOST_NAMED else ""
        return f"; tests that rest on it: {', '.join(users[:_MOST_NAMED])}{more}"
