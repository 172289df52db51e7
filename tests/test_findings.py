"""Findings: their order, their words, and the four forms they are printed in."""

import json
import os
import re
import sys
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft4Validator, Draft202012Validator

from notchbook import __version__
from notchbook.findings import (
    RENDERINGS,
    Finding,
    Rule,
    Severity,
    as_github,
    as_json,
    as_sarif,
    as_text,
    count,
    printable,
    summary,
)
from notchbook.handbook import RULES

ALL_RULES = list(RULES.values())
SARIF_SCHEMA = Path(sys.prefix) / "axe/node_modules/@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json"
SCHEMA = Draft202012Validator(
    json.loads((Path(__file__).resolve().parents[1] / "schema/outputs/findings.schema.json").read_text("utf-8"))
)
TEXTS = st.text(st.characters(exclude_categories=["Cs"]), max_size=30)
FINDINGS = st.builds(
    Finding,
    rule=st.sampled_from(list(RULES)),
    severity=st.sampled_from(list(Severity)),
    path=TEXTS,
    line=st.integers(1, 9999),
    column=st.integers(1, 9999),
    message=TEXTS,
    hint=TEXTS,
)


def finding(**changes):
    values = {
        "rule": "value-type", "severity": Severity.ERROR, "path": "results/tests/a.yaml", "line": 3, "column": 7,
        "message": "'x' is wrong", "hint": "mend it",
    }  # fmt: skip
    return Finding(**values | changes)


def test_a_finding_is_one_line_as_the_contract_has_it():
    assert str(finding()) == "results/tests/a.yaml:3:7: error: 'x' is wrong; mend it [value-type]"
    assert str(finding(hint="", severity=Severity.NOTE)).endswith("7: note: 'x' is wrong [value-type]")


@pytest.mark.parametrize("form", RENDERINGS)
@pytest.mark.parametrize(
    "path", ["\udcff.yaml", "::error::x/a.yaml", "##[group]x/a.yaml", "a\u2028::error::x", "\x0c::x"]
)
def test_path_that_is_no_text_or_a_command_is_printed_as_text(form, path):
    text = RENDERINGS[form]([finding(path=path, message=path, hint=path)], ALL_RULES)
    text.encode("utf-8")
    assert "##[" not in text
    assert all(line.isprintable() for line in text.split("\n"))
    assert form == "github" or not re.search(r"^\s*::", text, re.MULTILINE)
    assert form != "github" or (text.startswith("::error file=") and text.count("\n") == 1)


def test_findings_are_ordered_by_place_then_by_weight():
    ordered = [
        finding(path="a", line=9),
        finding(path="b", line=1, column=2),
        finding(path="b", line=1, column=10),
        finding(path="b", line=2, severity=Severity.ERROR, rule="z"),
        finding(path="b", line=2, severity=Severity.WARNING, rule="a"),
        finding(path="b", line=2, severity=Severity.NOTE, rule="a"),
        finding(path="b", line=10),
    ]
    shuffled = ordered[3:] + ordered[:3]
    assert sorted(shuffled, key=lambda each: each.order) == ordered


@pytest.mark.parametrize(
    ("character", "escape"),
    [
        ("\n", "\\n"), ("\r", "\\r"), ("\t", "\\t"), ("\x1b", "\\x1b"), ("\x07", "\\x07"), ("\x85", "\\x85"),
        ("\u2028", "\\u2028"), ("\u202e", "\\u202e"), ("\u2066", "\\u2066"), ("\u200b", "\\u200b"),
        ("\ufeff", "\\ufeff"),
        ("\U000e0041", "\\U000e0041"), ("\udc80", "\\udc80"),
    ],
)  # fmt: skip
def test_characters_that_move_the_cursor_or_turn_the_writing_are_shown(character, escape):
    assert printable(f"a{character}b") == f"a{escape}b"
    text = str(finding(message=f"a{character}b", path=f"p{character}q"))
    assert text == f"p{escape}q:3:7: error: a{escape}b; mend it [value-type]"


@pytest.mark.parametrize("text", ["Prüfung 4 ± 0.2 mm", "−1 °C", "漢字", "😀", ""])
def test_what_can_be_read_stays_as_it_is(text):
    assert printable(text) == text


@given(st.lists(FINDINGS, max_size=4))
def test_text_has_one_line_a_finding_whatever_it_holds(findings):
    assert len(as_text(findings, ALL_RULES).splitlines()) == len(findings)
    assert as_text(findings, ALL_RULES).count("\n") == len(findings)


@given(st.lists(FINDINGS, max_size=4))
def test_json_gives_back_every_value(findings):
    data = json.loads(as_json(findings, ALL_RULES))
    assert [Finding(**row | {"severity": Severity(row["severity"])}) for row in data["findings"]] == findings
    assert data["summary"] == count(findings)
    assert sum(data["summary"].values()) == len(findings)
    SCHEMA.validate(data)


def test_annotations_have_the_form_of_workflow_commands():
    findings = [finding(), finding(severity=Severity.WARNING, hint=""), finding(severity=Severity.NOTE, line=4)]
    assert as_github(findings, ALL_RULES).splitlines() == [
        "::error file=results/tests/a.yaml,line=3,col=7,title=value-type::'x' is wrong; mend it",
        "::warning file=results/tests/a.yaml,line=3,col=7,title=value-type::'x' is wrong",
        "::notice file=results/tests/a.yaml,line=4,col=7,title=value-type::'x' is wrong; mend it",
    ]


