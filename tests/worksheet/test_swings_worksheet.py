"""The worksheet of free swings: its scripts say what the engine says, and its files are read as what was typed."""

import re
from typing import Any

import node
import pytest
from changes import changed, changes
from edges import Case
from swings_cases import swings_cases
from swings_engine import facts_of
from test_page_data import SAME_EITHER_WAY, paths_of

from notchbook.checks.bench_limits import SWINGS_BENCH_RULES
from notchbook.checks.registry import SWINGS_CHECKS
from notchbook.handbook import Handbook
from notchbook.pages.rig.swings import result_rows
from notchbook.reading.schemas import schema
from notchbook.reading.strict_yaml import parse
from notchbook.writing.draft import record_text
from notchbook.writing.given import common_of
from notchbook.writing.readings import records_in_file
from notchbook.writing.table_swings import swings_of_table

BY_CHOICE = frozenset({
    "rig-known", "hammer-known", "exercise-known", "hammer-method", "swings-exercise", "series-scale",
})  # fmt: skip
"""What is chosen from lists, and a scale that the form asks for, cannot break."""
OF_OTHERS = frozenset({"name-agrees", "free-swing-hammer", "day-loss"})
"""Told by the name of the file, or by verifications beside the one in force, which a page does not hold."""


@pytest.fixture(scope="module")
def swings(demo: Handbook) -> list[Case]:
    return swings_cases(demo)


@pytest.fixture(scope="module")
def swings_job(swings: list[Case]) -> dict[str, Any]:
    found = node.job(swings, "swings")
    for case, told in zip(swings, found["cases"], strict=True):
        # the page shows nothing of a record without both swings; the worksheet what it has so far
        if not case.tight and told["expected"].get("losses"):
            told["words"] = _words(case)
    return found


def _words(case: Case) -> dict[str, Any]:
    """The rows of the page as the worksheet has them, which knows how sure a difference is and no other value."""
    facts = facts_of(case.bench, case.session)
    rows = [
        {"title": row["title"], "value": row["value"], "sure": sure, "beside": row["beside"]}
        for row in result_rows(facts)
        for sure in (row["uncertainty"] if "by the readings" in row["uncertainty"] else "",)
    ]
    in_force = facts.verification
    if in_force is None:
        none = "No verification of this hammer covers the day: there is nothing to compare with."
        return {"rows": rows, "basis": none}
    return {"rows": rows, "basis": f"Beside the verification of {in_force.date}, valid until {in_force.valid_until}."}


@pytest.fixture(scope="module")
def ran(swings: list[Case], swings_job: dict[str, Any]) -> dict[str, Any]:
    return node.run({**swings_job, "filed": list(range(len(swings)))})


def test_every_rule_of_free_swings_is_told_at_the_bench_or_is_not_for_a_reason() -> None:
    reasons = [*SWINGS_BENCH_RULES, *BY_CHOICE, *OF_OTHERS]
    assert sorted({check.rule.id for check in SWINGS_CHECKS}) == sorted(reasons)


def test_scripts_say_what_the_engine_says(ran: dict[str, Any], swings: list[Case]) -> None:
    assert [f"{swings[each['place']].session}: {each['why']}" for each in ran["differing"]] == []


def test_cases_break_every_rule_and_none(swings_job: dict[str, Any]) -> None:
    expected = [each["expected"] for each in swings_job["cases"]]
    told = {each[0] for said in expected for each in (*said.get("findings", ()), *said["refused"])}
    assert told - {"key-missing"} == {
        *SWINGS_BENCH_RULES, "value-form", "value-range", "value-type", "date-real",
    }  # fmt: skip
    assert sum(not said.get("findings", True) for said in expected) > 50
    assert {said["shares"][-1] for said in expected if "shares" in said} == {True, False, None}


def test_file_holds_what_was_typed(ran: dict[str, Any], swings: list[Case], swings_job: dict[str, Any]) -> None:
    order = list(schema("swings")["properties"])
    seen = 0
    for case, written, told in zip(swings, ran["files"], swings_job["cases"], strict=True):
        assert (written["yaml"] is None) == bool(told["expected"]["refused"])
        if written["yaml"] is None:
            continue
        data, flaws = parse(written["yaml"])
        assert not flaws
        assert data == case.bench.file(case.session)
        assert list(data) == [key for key in order if key in data]
        assert re.fullmatch(schema("test")["properties"]["exercise"]["pattern"], written["name"].removesuffix(".yaml"))
        seen += 1
    assert seen > 200


def test_table_is_imported_as_the_record_that_was_typed(ran: dict[str, Any], swings: list[Case]) -> None:
    seen = 0
    for case, written in zip(swings, ran["files"], strict=True):
        if written["yaml"] is None:
            continue
        wanted, _ = parse(written["yaml"])
        (sheet,) = records_in_file(written["csv"].encode(), ()).sheets
        draft = swings_of_table(sheet, common_of(sheet, {}, ()))
        assert draft.troubles == [], case.session
        assert parse(record_text(draft.values))[0] == wanted
        seen += 1
    assert seen > 200


NO_SESSION_TELLS = {
    **SAME_EITHER_WAY,
    "limits.largest": "no reading that a file may hold gives so much",
}
"""Patterns of paths where no session can tell; and why."""
_NO_TIE = "Math.abs(difference_pct) <= expanded_pct"
"""A difference is what the readings explain to the last bit for no reading."""


@pytest.mark.repeats
def test_every_change_of_its_scripts_is_told(swings_job: dict[str, Any], ran: dict[str, Any]) -> None:
    """Each comparison turned and each number one more, one at a time, in the scripts that no bar needs."""
    sources = {name: source for name, source in node.sources("swings").items() if name.startswith("swings_")}
    tried = [change for name, source in sources.items() for change in changes(name, source)]
    assert len(tried) > 30
    filed = list(range(0, len(swings_job["cases"]), 20))
    runs = [{"name": each.name, "source": changed(sources[each.name], each), "filed": filed} for each in tried]
    found = node.run({**swings_job, "changedScripts": runs, "inTurn": len(swings_job["cases"])})["scripts"]
    as_they_are = [ran["files"][place] for place in filed]
    untold = [str(change) for change, each in zip(tried, found, strict=True) if each.get("files") == as_they_are]
    assert [each for each in untold if _NO_TIE not in each] == []


@pytest.mark.repeats
def test_every_value_of_its_page_is_told(swings_job: dict[str, Any]) -> None:
    paths = list(dict.fromkeys(path for data in swings_job["datas"] for path in paths_of(data)))
    found = node.run({**swings_job, "changedData": paths, "inTurn": len(swings_job["cases"])})["data"]
    untold = [".".join(path) for path, told in zip(paths, found, strict=True) if told is None]
    assert [each for each in untold if not any(re.fullmatch(known, each) for known in NO_SESSION_TELLS)] == []
