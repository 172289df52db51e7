"""The page on which a reader picks two sets and reads by how much they differ."""

from functools import partial

from notchbook.facts.facts import Facts
from notchbook.facts.sets_to_pick import Picked, sets_of, two_sets_data
from notchbook.pages.exercise.embedded_json import embedded
from notchbook.pages.page import TOC, Page
from notchbook.unchanged import Unchanged, made

URI = "comparisons/two-sets.md"
SCRIPTS = (
    "assets/worksheet/numbers.js", "assets/worksheet/summary.js", "assets/comparison/compare.js",
    "assets/comparison/pick.js",
)  # fmt: skip
"""In the order in which they need each other."""
_MOST_RECORDS = 300
"""A list of more is no longer picked from, and the page would be heavy on a phone."""


def two_sets_page(facts: Facts, unchanged: Unchanged | None = None) -> Page:
    """The page.

    Arguments:
        facts: those of the handbook.
        unchanged: what the caller holds of an earlier time.
    """
    sets: list[Picked] = []
    for line in facts.newest_records[:_MOST_RECORDS]:
        sets += made(unchanged, ("sets to pick", line.record.id), line, partial(sets_of, line))
    values = {
        "data": embedded(two_sets_data(sets)),
        "left_out": len(facts.newest_records) > _MOST_RECORDS,
        "most": _MOST_RECORDS,
        "scripts": SCRIPTS,
    }
    return Page(URI, "two_sets.html.j2", "Two sets against each other", values, hidden=TOC)
