"""All checks by what they look at, and all rules by their ids."""

from notchbook.checks import (
    batches,
    breaks,
    conditions,
    copies,
    dates,
    dimensions,
    exclusions,
    hammers,
    handling,
    loss_history,
    methods,
    names,
    patterns,
    people,
    practice,
    procedures,
    readings,
    references,
    reported,
    results,
    rigs,
    scale,
    series,
    specimens,
    swing_origin,
    swings,
    verdict,
    verifications,
    watch,
)
from notchbook.checks.subject import (
    Check,
    ExerciseCase,
    HazardsCase,
    MaterialCase,
    MethodCase,
    RecordCase,
    RigCase,
    SwingsCase,
    VerificationCase,
)
from notchbook.evaluation.resolved import ResolvedRecord
from notchbook.findings import Rule

METHOD_CHECKS: tuple[Check[MethodCase], ...] = methods.METHOD_CHECKS + people.METHOD_CHECKS
RIG_CHECKS: tuple[Check[RigCase], ...] = (
    references.RIG_CHECKS
    + dates.RIG_CHECKS
    + people.RIG_CHECKS
    + hammers.RIG_CHECKS
    + rigs.RIG_CHECKS
    + scale.RIG_CHECKS
)
MATERIAL_CHECKS: tuple[Check[MaterialCase], ...] = references.MATERIAL_CHECKS + procedures.MATERIAL_CHECKS
HAZARDS_CHECKS: tuple[Check[HazardsCase], ...] = procedures.HAZARDS_CHECKS
EXERCISE_CHECKS: tuple[Check[ExerciseCase], ...] = (
    references.EXERCISE_CHECKS + procedures.EXERCISE_CHECKS + people.EXERCISE_CHECKS
)
VERIFICATION_CHECKS: tuple[Check[VerificationCase], ...] = (
    references.VERIFICATION_CHECKS
    + names.VERIFICATION_CHECKS
    + dates.VERIFICATION_CHECKS
    + people.VERIFICATION_CHECKS
    + swings.BOTH_CHECKS
    + swing_origin.VERIFICATION_CHECKS
    + loss_history.VERIFICATION_CHECKS
    + verifications.VERIFICATION_CHECKS
)
RECORD_CHECKS: tuple[Check[RecordCase], ...] = (
    references.RECORD_CHECKS
    + names.RECORD_CHECKS
    + dates.RECORD_CHECKS
    + people.RECORD_CHECKS
    + specimens.RECORD_CHECKS
    + dimensions.RECORD_CHECKS
    + readings.RECORD_CHECKS
    + scale.RECORD_CHECKS
    + patterns.RECORD_CHECKS
    + swings.BOTH_CHECKS
    + swing_origin.RECORD_CHECKS
    + loss_history.RECORD_CHECKS
    + breaks.RECORD_CHECKS
    + exclusions.RECORD_CHECKS
    + results.RECORD_CHECKS
    + batches.RECORD_CHECKS
    + conditions.RECORD_CHECKS
    + handling.RECORD_CHECKS
    + reported.RECORD_CHECKS
    + copies.RECORD_CHECKS
    + watch.RECORD_CHECKS
    + practice.RECORD_CHECKS
)


SWINGS_CHECKS: tuple[Check[SwingsCase], ...] = (
    references.SWINGS_CHECKS
    + dates.SWINGS_CHECKS
    + people.SWINGS_CHECKS
    + names.SWINGS_CHECKS
    + swings.BOTH_CHECKS
    + swing_origin.SWINGS_CHECKS
    + loss_history.SWINGS_CHECKS
    + series.SWINGS_CHECKS
)
CHECKS_OF_A_RECORD_ALONE: tuple[Check[ResolvedRecord], ...] = (
    people.RECORD_CHECKS
    + specimens.RECORD_CHECKS
    + readings.CHECKS_OF_A_RECORD_ALONE
    + scale.RECORD_CHECKS
    + swings.BOTH_CHECKS
    + breaks.RECORD_CHECKS
    + exclusions.RECORD_CHECKS
    + results.RECORD_CHECKS
    + handling.RECORD_CHECKS
    + reported.RECORD_CHECKS
)
"""Those that look at nothing but the record and what it refers to: what they find changes with these alone."""
CHECKS_OF_A_RECORD_AMONG_OTHERS = tuple(each for each in RECORD_CHECKS if each not in CHECKS_OF_A_RECORD_ALONE)
RECORD_RULES: dict[str, Rule] = {check.rule.id: check.rule for check in RECORD_CHECKS}
"""The rules about test records, by id."""
VERIFICATION_RULES: dict[str, Rule] = {check.rule.id: check.rule for check in VERIFICATION_CHECKS}
"""The rules about verifications, by id."""
SWINGS_RULES: dict[str, Rule] = {check.rule.id: check.rule for check in SWINGS_CHECKS}
"""The rules about free swings of groups, by id."""
DECLARATION_RULES = (
    verdict.DEVIATION_RULE,
    verdict.DEVIATION_UNUSED,
    verdict.ACKNOWLEDGED_RULE,
    verdict.ACKNOWLEDGED_UNUSED,
)
"""What is asked of a file's own declarations about what the checks find in it."""


BY_SUBJECT: dict[str, tuple[Rule, ...]] = {
    "Test records": (*RECORD_RULES.values(), *DECLARATION_RULES),
    "Verifications": tuple(VERIFICATION_RULES.values()),
    "Free swings of groups": tuple(SWINGS_RULES.values()),
    "Rigs and hammers": tuple(check.rule for check in RIG_CHECKS),
    "Exercises and hazards": (
        *(check.rule for check in EXERCISE_CHECKS),
        *(check.rule for check in HAZARDS_CHECKS),
    ),
    "Materials and methods": (
        *(check.rule for check in MATERIAL_CHECKS),
        *(check.rule for check in METHOD_CHECKS),
    ),
}
"""The rules about what files say, by what they look at."""
RULES: dict[str, Rule] = {rule.id: rule for rules in BY_SUBJECT.values() for rule in rules}
"""The same by id."""
