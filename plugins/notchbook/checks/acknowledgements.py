"""Acknowledged warnings: true, looked into by somebody, and notes from then on. No error is ever acknowledged away."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from notchbook.checks.subject import Complaint
from notchbook.checks.verdict import Placed
from notchbook.findings import Rule, Severity
from notchbook.wording.nearest import nearest

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from notchbook.model.acknowledgement import Acknowledgement

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
_KINDS = {"test": "test records", "verification": "verifications"}


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


def _unused(
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
        (ACKNOWLEDGED_UNUSED, _unused(found, acknowledged, rules)),
    ):
        placed += [Placed(kind, object_id, rule, rule.severity, each) for each in complaints]
    return placed
