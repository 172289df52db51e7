"""The worksheet's scripts say of every session what the engine says: refusals, complaints, energies, means, words."""

import csv
import io
import re
from typing import Any

import node
import pytest
from edges import Case
from typed_session import DIMENSIONS

from notchbook.checks.bench_limits import BENCH_RULES
from notchbook.checks.registry import RECORD_CHECKS
from notchbook.reading.schemas import schema
from notchbook.reading.strict_yaml import parse
from notchbook.wording.csv_text import guarded
from notchbook.writing.bars import bar_form
from notchbook.writing.draft import record_text
from notchbook.writing.given import common_of
from notchbook.writing.readings import records_in_file
from notchbook.writing.table_bars import record_of_table

BY_CHOICE = frozenset({
    "rig-known", "hammer-known", "exercise-known", "material-known", "hammer-method", "specimen-agrees",
    "specimen-arrangement", "break-type", "notch-and-remaining", "reading-present", "reading-scale", "scale-agreement",
})  # fmt: skip
"""What is chosen from lists, a bar with one reading and the fields that it needs cannot break."""
OF_OTHERS = frozenset({
    "copied-series", "copied-dimensions", "name-agrees", "group-spelling", "batch-spelling", "batch-mean",
    "conditioning-climate", "conditioning-hours", "dimension-apart", "same-dimensions", "same-remaining-width",
    "reading-digits", "free-swing-hammer", "day-loss", "watch-chart",
})  # fmt: skip
"""Told by other records, or by verifications beside the one in force, which a page does not hold."""
NOT_ASKED = frozenset({"reported-mean", "reported-spread", "reported-specimen", "no-break-strength"})
"""About what the group worked out itself, which no form at the bench asks for."""
AFTERWARDS = frozenset({"reading-steps", "set-outlier", "typical-strength", "exclusion-cause", "notes-exclude"})
"""Told by one session, and left to the check: they take tables of critical values and chances, or lists of words, that
are larger than all scripts of the page."""
MARKED = frozenset({"practice-set"})
"""About a mark that only the tables of practice sets have; nobody types it at the bench by chance."""
BESIDE = frozenset({
    "notch-radius", "clamp-torque", "clamp-present", "transfer-time", "zero-reading", "conditioning-state",
})  # fmt: skip
"""About what is measured before or beside the session, and added to the file."""


def test_every_rule_of_a_record_is_told_at_the_bench_or_is_not_for_a_reason() -> None:
    known = [check.rule.id for check in RECORD_CHECKS]
    reasons = [*BENCH_RULES, *BY_CHOICE, *OF_OTHERS, *NOT_ASKED, *AFTERWARDS, *MARKED, *BESIDE]
    assert sorted(set(known)) == sorted(reasons)


@pytest.fixture(scope="module")
def ran(cases: list[Case], job: dict[str, Any]) -> dict[str, Any]:
    return node.run({**job, "filed": list(range(len(cases)))})


def test_scripts_say_what_the_engine_says(ran: dict[str, Any], cases: list[Case]) -> None:
    told = [f"{cases[each['place']].session}: {each['why']}" for each in ran["differing"]]
    assert told == []
    assert ran["calls"] == []


def test_cases_break_every_rule_and_none(job: dict[str, Any]) -> None:
    """Both kinds of scale, each rule, each refusal, and sessions of which nothing is said."""
    expected = [each["expected"] for each in job["cases"]]
    told = {each[0] for said in expected for each in (*said.get("findings", ()), *said["refused"])}
    assert told - {"key-missing"} == (set(BENCH_RULES) - {"repeated-readings"}) | {
        "value-form", "value-range", "value-type", "date-real",
    }  # fmt: skip
    assert any(said.get("repeats") for said in expected)
    assert sum(not said.get("findings", True) for said in expected) > 100
    assert {rig["reads"] for data in job["datas"] for rig in data["rigs"].values()} == {"angle", "energy"}


def test_file_holds_what_was_typed(ran: dict[str, Any], cases: list[Case], job: dict[str, Any]) -> None:
    order = list(schema("test")["properties"])
    of_bar = list(schema("test")["properties"]["specimens"]["items"]["properties"])
    seen = 0
    for case, written, told in zip(cases, ran["files"], job["cases"], strict=True):
        assert (written["yaml"] is None) == bool(told["expected"]["refused"])
        if written["yaml"] is None:
            continue
        data, flaws = parse(written["yaml"])
        assert not flaws
        assert data == case.bench.file(case.session)
        assert list(data) == [key for key in order if key in data]
        assert all(list(bar) == [key for key in of_bar if key in bar] for bar in data["specimens"])
        seen += 1
    assert seen > 500


def test_table_holds_readings_and_results(ran: dict[str, Any], cases: list[Case], job: dict[str, Any]) -> None:
    for case, written, told in zip(cases, ran["files"], job["cases"], strict=True):
        rows = list(csv.DictReader(io.StringIO(written["csv"])))
        assert [row["specimen"] for row in rows] == [guarded(bar.get("id", "")) for bar in case.session.touched]
        for row, bar in zip(rows, case.session.touched, strict=True):
            assert all(float(row[name]) == float(bar[name]) for name in DIMENSIONS if bar.get(name))
        for row, found in zip(rows, told["expected"].get("bars", ()), strict=False):
            strength = float(row["strength_kJ_m2"]) if row["strength_kJ_m2"] else None
            assert strength == (None if found[3] is None else pytest.approx(found[3], rel=1e-9, abs=1e-9))


def test_table_is_imported_as_the_record_that_was_typed(ran: dict[str, Any], cases: list[Case]) -> None:
    """One case in ten: what is read back is the worksheet's own record, digit by digit, without an option."""
    seen = 0
    for case, written in list(zip(cases, ran["files"], strict=True))[::10]:
        if written["yaml"] is None:
            continue
        wanted, _ = parse(written["yaml"])
        if len({bar["id"] for bar in wanted["specimens"]}) < len(wanted["specimens"]):
            continue  # the import refuses two bars of one mark, which the check would
        rig = case.bench.handbook.library.rigs.get(wanted["rig"])
        (sheet,) = records_in_file(written["csv"].encode(), ()).sheets
        form = bar_form(case.bench.exercise, case.bench.method, rig)
        draft = record_of_table(sheet, common_of(sheet, {}, ()), form, case.bench.exercise.specimen)
        assert draft.troubles == [], case.session
        assert parse(record_text(draft.values))[0] == wanted
        seen += 1
    assert seen > 50


def test_name_of_the_file_is_an_id(ran: dict[str, Any], cases: list[Case]) -> None:
    for case, written in zip(cases, ran["files"], strict=True):
        stem = written["name"].removesuffix(".yaml")
        assert re.fullmatch(schema("test")["properties"]["exercise"]["pattern"], stem)
        assert stem.endswith(case.bench.exercise.id)
