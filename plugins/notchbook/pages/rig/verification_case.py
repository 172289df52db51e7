"""A verification with all that it is held against, and the rows that its page is made of."""

from dataclasses import dataclass

from notchbook.evaluation.hammers import SwungHammer
from notchbook.evaluation.losses import VerificationResult
from notchbook.facts.verifications import VerificationFacts
from notchbook.model.method import Method
from notchbook.model.requirement import Origin
from notchbook.model.rig import Rig


@dataclass(frozen=True, slots=True)
class Verified:
    """A verification with all that it is held against."""

    facts: VerificationFacts
    rig: Rig
    hammer: SwungHammer
    method: Method
    result: VerificationResult


@dataclass(frozen=True, slots=True)
class VerificationRow:
    """One quantity."""

    title: str
    measured: str
    """Empty where it was not measured."""
    asked: str
    """Empty where nothing is asked of it alone."""
    origin: Origin | None
    """Clause of the requirement and how sure it is; None for common practice."""
    departure: str
    verdict: str


def _verdict(case: Verified, rules: tuple[str, ...], key: str = "") -> str:
    """What the checks came to, in a word."""
    broken = case.facts.broken(rules, key)
    if not broken:
        return "passes"
    if all(each.declared for each in broken):
        return "fails, declared"
    return "fails" if any(each.severity == "error" for each in broken) else "look again"


def row_of(
    case: Verified, title: str, measured: str, asked: str, origin: Origin | None, departure: str,
    rules: tuple[str, ...], key: str = "",
) -> VerificationRow:  # fmt: skip
    """The row of one quantity.

    Arguments:
        case: the verification.
        title: the quantity.
        measured: what was found, empty where it was not measured.
        asked: what is required.
        origin: of the requirement; None for common practice.
        departure: of what was found from what is required.
        rules: ids of the rules that the row passes or fails by.
        key: last key of the measured value, where a rule looks at several.
    """
    verdict = _verdict(case, rules, key) if measured else "not measured"
    return VerificationRow(title, measured, asked, origin, departure if measured else "", verdict)