def test_annotations_escape_what_would_end_a_value():
    # workflow commands: %, CR and LF in data; also : and , in properties (toolkit of the runner, command.ts)
    line = as_github([finding(path="a,b:c%d\n.yaml", message="50 %\n::error::x", hint="")], ALL_RULES)
    assert line == "::error file=a%2Cb%3Ac%25d%0A.yaml,line=3,col=7,title=value-type::50 %25\\n::error::x\n"


@given(st.lists(FINDINGS, max_size=4))
def test_annotations_have_one_line_and_one_command_a_finding(findings):
    lines = as_github(findings, ALL_RULES).split("\n")
    assert len(lines) == len(findings) + 1
    form = re.compile(r"::(error|warning|notice) file=[^,:]*,line=\d+,col=\d+,title=[a-z-]+::")
    assert all(form.match(line) for line in lines[:-1])
    assert all("\r" not in line for line in lines)


@given(st.lists(FINDINGS, max_size=4))
def test_sarif_has_the_form_of_its_standard(findings):
    # Static Analysis Results Interchange Format, OASIS standard 2.1.0; the section stands beside each property
    log = json.loads(as_sarif(findings, ALL_RULES))
    assert log["version"] == "2.1.0"  # 3.13.2
    assert "sarif-2.1.0" in log["$schema"]  # 3.13.3
    (run,) = log["runs"]  # 3.13.4
    assert run["columnKind"] == "unicodeCodePoints"  # 3.14.17
    driver = run["tool"]["driver"]  # 3.18.2
    assert (driver["name"], driver["version"]) == ("notchbook", __version__)  # 3.19.8, 3.19.13
    ids = [rule["id"] for rule in driver["rules"]]  # 3.49.3
    assert len(set(ids)) == len(ids)  # 3.19.23: unique
    assert all(rule["shortDescription"]["text"] and rule["fullDescription"]["text"] for rule in driver["rules"])
    assert all(rule["help"]["text"] for rule in driver["rules"])  # 3.49, help
    assert len(run["results"]) == len(findings)
    for result, each in zip(run["results"], findings, strict=True):
        assert ids[result["ruleIndex"]] == result["ruleId"] == each.rule  # 3.27.5, 3.27.6
        assert result["level"] in {"error", "warning", "note"}  # 3.27.10
        assert result["message"]["text"] == each.text  # 3.27.11
        (location,) = result["locations"]  # 3.27.12
        place = location["physicalLocation"]
        uri = place["artifactLocation"]["uri"]  # 3.4.3: a valid URI reference
        assert re.fullmatch(r"[A-Za-z0-9\-._~/%]*", uri)
        assert place["region"] == {"startLine": each.line, "startColumn": each.column}  # 3.30.5, 3.30.6


@given(st.lists(FINDINGS, max_size=4))
@settings(max_examples=15)  # all rules are in each
def test_sarif_is_valid_by_its_published_schema(findings):
    # the schema of the OASIS standard as the package of another program brings it; `make test` fetches it
    if not SARIF_SCHEMA.is_file():
        if os.environ.get("CI") == "true":
            pytest.fail("the schema of SARIF is not at hand")
        pytest.skip("the schema of SARIF is not at hand: `make test` fetches it where there is npm")
    Draft4Validator(json.loads(SARIF_SCHEMA.read_text("utf-8"))).validate(json.loads(as_sarif(findings, ALL_RULES)))


def test_levels_of_sarif_follow_the_severity():
    findings = [finding(severity=each) for each in Severity]
    results = json.loads(as_sarif(findings, ALL_RULES))["runs"][0]["results"]
    assert [each["level"] for each in results] == ["error", "warning", "note"]


def test_every_rule_has_what_a_reader_asks():
    for name, rule in RULES.items():
        assert name == rule.id
        assert re.fullmatch(r"[a-z]+(-[a-z]+)*", rule.id)
        assert rule.title
        assert rule.why.endswith(".")
        assert rule.basis
        assert not rule.title.endswith(".")


def test_the_summary_speaks_of_one_and_of_many():
    many = [finding(), finding(), finding(severity=Severity.WARNING)]
    assert summary(many, 41) == "2 errors, 1 warning, 0 notes in 41 files"
    assert summary([finding(severity=Severity.NOTE)], 1) == "0 errors, 0 warnings, 1 note in 1 file"


def test_nothing_found_is_still_a_whole_answer():
    assert as_text([], ALL_RULES) == ""
    assert as_github([], ALL_RULES) == ""
    assert json.loads(as_json([], ALL_RULES))["findings"] == []
    assert json.loads(as_sarif([], ALL_RULES))["runs"][0]["results"] == []
    assert set(RENDERINGS) == {"text", "json", "github", "sarif"}


def test_a_rule_is_an_error_that_cannot_be_declared_unless_it_says_otherwise():
    rule = Rule("a", "b", "c", "d", "e")
    assert (rule.severity, rule.declarable) == (Severity.ERROR, False)
