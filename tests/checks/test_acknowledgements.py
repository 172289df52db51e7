"""Acknowledged warnings: notes from then on, and nothing else ever is."""

import pytest

from conftest import Bench
from notchbook.checks.registry import RECORD_RULES, RULES, VERIFICATION_RULES
from notchbook.findings import Severity

POM, POM_ID = "results/tests/2026-10-13-g3-pom.yaml", "2026-10-13-g3-pom"
CHECKED = "results/verifications/2026-09-10-rig-1-charpy-1.yaml"
OF_RECORDS = sorted(each.id for each in RECORD_RULES.values() if each.severity is Severity.WARNING)
OF_VERIFICATIONS = sorted(each.id for each in VERIFICATION_RULES.values() if each.severity is Severity.WARNING)


def acknowledgement(rule: str, reason: str = "Looked at again.", by: str = "LT-1") -> str:
    return f"acknowledged: [{{rule: {rule}, reason: {reason}, by: {by}}}]\n"


def excluded_for_its_value(bench: Bench) -> None:
    bench.change(POM, ("void in the broken face", "value too high"))


def test_acknowledged_warning_is_a_note_that_says_by_whom_and_why(bench: Bench) -> None:
    excluded_for_its_value(bench)
    (before,) = bench.open().findings
    bench.add(POM, acknowledgement("exclusion-cause"))
    handbook = bench.open()
    (found,) = handbook.findings
    assert (before.severity, found.severity) == ("warning", "note")
    assert found.message == f"{before.message}; acknowledged by LT-1: Looked at again."
    assert (found.rule, found.line, found.column) == (before.rule, before.line, before.column)
    assert handbook.verdicts.records[POM_ID].conforms


def test_acknowledging_one_rule_leaves_the_warnings_of_the_others(bench: Bench) -> None:
    excluded_for_its_value(bench)
    bench.add(POM, "deviations: [{rule: conditioning, reason: Older supports., accepted_by: LT-1}]\n")
    bench.add(POM, acknowledgement("exclusion-cause"))
    assert [(each.rule, each.severity) for each in bench.open().findings] == [
        ("exclusion-cause", "note"),
        ("deviation-unused", "warning"),
    ]


def test_first_of_two_acknowledgements_of_a_rule_is_told(bench: Bench) -> None:
    excluded_for_its_value(bench)
    first, second = (f"{{rule: exclusion-cause, reason: {each}., by: LT-1}}" for each in ("First", "Second"))
    bench.add(POM, f"acknowledged: [{first}, {second}]\n")
    (found,) = bench.open().findings
    assert found.message.endswith("acknowledged by LT-1: First.")


@pytest.mark.parametrize("rule", OF_RECORDS)
def test_warnings_about_records_can_be_acknowledged(bench: Bench, rule: str) -> None:
    bench.add(POM, acknowledgement(rule))
    assert [(each.rule, each.severity) for each in bench.open().findings] == [("acknowledged-unused", "warning")]


@pytest.mark.parametrize("rule", OF_VERIFICATIONS)
def test_warnings_about_verifications_can_be_acknowledged(bench: Bench, rule: str) -> None:
    bench.add(CHECKED, acknowledgement(rule))
    assert [(each.rule, each.severity) for each in bench.open().findings] == [("acknowledged-unused", "warning")]


@pytest.mark.parametrize("rule", sorted(set(RULES) - set(OF_RECORDS)))
def test_nothing_else_about_a_record_can_be_acknowledged(bench: Bench, rule: str) -> None:
    bench.add(POM, acknowledgement(rule))
    handbook = bench.open()
    assert [(each.rule, each.severity) for each in handbook.findings] == [("acknowledged-rule", "error")]
    assert not handbook.verdicts.records[POM_ID].conforms


@pytest.mark.parametrize("treatment", ["refuse", "label"])
def test_errors_and_departures_stay_what_they_are(bench: Bench, treatment: str) -> None:
    bench.change(POM, ("hours: 24", "hours: 12"), ("rise_angle_deg: 80.0", "rise_angle_deg: 98.0"))
    bench.add(POM, "acknowledged:\n")
    for rule in ("conditioning", "rise-angle"):
        bench.add(POM, f"  - {{rule: {rule}, reason: Looked at again., by: LT-1}}\n")
    found = [(each.rule, each.severity) for each in bench.open(treatment).findings]
    assert found == [
        ("conditioning", "error"),
        ("rise-angle", "error"),
        ("acknowledged-rule", "error"),
        ("acknowledged-rule", "error"),
    ]


def test_error_of_a_verification_stays_one(bench: Bench) -> None:
    bench.add(CHECKED, acknowledgement("loss-limit"))
    handbook = bench.open()
    assert [(each.rule, each.severity) for each in handbook.findings] == [("acknowledged-rule", "error")]
    assert not handbook.verdicts.verifications["2026-09-10-rig-1-charpy-1"]
