"""What the engine says of free swings that a group typed: what it refuses to read, or its complaints and numbers."""

import dataclasses
from typing import Any

from engine_words import complaints, told
from typed_session import Bench, Session

from notchbook.checks.bench_limits import SWINGS_BENCH_RULES
from notchbook.checks.registry import SWINGS_CHECKS
from notchbook.checks.subject import Surroundings, SwingsCase
from notchbook.evaluation.known import known
from notchbook.evaluation.library import Evaluation
from notchbook.evaluation.swings import evaluate_swings
from notchbook.facts.swings import SwingsFacts
from notchbook.model.swings import SwingsRecord
from notchbook.reading.acceptance import flaws
from notchbook.reading.building import DateError, built

CHECKS = [check for check in SWINGS_CHECKS if check.rule.id in SWINGS_BENCH_RULES]


def swings_said(bench: Bench, session: Session, rules: frozenset[str] | None = None) -> dict[str, Any]:
    """What the engine says of a session; `shares` are what only free swings have, in percent or J."""
    data = bench.file(session)
    refused = list(flaws("swings", data))
    if _has_gap(session):
        return {"refused": [["key-missing", "series", []]]}
    if not refused:
        try:
            record = built(SwingsRecord, data, "typed")
        except DateError as error:
            refused = [error.flaw]
    if refused:
        return {"refused": [_lacking(each) for each in told(refused, "swings")]}
    evaluation = _with(bench, record)
    handbook = bench.handbook
    around = Surroundings(handbook.library, evaluation, handbook.day, {}, {}, None, {}, None, None)  # type: ignore[arg-type]  # asked for by no rule of the bench
    case = SwingsCase.of(evaluation, record, around=around)
    assert case.hammer is not None
    assert case.result is not None
    losses, left, agreement = case.losses, case.result.energy_left, case.agreement
    return {
        "refused": [],
        "findings": complaints(CHECKS, case, rules),
        "repeats": [],
        "losses": losses and [
            known(losses.first_rise_deg), known(losses.second_rise_deg), losses.indicator_loss_J, losses.swing_loss_J,
            losses.half_swing_loss_J,
        ],
        "whole_J": case.hammer.potential_energy_J,
        "shares": [
            losses and losses.loss_pct, case.result.later_swing_loss_J, left and left.half_swing_loss_pct,
            agreement and agreement.difference_pct, agreement and agreement.expanded_pct,
            agreement and agreement.agrees,
        ],
    }  # fmt: skip


def _has_gap(session: Session) -> bool:
    """Whether a reading of the series was left out before another one."""
    typed = [bool(bar["reading"]) for bar in session.bars]
    return True in typed[typed.index(False) :] if False in typed else False


def _lacking(refusal: list[Any]) -> list[Any]:
    """A series that is too short, or has no distance, is one of which something is missing."""
    rule, place, _ = refusal
    short = rule == "value-form" and place in ("series", "series.rises_deg", "series.indicated_energies_J")
    return ["key-missing", place, []] if short else refusal


def _with(bench: Bench, record: SwingsRecord) -> Evaluation:
    """The evaluation of the handbook with the record in it."""
    evaluation = bench.handbook.evaluation
    rig, hammer = bench.handbook.library.rigs[record.rig], evaluation.hammers[record.rig, record.hammer]
    return dataclasses.replace(evaluation, swings={record.id: evaluate_swings(rig, hammer, record)})


def facts_of(bench: Bench, session: Session) -> SwingsFacts:
    """The record of a session as its page has it."""
    record = built(SwingsRecord, bench.file(session), "typed")
    return SwingsFacts.of(_with(bench, record), record, conforms=True)
