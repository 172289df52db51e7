"""Verdicts in the words of a tutor: which step to look at again, and not what the number should have been."""

from notchbook.answers.judging import Verdict
from notchbook.answers.slips import LOOK_AT
from notchbook.wording.numbers import to_figures

AGREES = "Agrees to the digits given."
UNKNOWN = "No slip that we know gives this number: go through the steps from the reading on."
_MORE_DIGITS = "Give one digit more, and it can be told which."
_RARE_PCT = 0.1


def said(verdict: Verdict) -> str:
    """What is said of one answer."""
    if verdict.kind == "agrees":
        return AGREES
    if verdict.kind == "unknown":
        return UNKNOWN
    steps = [LOOK_AT[each] for each in verdict.slips]
    if verdict.together:
        return f"Two steps together give this number. {' '.join(steps)}"
    if len(steps) == 1:
        return steps[0]
    return f"More than one step gives this number. {' Or: '.join(steps)} {_MORE_DIGITS}"


def chance(verdict: Verdict) -> str:
    """How often a wrong number of that size would fit by chance; empty where no slip is named."""
    if verdict.chance_pct is None or verdict.kind != "slip":
        return ""
    if verdict.chance_pct < _RARE_PCT:
        return f"fewer than one wrong number in {100 / _RARE_PCT:.0f} of this size would fit some slip by chance"
    return f"{to_figures(verdict.chance_pct, 2)} in 100 wrong numbers of this size would fit some slip by chance"
