"""All checks by what they look at, and all rules by their ids."""

from __future__ import annotations

from typing import TYPE_CHECKING

from notchbook.checks import (
    breaks,
    conditions,
    copies,
    dates,
    deviations,
    hammers,
    loss_history,
    methods,
    people,
    procedures,
    readings,
    references,
    reported,
    rigs,
    scale,
    specimens,
    swings,
    verifications,
)

if TYPE_CHECKING:
    from notchbook.checks.subject import (
        Check,
        ExerciseCase,
        HazardsCase,
        MaterialCase,
        MethodCase,
        RecordCase,
        RigCase,
        VerificationCase,
    )
    from notchbook.findings import Rule

METHOD_CHECKS: tuple[Check[MethodCase], ...] = methods.METHOD_CHECKS
RIG_CHECKS: tuple[Check[RigCase], ...] = references.RIG_CHECKS + hammers.RIG_CHECKS + rigs.RIG_CHECKS + scale.RIG_CHECKS
MATERIAL_CHECKS: tuple[Check[MaterialCase], ...] = references.MATERIAL_CHECKS + procedures.MATERIAL_CHECKS
HAZARDS_CHECKS: tuple[Check[HazardsCase], ...] = procedures.HAZARDS_CHECKS
EXERCISE_CHECKS: tuple[Check[ExerciseCase], ...] = (
    references.EXERCISE_CHECKS + procedures.EXERCISE_CHECKS + people.EXERCISE_CHECKS
)
VERIFICATION_CHECKS: tuple[Check[VerificationCase], ...] = (
    references.VERIFICATION_CHECKS
    + dates.VERIFICATION_CHECKS
    + people.VERIFICATION_CHECKS
    + swings.VERIFICATION_CHECKS
    + loss_history.VERIFICATION_CHECKS
    + verifications.VERIFICATION_CHECKS
)
RECORD_CHECKS: tuple[Check[RecordCase], ...] = (
    references.RECORD_CHECKS
    + dates.RECORD_CHECKS
    + people.RECORD_CHECKS
    + specimens.RECORD_CHECKS
    + readings.RECORD_CHECKS
    + scale.RECORD_CHECKS
    + swings.RECORD_CHECKS
    + breaks.RECORD_CHECKS
    + conditions.RECORD_CHECKS
    + reported.RECORD_CHECKS
    + copies.RECORD_CHECKS
)


def _rules() -> tuple[Rule, ...]:
    return (
        *(check.rule for check in RECORD_CHECKS),
        deviations.DEVIATION_RULE,
        deviations.DEVIATION_UNUSED,
        *(check.rule for check in VERIFICATION_CHECKS),
        *(check.rule for check in RIG_CHECKS),
        *(check.rule for check in EXERCISE_CHECKS),
        *(check.rule for check in MATERIAL_CHECKS),
        *(check.rule for check in HAZARDS_CHECKS),
        *(check.rule for check in METHOD_CHECKS),
    )


RULES: dict[str, Rule] = {rule.id: rule for rule in _rules()}
"""Rules by id, in the order in which a record and what it rests on are looked at."""
