"""Complaints weighed: what a file declares of its departures, what it acknowledges of its warnings, and what is left.

No error is ever acknowledged away.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace

from notchbook.checks.subject import Complaint
from notchbook.findings import Rule, Severity
from notchbook.model.procedure import Deviation
from notchbook.model.verification import Acknowledgement
from notchbook.wording.nearest import nearest


@dataclass(frozen=True, slots=True)
class Placed:
    """A complaint of a rule about one object, before it is given a line and a column."""

    kind: str
    id: str
    rule: Rule
    severity: Severity
    complaint: Complaint
    declared: bool = False
    """Whether it is a departure from the method that was declared and is published with its mark."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """Whether a record conforms to its method, and what was declared where it does not."""

    conforms: bool
    deviations: tuple[Deviation, ...]
    """Declared deviations that really occur, published with the result."""


@dataclass(slots=True)
class Verdicts:
    """What all checks came to."""

    placed: list[Placed] = field(default_factory=list)
    records: dict[str, Verdict] = field(default_factory=dict)
    verifications: dict[str, bool] = field(default_factory=dict)
    """Whether each verification conforms."""
    swings: dict[str, bool] = field(default_factory=dict)
    """Whether the checks find no error in each record of free swings."""


DEVIATION_RULE = Rule(
    "deviation-rule",
    "A declared deviation names a rule that may be declared",
    "What contradicts itself or physics is wrong, whoever accepts it.",
    "contract of the data files",
    "Take the declaration out and put right what the rule found.",
)
DEVIATION_UNUSED = Rule(
    "deviation-unused",
    "A declared deviation really occurs",
    "A declaration without a departure marks a good result as a bad one.",
    "contract of the data files",
    "Take the declaration out.",
    Severity.WARNING,
)


def undeclarable(key: str, deviations: tuple[Deviation, ...], rules: Mapping[str, Rule]) -> Iterator[Complaint]:
    """Declarations of rules that do not exist or may not be declared."""
    declarable = [rule.id for rule in rules.values() if rule.declarable]
    for index, deviation in enumerate(deviations):
        rule = rules.get(deviation.rule)
        if rule is None:
            yield Complaint(
                (key, index, "rule"),
                f"there is no rule '{deviation.rule}' that may be declared",
                nearest(deviation.rule, declarable),
            )
        elif not rule.declarable:
            yield Complaint(
                (key, index, "rule"),
                f"'{rule.id}' cannot be declared away: {rule.title[0].lower()}{rule.title[1:]}",
                "put right what it found",
            )


def unused_deviations(
    deviations: tuple[Deviation, ...], broken: set[str], rules: Mapping[str, Rule]
) -> Iterator[Complaint]:
    """Declarations of a record that nothing in it calls for."""
    for index, deviation in enumerate(deviations):
        rule = rules.get(deviation.rule)
        if rule is not None and rule.declarable and deviation.rule not in broken:
            yield Complaint(
                ("deviations", index, "rule"),
                f"the record declares '{deviation.rule}', but nothing in it departs from that rule",
                "take the declaration out",
            )


ACKNOWLEDGED_RULE = Rule(
    "acknowledged-rule",
    "An acknowledgement names a rule that warns about such a file",
    "An error is put right and a departure from the method declared; neither is waved through.",
    "contract of the data files",
    "Take the acknowledgement out, and put right or declare what the rule found.",
)
ACKNOWLEDGED_UNUSED = Rule(
    "acknowledged-unused",
    "An acknowledged warning really occurs",
    "An acknowledgement that is left over would hide the next warning of that rule, which nobody has looked into.",
    "contract of the data files",
    "Take the acknowledgement out.",
    Severity.WARNING,
)
_KINDS = {"test": "test records", "verification": "verifications", "swings": "free swings"}


def _as_notes(found: Iterable[Placed], acknowledged: tuple[Acknowledgement, ...]) -> Iterator[Placed]:
    """The findings of a file, those warnings of it as notes that were acknowledged."""
    by_rule = {each.rule: each for each in reversed(acknowledged)}
    for placed in found:
        told = by_rule.get(placed.rule.id)
        if told is None or placed.severity is not Severity.WARNING:
            yield placed
        else:
            reason = " ".join(told.reason.split())
            message = f"{placed.complaint.message}; acknowledged by {told.by}: {reason}"
            complaint = replace(placed.complaint, message=message, hint="")
            yield replace(placed, severity=Severity.NOTE, complaint=complaint)


def _wrong(kind: str, acknowledged: tuple[Acknowledgement, ...], rules: Mapping[str, Rule]) -> Iterator[Complaint]:
    """Acknowledgements of what is no warning."""
    warnings = [each.id for each in rules.values() if each.severity is Severity.WARNING]
    for index, each in enumerate(acknowledged):
        rule = rules.get(each.rule)
        keys = ("acknowledged", index, "rule")
        if rule is None:
            yield Complaint(
                keys,
                f"'{each.rule}' is no rule whose warnings about {_KINDS[kind]} can be acknowledged",
                nearest(each.rule, warnings),
            )
        elif rule.severity is not Severity.WARNING:
            hint = "declare it as a deviation, or put it right" if rule.declarable else "take it out"
            yield Complaint(keys, f"'{rule.id}' is no warning and cannot be acknowledged", hint)


def _unused_acknowledgements(
    found: Iterable[Placed], acknowledged: tuple[Acknowledgement, ...], rules: Mapping[str, Rule]
) -> Iterator[Complaint]:
    """Acknowledgements of warnings that do not occur."""
    warned = {each.rule.id for each in found if each.severity is Severity.WARNING}
    for index, each in enumerate(acknowledged):
        rule = rules.get(each.rule)
        if rule is not None and rule.severity is Severity.WARNING and each.rule not in warned:
            yield Complaint(
                ("acknowledged", index, "rule"),
                f"the file acknowledges '{each.rule}', but that rule warns of nothing in it",
                "take the acknowledgement out",
            )


def weighed(
    found: Iterable[Placed],
    about: tuple[str, str],
    acknowledged: tuple[Acknowledgement, ...],
    rules: Mapping[str, Rule],
) -> list[Placed]:
    """The findings of a file after its acknowledgements, with what is wrong about these.

    Arguments:
        found: what the checks found.
        about: kind and id of the file.
        acknowledged: what it acknowledges.
        rules: the rules about that kind of file, by id.
    """
    kind, object_id = about
    found = list(found)
    if not acknowledged:
        return found
    placed = list(_as_notes(found, acknowledged))
    for rule, complaints in (
        (ACKNOWLEDGED_RULE, _wrong(kind, acknowledged, rules)),
        (ACKNOWLEDGED_UNUSED, _unused_acknowledgements(found, acknowledged, rules)),
    ):
        placed += [Placed(kind, object_id, rule, rule.severity, each) for each in complaints]
    return placed
