"""The worksheet's scripts run by node, as the page of an exercise names them."""

import json
import os
import shutil
import subprocess
from collections.abc import Sequence
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from edges import Case
from engine import said

from notchbook.facts.worksheet_limits import told_rules, told_swings_rules
from notchbook.pages.assets import ASSETS
from notchbook.pages.exercise.worksheet import SCRIPTS

RUNNER = Path(__file__).parent / "run.js"
ON_A_PAGE = ("state", "form", "told", "results", "swings_results", "start")
"""Scripts that are about the page alone; a browser tries them."""
_STARTS = "start"
"""The one that looks for the page when it is loaded."""
_LONGEST_s = 1500


@cache
def sources(kind: str = "test") -> dict[str, str]:
    """The scripts that compute, check and write, by name, in the order of the page."""
    return {name: source for name, source in _all_sources(kind).items() if name not in ON_A_PAGE}


@cache
def _all_sources(kind: str) -> dict[str, str]:
    names = [Path(each).stem for each in SCRIPTS[kind]]
    return {name: (ASSETS / f"worksheet/{name}.js").read_text("utf-8") for name in names if name != _STARTS}


def job(cases: Sequence[Case], kind: str = "test") -> dict[str, Any]:
    """What node is given to run: the scripts, and each case with what the engine says of it."""
    datas: dict[str, int] = {}
    listed = []
    for case in cases:
        data = datas.setdefault(json.dumps(case.bench.data()), len(datas))
        listed.append({
            "data": data,
            "session": {"fields": case.session.fields, "bars": case.session.bars},
            "expected": said(case.bench, case.session),
            "computed": case.bench.computed(case.session) if case.tight else [],
        })  # fmt: skip
    return {
        "scripts": list(_all_sources(kind).items()),
        "day": cases[0].bench.handbook.day.isoformat(),
        "severities": {"test": told_rules, "swings": told_swings_rules}[kind](),
        "datas": [json.loads(each) for each in datas],
        "cases": listed,
        "filed": [], "calls": [], "changedScripts": [], "changedData": [], "changedEngine": [],
    }  # fmt: skip


def run(given: dict[str, Any]) -> dict[str, Any]:
    """What node found; skips the test where there is no node, but fails it where CI=true."""
    node = shutil.which("node")
    if node is None:
        (pytest.fail if os.environ.get("CI") == "true" else pytest.skip)("no node was found")
    done = subprocess.run(
        [node or "", str(RUNNER)],
        input=json.dumps(given), capture_output=True, text=True, check=False, timeout=_LONGEST_s,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    found: dict[str, Any] = json.loads(done.stdout)
    return found
