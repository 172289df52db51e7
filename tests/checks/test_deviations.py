"""Declared departures from a method: refused or labelled, needed or not, and what can never be declared."""

from typing import Literal

import pytest

from conftest import Bench
from notchbook.findings import Finding
from notchbook.handbook import RULES

RIG_1 = "procedures/rigs/rig-1.yaml"
PP_H, POM = "results/tests/2026-10-06-g2-pp-h.yaml", "results/tests/2026-10-13-g3-pom.yaml"
POM_ID = "2026-10-13-g3-pom"
IZOD_RECORD, IZOD_EXERCISE = "results/tests/2026-11-03-g2-pp-h-izod.yaml", "procedures/exercises/notched-izod.yaml"
IZOD_CHECK = "results/verifications/2026-09-10-rig-1-izod-1.yaml"


def declaration(rule: str, key: str = "deviations") -> str:
    return f"{key}: [{{rule: {rule}, reason: Older supports., accepted_by: LT-1}}]\n"


def lines(findings: list[Finding] | tuple[Finding, ...]) -> list[tuple[str, int, str, str]]:
    return [(each.path, each.line, str(each.severity), each.rule) for each in findings]


def short_conditioning(bench: Bench) -> None:
    bench.change(POM, ("hours: 24", "hours: 12"))


def test_refuse_keeps_a_declared_departure_an_error_and_says_why(bench: Bench) -> None:
    short_conditioning(bench)
    bench.add(POM, declaration("conditioning"))
    (found,) = bench.open("refuse").findings
    assert (found.rule, found.severity) == ("conditioning", "error")
    assert "this handbook refuses deviations" in found.hint


def test_label_turns_a_declared_departure_into_a_note(bench: Bench) -> None:
    short_conditioning(bench)
    bench.add(POM, declaration("conditioning"))
    handbook = bench.open("label")
    (found,) = handbook.findings
    assert (found.rule, found.severity, found.line) == ("conditioning", "note", 9)
    assert found.message.startswith("declared deviation: the time is 12 h")
    verdict = handbook.verdicts.records[POM_ID]
    assert not verdict.conforms
    assert [each.rule for each in verdict.deviations] == ["conditioning"]


def test_label_keeps_a_departure_that_was_not_declared_an_error(bench: Bench) -> None:
    short_conditioning(bench)
    bench.add(POM, declaration("test-atmosphere"))
    found = bench.open("label").findings
    assert lines(found) == [(POM, 9, "error", "conditioning"), (POM, 20, "warning", "deviation-unused")]


@pytest.mark.parametrize("treatment", ["refuse", "label"])
def test_declaration_that_nothing_calls_for_is_a_warning(bench: Bench, treatment: Literal["refuse", "label"]) -> None:
    bench.add(POM, declaration("conditioning"))
    handbook = bench.open(treatment)
    assert lines(handbook.findings) == [(POM, 20, "warning", "deviation-unused")]
    verdict = handbook.verdicts.records[POM_ID]
    assert verdict.conforms
    assert verdict.deviations == ()


@pytest.mark.parametrize("rule", sorted(rule.id for rule in RULES.values() if not rule.declarable))
def test_rules_that_may_not_be_declared(bench: Bench, rule: str) -> None:
    bench.add(POM, declaration(rule))
    (found,) = bench.open("label").findings
    assert lines([found]) == [(POM, 20, "error", "deviation-rule")]
    assert "declared" in found.message


@pytest.mark.parametrize("rule", sorted(rule.id for rule in RULES.values() if rule.declarable))
def test_rules_that_may_be_declared(bench: Bench, rule: str) -> None:
    bench.add(POM, declaration(rule))
    assert lines(bench.open("label").findings) == [(POM, 20, "warning", "deviation-unused")]


def test_contradiction_stays_an_error_beside_what_is_declared(bench: Bench) -> None:
    short_conditioning(bench)
    bench.change(POM, ("rise_angle_deg: 80.0", "rise_angle_deg: 98.0"))
    bench.add(POM, declaration("conditioning"))
    assert lines(bench.open("label").findings) == [
        (POM, 9, "note", "conditioning"),
        (POM, 17, "error", "rise-angle"),
    ]


