"""The page of checks: every rule with its reason, and what was found in this handbook."""

from notchbook.facts.facts import Facts
from notchbook.findings import Rule
from notchbook.handbook import RULES_BY_SUBJECT
from notchbook.pages.page import Page

URI = "checks.md"


def checks_page(facts: Facts) -> Page:
    """Rules by what they look at; one that looks at several kinds of file stands under the first."""
    seen: set[str] = set()
    shown: list[tuple[str, list[Rule]]] = []
    for name, rules in RULES_BY_SUBJECT.items():
        fresh = [rule for rule in dict.fromkeys(rules) if rule.id not in seen]
        seen.update(rule.id for rule in fresh)
        shown.append((name, fresh))
    return Page(URI, "checks.html.j2", "Checks", {"groups": shown, "findings": facts.handbook.findings})
