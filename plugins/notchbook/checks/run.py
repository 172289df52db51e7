"""Every check run over a library, departures from a method weighed against what was declared."""

import datetime as dt
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from functools import partial
from typing import Literal, TypeVar

from notchbook.checks import registry, verdict
from notchbook.checks.bar_tables import bar_tables
from notchbook.checks.batch_tables import batches_of
from notchbook.checks.customs import climates_of, dimension_habits, names_of
from notchbook.checks.equipment import Equipment, Found, Inherited
from notchbook.checks.likeness import find_likenesses
from notchbook.checks.subject import (
    Check,
    Complaint,
    ExerciseCase,
    HazardsCase,
    MaterialCase,
    MethodCase,
    RecordCase,
    RigCase,
    Surroundings,
    SwingsCase,
    VerificationCase,
)
from notchbook.checks.verdict import Placed, Verdict, Verdicts
from notchbook.evaluation.library import Evaluation
from notchbook.evaluation.resolved import ResolvedRecord
from notchbook.findings import Rule, Severity
from notchbook.model.library import Library
from notchbook.model.procedure import Deviation
from notchbook.model.record import Record
from notchbook.model.swings import SwingsRecord
from notchbook.unchanged import Unchanged, made

Treatment = Literal["refuse", "label"]
_Case = TypeVar("_Case")


def run_checks(
    library: Library,
    evaluation: Evaluation,
    today: dt.date,
    treatment: Treatment,
    advance: Callable[[], None] = lambda: None,
    unchanged: Unchanged | None = None,
) -> Verdicts:
    """Run every check.

    Arguments:
        library: what was read.
        evaluation: what was computed from it.
        today: the day after which a date is in the future.
        treatment: whether a declared departure from a method is refused or labelled.
        advance: called once for each record, for a progress bar.
        unchanged: what the caller holds of earlier runs, where the same handbook is checked again and again.
    """
    around = _surroundings(library, evaluation, today)
    verdicts = Verdicts()
    _check_procedures(around, verdicts)
    rigs = {
        rig.id: _find(registry.RIG_CHECKS, RigCase(rig, evaluation.hammers_of(rig.id), around))
        for rig in library.rigs.values()
    }
    verifications = {
        each.id: _find_fitted(VerificationCase.of(evaluation, each, around=around))
        for each in library.verifications.values()
    }
    equipment = Equipment(rigs, verifications, evaluation)
    for record in library.records.values():
        resolved = ResolvedRecord.of(evaluation, record)
        alone = partial(_find, registry.CHECKS_OF_A_RECORD_ALONE, resolved)
        found = made(unchanged, ("checks", record.id), resolved, alone)
        _judge_record(record, found, around, equipment, treatment, verdicts)
        advance()
    for rig_id, found in rigs.items():
        verdicts.placed += _place_equipment("rig", rig_id, found, equipment, treatment)
    for verification_id, found in verifications.items():
        placed = verdict.weighed(
            _place_equipment("verification", verification_id, found, equipment, treatment),
            ("verification", verification_id),
            library.verifications[verification_id].acknowledged,
            registry.VERIFICATION_RULES,
        )
        verdicts.placed += placed
        verdicts.verifications[verification_id] = all(each.rule.severity is not Severity.ERROR for each in placed)
    for swings in library.swings.values():
        _judge_swings(swings, around, verdicts)
    return verdicts


def _judge_swings(record: SwingsRecord, around: Surroundings, verdicts: Verdicts) -> None:
    found = _find(registry.SWINGS_CHECKS, SwingsCase.of(around.evaluation, record, around=around))
    placed = [Placed("swings", record.id, rule, rule.severity, complaint) for rule, complaint in found]
    placed = verdict.weighed(placed, ("swings", record.id), record.acknowledged, registry.SWINGS_RULES)
    verdicts.placed += placed
    verdicts.swings[record.id] = all(each.rule.severity is not Severity.ERROR for each in placed)


def _surroundings(library: Library, evaluation: Evaluation, today: dt.date) -> Surroundings:
    tables = bar_tables(library.records.values(), evaluation.scales)
    return Surroundings(
        library,
        evaluation,
        today,
        tables,
        find_likenesses(tables),
        dimension_habits(tables),
        climates_of(library),
        batches_of(library, evaluation),
        names_of(library),
    )


def _find(checks: Iterable[Check[_Case]], case: _Case) -> Found:
    return [(check.rule, complaint) for check in checks for complaint in check.find(case)]


def _find_fitted(case: VerificationCase) -> Found:
    """What is wrong with a verification, held against each method of its hammer; once what is so for all of them."""
    by_method = {
        each.hammer.method if each.hammer is not None else None: _find(registry.VERIFICATION_CHECKS, each)
        for each in case.for_each_fitting(case.around.library.methods)
    }
    told: dict[tuple[Rule, Complaint], list[str | None]] = {}
    for method, found in by_method.items():
        for each in found:
            told.setdefault(each, []).append(method)
    return [
        (rule, replace(complaint, method=method))
        for (rule, complaint), methods in told.items()
        for method in ([None] if len(methods) == len(by_method) else methods)
    ]