def test_one_rule_declared_covers_every_bar_that_breaks_it(bench: Bench) -> None:
    bench.change(POM, ("width_mm: 10.01", "width_mm: 10.25"), ("width_mm: 10.03", "width_mm: 10.26"))
    bench.add(POM, declaration("specimen-width"))
    assert lines(bench.open("label").findings) == [
        (POM, 13, "note", "specimen-width"),
        (POM, 14, "note", "specimen-width"),
    ]


def older_supports(bench: Bench) -> None:
    # A span of 60 mm is in use where ISO 179-1, Table 1, asks for 62 (+0.5/0) mm; see test_messages.py.
    bench.change(RIG_1, ("span_mm: 62.2", "span_mm: 60.0"))


def test_rig_on_which_every_record_declares_its_span_has_no_error(bench: Bench) -> None:
    older_supports(bench)
    bench.add(PP_H, declaration("support-span"))
    bench.add(POM, declaration("support-span"))
    handbook = bench.open("label")
    assert lines(handbook.findings) == [
        (RIG_1, 6, "note", "support-span"),
        (PP_H, 5, "note", "support-span"),
        (POM, 5, "note", "support-span"),
    ]
    assert not handbook.verdicts.records[POM_ID].conforms
    # The clamp of the same rig is as it should be, and so is the other rig.
    assert handbook.verdicts.records["2026-11-03-g2-pp-h-izod"].conforms
    assert handbook.verdicts.records["2027-01-12-g4-pp-h-unnotched"].conforms


def test_rig_on_which_one_record_does_not_declare_its_span_has_an_error_at_both(bench: Bench) -> None:
    older_supports(bench)
    bench.add(PP_H, declaration("support-span"))
    found = bench.open("label").findings
    assert lines(found) == [
        (RIG_1, 6, "error", "support-span"),
        (PP_H, 5, "note", "support-span"),
        (POM, 5, "error", "support-span"),
    ]
    assert found[2].message.startswith("rig 'rig-1': the span is 60 mm")
    assert found[2].hint.endswith("or declare the deviation in this record")


def test_rig_that_no_record_rests_on_has_an_error(bench: Bench) -> None:
    older_supports(bench)
    (bench.root / PP_H).unlink()
    (bench.root / POM).unlink()
    assert lines(bench.open("label").findings) == [(RIG_1, 6, "error", "support-span")]


CHARPY_EXERCISES = ("procedures/exercises/notched-charpy.yaml", "procedures/exercises/unnotched-charpy.yaml")


def accept(bench: Bench, rule: str, *exercises: str) -> None:
    for each in exercises:
        bench.add(each, declaration(rule, "accepted_deviations"))


def test_rig_before_its_first_record_has_no_error_where_every_exercise_accepts(bench: Bench) -> None:
    older_supports(bench)
    (bench.root / PP_H).unlink()
    (bench.root / POM).unlink()
    accept(bench, "support-span", CHARPY_EXERCISES[0])
    assert lines(bench.open("label").findings) == [(RIG_1, 6, "error", "support-span")]
    accept(bench, "support-span", CHARPY_EXERCISES[1])
    (found,) = bench.open("label").findings
    assert lines([found]) == [(RIG_1, 6, "note", "support-span")]
    assert found.hint == "every exercise with it accepts the deviation"
    assert lines(bench.open("refuse").findings) == [(RIG_1, 6, "error", "support-span")]


def test_unused_hammer_has_no_error_where_every_exercise_accepts(bench: Bench) -> None:
    # 2.05 J of the nominal 2 J; ISO 13802:1999, 5.2, allows 1 % (from memory)
    heavier = "nominal_energy_J: 2.0\n    added_masses: [{mass_kg: 0.251"
    bench.change(RIG_1, ("nominal_energy_J: 2.0\n    added_masses: [{mass_kg: 0.23906", heavier))
    found = bench.open("label").findings
    assert {(str(each.severity), each.rule) for each in found} == {("error", "nominal-energy")}
    accept(bench, "nominal-energy", *CHARPY_EXERCISES)
    found = bench.open("label").findings
    assert {(each.path, str(each.severity), each.rule) for each in found} == {(RIG_1, "note", "nominal-energy")}


