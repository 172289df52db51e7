"""The page on which a reader picks two sets and reads by how much they differ."""

from typing import Any

from notchbook.facts.facts import Facts
from notchbook.facts.sets_to_pick import two_sets_data
from notchbook.pages.exercise.embedded_json import embedded
from notchbook.pages.page import TOC, Page

URI = "comparisons/two-sets.md"
SCRIPTS = (
    "assets/worksheet/numbers.js", "assets/worksheet/summary.js", "assets/comparison/compare.js",
    "assets/comparison/pick.js",
)  # fmt: skip
"""In the order in which they need each other."""
_MOST_SETS = 300
"""A list of more is no longer picked from, and the page would be heavy on a phone."""


def two_sets_page(facts: Facts) -> Page:
    """The page."""
    return Page(URI, "two_sets.html.j2", "Two sets against each other", _values(facts), hidden=TOC)


def _values(facts: Facts) -> dict[str, Any]:
    data = two_sets_data(facts.newest_records, _MOST_SETS)
    every = sum(len(line.sets) for line in facts.newest_records)
    return {
        "data": embedded(data),
        "left_out": every > len(data["sets"]),
        "most": _MOST_SETS,
        "scripts": SCRIPTS,
    }