def _check_procedures(around: Surroundings, verdicts: Verdicts) -> None:
    library = around.library

    def place(kind: str, object_id: str, found: Found) -> None:
        verdicts.placed += [Placed(kind, object_id, rule, rule.severity, complaint) for rule, complaint in found]

    for method in library.methods.values():
        place("method", method.id, _find(registry.METHOD_CHECKS, MethodCase(method, around)))
    for material in library.materials.values():
        place("material", material.id, _find(registry.MATERIAL_CHECKS, MaterialCase(material, around)))
    place("hazards", "hazards", _find(registry.HAZARDS_CHECKS, HazardsCase(around)))
    for exercise in library.exercises.values():
        case = ExerciseCase(exercise, library.methods.get(exercise.method), around)
        place("exercise", exercise.id, _find(registry.EXERCISE_CHECKS, case))
        declared = verdict.undeclarable("accepted_deviations", exercise.accepted_deviations, registry.RULES)
        place("exercise", exercise.id, [(verdict.DEVIATION_RULE, each) for each in declared])


def _judge_record(
    record: Record,
    alone: Found,
    around: Surroundings,
    equipment: Equipment,
    treatment: Treatment,
    verdicts: Verdicts,
) -> None:
    case = RecordCase.of(around.evaluation, record, around=around)
    own = alone + _find(registry.CHECKS_OF_A_RECORD_AMONG_OTHERS, case)
    inherited = equipment.inherited(case)
    declarations = record.deviations + (case.exercise.accepted_deviations if case.exercise is not None else ())
    declared = {each.rule for each in declarations}
    departures = [each for each in inherited if each.rule.declarable]
    departing = {rule.id for rule, _ in own if rule.declarable} | {each.rule.id for each in departures}
    # what only warns departs from the method where the record says that it does
    broken = {rule for rule in departing if rule in declared or registry.RULES[rule].severity is Severity.ERROR}
    placed = [_weighed("test", record.id, rule, complaint, treatment, rule.id in declared) for rule, complaint in own]
    placed = verdict.weighed(placed, ("test", record.id), record.acknowledged, registry.RECORD_RULES)
    for each in inherited:
        equipment.note_user(each, record.id, declared=each.rule.id in declared)
    for each in departures:
        if treatment == "label":
            is_declared = each.rule.id in declared
            placed.append(_weighed("test", record.id, each.rule, each.carried, treatment, is_declared))
    wrong = verdict.undeclarable("deviations", record.deviations, registry.RULES)
    placed += [Placed("test", record.id, verdict.DEVIATION_RULE, Severity.ERROR, each) for each in wrong]
    # where the rig cannot be read, nobody knows what departs from the method
    idle = verdict.unused_deviations(record.deviations, broken, registry.RULES) if case.method is not None else ()
    placed += [Placed("test", record.id, verdict.DEVIATION_UNUSED, Severity.WARNING, each) for each in idle]
    verdicts.placed += placed
    errors = bool(inherited) or any(each.rule.severity is Severity.ERROR for each in placed)
    labelled = tuple(each for each in _once(declarations) if each.rule in broken)
    verdicts.records[record.id] = Verdict(not errors and not broken, labelled)


def _once(declarations: tuple[Deviation, ...]) -> list[Deviation]:
    """Each rule's first declaration: the record's own before that of its exercise."""
    return list({each.rule: each for each in reversed(declarations)}.values())[::-1]


def _weighed(
    kind: str, object_id: str, rule: Rule, complaint: Complaint, treatment: Treatment, declared: bool
) -> Placed:
    """The complaint at the weight that the handbook gives a declared departure."""
    if not (declared and rule.declarable):
        return Placed(kind, object_id, rule, rule.severity, complaint)
    if treatment == "label":
        told = replace(complaint, message=f"declared deviation: {complaint.message}", hint="")
        return Placed(kind, object_id, rule, Severity.NOTE, told, declared=True)
    hint = (
        "the record declares it, but this handbook refuses deviations (mkdocs.yml: `deviations: label` publishes them)"
    )
    return Placed(kind, object_id, rule, rule.severity, replace(complaint, hint=hint))


def _place_equipment(
    kind: str, object_id: str, found: Found, equipment: Equipment, treatment: Treatment
) -> Iterator[Placed]:
    for rule, complaint in found:
        departure = Inherited(kind, object_id, rule, complaint)
        declared_by = equipment.declared_by(departure) if treatment == "label" and rule.declarable else ""
        severity = Severity.NOTE if declared_by else rule.severity
        told = replace(complaint, hint=declared_by or complaint.hint + equipment.resting(departure))
        yield Placed(kind, object_id, rule, severity, told, declared=bool(declared_by))
