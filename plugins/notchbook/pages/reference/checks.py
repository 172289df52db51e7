"""The page of checks: every rule with its reason, and what was found in this handbook."""

from __future__ import annotations

from typing import TYPE_CHECKING

from notchbook.checks import registry
from notchbook.pages.page import Page
from notchbook.reading.rules import RULES as READING_RULES

if TYPE_CHECKING:
    from collections.abc import Iterable

    from notchbook.facts.facts import Facts
    from notchbook.findings import Rule

URI = "checks.md"


def checks_page(facts: Facts) -> Page:
    """Rules by what they look at; one that looks at several kinds of file stands under the first."""
    groups: list[tuple[str, Iterable[Rule]]] = [
        ("Test records", (*registry.RECORD_RULES.values(), *registry.DECLARATION_RULES)),
        ("Verifications", registry.VERIFICATION_RULES.values()),
        ("Rigs and hammers", (check.rule for check in registry.RIG_CHECKS)),
        (
            "Exercises and hazards",
            (
                *(check.rule for check in registry.EXERCISE_CHECKS),
                *(check.rule for check in registry.HAZARDS_CHECKS),
            ),
        ),
        (
            "Materials and methods",
            (
                *(check.rule for check in registry.MATERIAL_CHECKS),
                *(check.rule for check in registry.METHOD_CHECKS),
            ),
        ),
        ("Every data file", READING_RULES),
    ]
    seen: set[str] = set()
    shown: list[tuple[str, list[Rule]]] = []
    for name, rules in groups:
        fresh = [rule for rule in dict.fromkeys(rules) if rule.id not in seen]
        seen.update(rule.id for rule in fresh)
        shown.append((name, fresh))
    return Page(URI, "checks.html.j2", "Checks", {"groups": shown, "findings": facts.handbook.findings})
