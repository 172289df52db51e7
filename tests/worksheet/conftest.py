"""The sessions that the scripts are tried with, found once."""

import datetime as dt
from pathlib import Path
from typing import Any

import node
import pytest
import shown
from calls import calls
from cases import all_cases
from edges import Case

from notchbook.handbook import Handbook, open_handbook

DEMO = Path(__file__).resolve().parents[2]
DAY = dt.date(2026, 11, 2)
"""After every date in the demo, and while its newest verifications are in force."""
_IN_WORDS = frozenset({"", "specimen-number", "mixed-breaks", "free-swings-complete"})
"""What cases are about that are compared to their last word."""


@pytest.fixture(scope="session")
def demo() -> Handbook:
    return open_handbook(DEMO, day=DAY)


@pytest.fixture(scope="session")
def cases(demo: Handbook) -> list[Case]:
    return all_cases(demo)


@pytest.fixture(scope="session")
def job(cases: list[Case]) -> dict[str, Any]:
    """The job without any change."""
    found = node.job(cases) | {"calls": calls(cases[0].bench.handbook)}
    for case, told in zip(cases, found["cases"], strict=True):
        if case.rule in _IN_WORDS and not case.tight and not told["expected"]["refused"]:
            told["words"] = shown.words(case.bench, case.session)
    return found