def test_verification_before_its_first_record_is_accepted_by_every_exercise(bench: Bench) -> None:
    bench.change(IZOD_CHECK, ("strike_height_mm: 22.1", "strike_height_mm: 22.4"))
    (bench.root / IZOD_RECORD).unlink()
    assert lines(bench.open("label").findings) == [(IZOD_CHECK, 7, "error", "strike-height")]
    accept(bench, "strike-height", IZOD_EXERCISE)
    assert lines(bench.open("label").findings) == [(IZOD_CHECK, 7, "note", "strike-height")]


def test_departure_of_an_edge_concerns_the_hammers_built_on_it(bench: Bench) -> None:
    bench.change(RIG_1, ("radius_mm: 2.0, angle_deg: 30", "radius_mm: 2.6, angle_deg: 30"))
    bench.change(POM, ("hammer: charpy-1", "hammer: charpy-2"))
    verdict = bench.open("label").verdicts.records[POM_ID]
    assert not verdict.conforms
    found = bench.findings("striking-edge", "label")
    assert lines(found) == [
        (RIG_1, 15, "error", "striking-edge"), (PP_H, 5, "error", "striking-edge"), (POM, 5, "error", "striking-edge"),
    ]  # fmt: skip


def test_refuse_tells_a_departure_of_the_rig_at_the_rig_alone(bench: Bench) -> None:
    older_supports(bench)
    bench.add(POM, declaration("support-span"))
    assert lines(bench.open("refuse").findings) == [(RIG_1, 6, "error", "support-span")]


def test_departure_of_one_hammer_concerns_its_records_alone(bench: Bench) -> None:
    bench.change(RIG_1, ("striking_edge: {radius_mm: 0.8}", "striking_edge: {radius_mm: 1.1}"))
    bench.add(IZOD_RECORD, declaration("striking-edge"))
    assert lines(bench.open("label").findings) == [
        (RIG_1, 30, "note", "striking-edge"),
        (IZOD_RECORD, 5, "note", "striking-edge"),
    ]


def test_departure_of_the_verification_in_force_is_declared_by_the_record(bench: Bench) -> None:
    bench.change(IZOD_CHECK, ("strike_height_mm: 22.1", "strike_height_mm: 22.4"))
    undeclared = bench.open("label").findings
    assert lines(undeclared) == [
        (IZOD_RECORD, 2, "error", "strike-height"),
        (IZOD_CHECK, 7, "error", "strike-height"),
    ]
    bench.add(IZOD_RECORD, declaration("strike-height"))
    handbook = bench.open("label")
    assert {each.severity for each in handbook.findings} == {"note"}
    assert not handbook.verdicts.records["2026-11-03-g2-pp-h-izod"].conforms


def test_missing_verification_can_be_declared(bench: Bench) -> None:
    (bench.root / IZOD_CHECK).unlink()
    bench.add(IZOD_RECORD, declaration("verification-in-force"))
    assert lines(bench.open("label").findings) == [(IZOD_RECORD, 2, "note", "verification-in-force")]


def test_exercise_accepts_for_all_its_records(bench: Bench) -> None:
    bench.change(IZOD_RECORD, ("hours: 16", "hours: 2"))
    bench.add(IZOD_EXERCISE, declaration("conditioning", "accepted_deviations"))
    handbook = bench.open("label")
    assert lines(handbook.findings) == [(IZOD_RECORD, 9, "note", "conditioning")]
    (deviation,) = handbook.verdicts.records["2026-11-03-g2-pp-h-izod"].deviations
    assert (deviation.rule, deviation.accepted_by) == ("conditioning", "LT-1")
    assert [each.rule for each in bench.errors("refuse")] == ["conditioning"]


def test_exercise_does_not_accept_what_may_not_be_declared(bench: Bench) -> None:
    bench.add(IZOD_EXERCISE, declaration("rise-angle", "accepted_deviations"))
    assert lines(bench.open("label").findings) == [(IZOD_EXERCISE, 19, "error", "deviation-rule")]


def test_record_and_exercise_declaring_the_same_rule_are_shown_once(bench: Bench) -> None:
    bench.change(IZOD_RECORD, ("hours: 16", "hours: 2"))
    bench.add(IZOD_RECORD, declaration("conditioning").replace("LT-1", "LT-9"))
    bench.add(IZOD_EXERCISE, declaration("conditioning", "accepted_deviations"))
    (deviation,) = bench.open("label").verdicts.records["2026-11-03-g2-pp-h-izod"].deviations
    assert deviation.accepted_by == "LT-9"
