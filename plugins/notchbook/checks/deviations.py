"""Declared deviations: each names a rule that may be declared and that is really broken."""

from __future__ import annotations

from typing import TYPE_CHECKING

from notchbook.findings import Rule, Severity

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from notchbook.model.procedure import Deviation

from notchbook.checks.subject import Complaint
from notchbook.wording.nearest import nearest

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


def unused(deviations: tuple[Deviation, ...], broken: set[str], rules: Mapping[str, Rule]) -> Iterator[Complaint]:
    """Declarations of a record that nothing in it calls for."""
    for index, deviation in enumerate(deviations):
        rule = rules.get(deviation.rule)
        if rule is not None and rule.declarable and deviation.rule not in broken:
            yield Complaint(
                ("deviations", index, "rule"),
                f"the record declares '{deviation.rule}', but nothing in it departs from that rule",
                "take the declaration out",
            )
