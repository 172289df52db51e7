"""The rules that one session alone can break, with their numbers and patterns, for whoever tells them at the bench."""

from typing import Any

from notchbook.checks.breaks import BROKEN, FEWEST_APART, FEWEST_BROKEN, PARTIAL
from notchbook.checks.exclusions import MOST_MISSING, ROW_NUMBER
from notchbook.checks.likeness import FEWEST_BARS
from notchbook.checks.patterns import MOST_CHANCE
from notchbook.checks.readings import LARGER_BY, MISREAD_DIVISIONS
from notchbook.checks.registry import RECORD_RULES, SWINGS_RULES
from notchbook.checks.scale import FEWEST_OF_A_RECORD, MARK_SLACK, SLIPS
from notchbook.checks.swings import LATER_SHARE, RESOLVED_SHARE
from notchbook.checks.words import SAME_SIZE, UNITS_OF_LENGTH
from notchbook.evaluation.known import LARGEST
from notchbook.findings import Severity
from notchbook.model.codes import CODE
from notchbook.model.requirement import LAST_BIT

_TOLD = (
    "date-future", "verification-in-force", "people-codes", "specimen-id", "unit-slip", "specimen-width",
    "specimen-thickness", "remaining-width", "remaining-below-width", "rise-angle", "loss-floor", "energy-window",
    "larger-hammer", "reading-division", "reading-order", "free-swings-complete", "free-swing-order", "loss-limit",
    "later-swings", "no-break-energy", "specimen-number", "mixed-breaks", "bar-missing", "conditioning",
    "test-atmosphere", "repeated-readings",
)  # fmt: skip
BENCH_RULES: dict[str, Severity] = {rule: RECORD_RULES[rule].severity for rule in _TOLD}
"""How grave each of them is, by its id. The others are about other records, about what no bench asks for, or about
what is chosen from lists there."""
SWINGS_BENCH_RULES: dict[str, Severity] = {
    rule: SWINGS_RULES[rule].severity
    for rule in (
        "date-future", "people-codes", "free-swings-complete", "free-swing-order", "loss-limit", "later-swings",
        "dying-away",
    )
}  # fmt: skip
"""The same of a record of free swings."""


def swings_bench_limits() -> dict[str, Any]:
    """Those of the rules of free swings."""
    return {
        "last_bit": LAST_BIT,
        "largest": LARGEST,
        "later_share": LATER_SHARE,
        "resolved_share": RESOLVED_SHARE,
        "code": CODE.pattern,
    }


def bench_limits() -> dict[str, Any]:
    """Every number and pattern of those rules that no method, hammer or scale states, by what it is."""
    return swings_bench_limits() | {
        "same_size": SAME_SIZE,
        "units_of_length": UNITS_OF_LENGTH,
        "larger_by": LARGER_BY,
        "misread_divisions": MISREAD_DIVISIONS,
        "row_number": ROW_NUMBER.pattern,
        "most_missing": MOST_MISSING,
        "fewest_read": FEWEST_OF_A_RECORD,
        "slips": SLIPS,
        "mark_slack": MARK_SLACK,
        "fewest_in_order": FEWEST_BARS,
        "most_chance": MOST_CHANCE,
        "apart": {"roles": BROKEN[0], "fewest": FEWEST_APART},
        "hinged": {"roles": BROKEN[1], "fewest": FEWEST_BROKEN},
        "partial": {"roles": BROKEN[2], "share": PARTIAL, "fewest": FEWEST_BROKEN},
    }
