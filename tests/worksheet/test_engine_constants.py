"""Every constant of the engine that the worksheet rests on is told by the sessions: with another value in the engine
alone the scripts, which have the old one, say something else."""

import importlib
import re
from dataclasses import dataclass
from typing import Any

import node
import pytest
from edges import Case
from engine import said

from notchbook.checks import breaks


@dataclass(frozen=True)
class Constant:
    """A named constant where it is used, and the rule that is about it; without one, numbers are."""

    module: str
    name: str
    value: Any
    rule: str = ""


_BROKEN = breaks.BROKEN
CONSTANTS = (
    Constant("model.requirement", "LAST_BIT", 2e-9, "conditioning"),
    Constant("checks.words", "LAST_BIT", 1e-3, "loss-limit"),
    Constant("checks.words", "SAME_SIZE", 1.26, "unit-slip"),
    Constant("checks.swings", "LATER_SHARE", 0.26, "later-swings"),
    Constant("checks.swings", "RESOLVED_SHARE", 0.11, "free-swing-order"),
    Constant("checks.swings", "LAST_BIT", 1e-3, "free-swing-order"),
    Constant("checks.readings", "LARGER_BY", 1.02, "larger-hammer"),
    Constant("checks.readings", "MISREAD_DIVISIONS", 2.1, "larger-hammer"),
    Constant("checks.scale", "FEWEST_OF_A_RECORD", 11, "reading-division"),
    Constant("checks.scale", "SLIPS", 0.09, "reading-division"),
    Constant("checks.scale", "MARK_SLACK", 2e-6, "reading-division"),
    Constant("checks.exclusions", "MOST_MISSING", 3, "bar-missing"),
    Constant("checks.exclusions", "ROW_NUMBER", re.compile("[0-9]{1,7}"), "bar-missing"),
    Constant("checks.breaks", "FEWEST_APART", 4, "no-break-energy"),
    Constant("checks.breaks", "FEWEST_BROKEN", 3, "no-break-energy"),
    Constant("checks.breaks", "PARTIAL", 0.51, "no-break-energy"),
    Constant("checks.breaks", "BROKEN", (("hinge",), _BROKEN[1], _BROKEN[2]), "no-break-energy"),
    Constant("checks.breaks", "BROKEN", (_BROKEN[0], ("complete", "partial"), _BROKEN[2]), "no-break-energy"),
    Constant("checks.breaks", "BROKEN", (_BROKEN[0], _BROKEN[1], ("complete", "hinge")), "no-break-energy"),
    Constant("checks.patterns", "MOST_CHANCE", 9e-5, "reading-order"),
    Constant("checks.people", "CODE", re.compile("[A-Z]{1,7}-?[0-9]{1,4}[a-z]?"), "people-codes"),
    Constant("evaluation.known", "LARGEST", 1.1e100, "largest"),
    Constant("physics.pendulum", "ROUNDING", 1e-3, "rise-angle"),
    Constant("statistics.summary", "UPPER_PROBABILITY", 0.976),
)
_MOST = 150
"""Cases that are enough to tell one."""


@pytest.fixture(scope="module")
def told(cases: list[Case], job: dict[str, Any]) -> list[dict[str, Any] | None]:
    """How the scripts differ first from the engine with each constant changed."""
    runs = []
    for constant in CONSTANTS:
        module = importlib.import_module(f"notchbook.{constant.module}")
        places = [place for place, case in enumerate(cases) if constant.rule in case.rule.split() or not constant.rule]
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(module, constant.name, constant.value)
            expected = {place: said(cases[place].bench, cases[place].session) for place in places[:_MOST]}
        runs.append({"places": places[:_MOST], "expected": expected})
    found: list[dict[str, Any] | None] = node.run({**job, "changedEngine": runs})["engine"]
    return found


@pytest.mark.repeats
@pytest.mark.parametrize("place", range(len(CONSTANTS)), ids=[f"{each.module}.{each.name}" for each in CONSTANTS])
def test_another_constant_in_the_engine_is_told(place: int, told: list[dict[str, Any] | None]) -> None:
    assert told[place] is not None
