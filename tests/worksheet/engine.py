"""What the engine says of a session: what it refuses to read, or its complaints, numbers and sets."""

import ast
import dataclasses
import functools
from typing import Any

from engine_words import complaints, told
from swings_engine import swings_said
from typed_session import Bench, Session

from notchbook.checks.bar_tables import bar_tables, row
from notchbook.checks.bench_limits import BENCH_RULES
from notchbook.checks.registry import RECORD_CHECKS
from notchbook.checks.subject import RecordCase, Surroundings
from notchbook.evaluation.losses import find_losses
from notchbook.evaluation.records import SetResult, evaluate_record
from notchbook.evaluation.uncertainty import record_uncertainty
from notchbook.facts.worksheet_limits import told_rules
from notchbook.model.record import Record
from notchbook.reading.acceptance import flaws
from notchbook.reading.building import DateError
from notchbook.reading.building import record as build_record
from notchbook.reading.nodes import Flaw

REPEATED = "repeated-readings"
"""The worksheet tells every repeat while the bars are at hand; the check leaves out those that its marks explain."""
CHECKS = [check for check in RECORD_CHECKS if check.rule.id in BENCH_RULES and check.rule.id != REPEATED]
ENTRY_RULES = frozenset(told_rules()) - frozenset(BENCH_RULES)
"""Of what no file may hold."""


def said(bench: Bench, session: Session, rules: frozenset[str] | None = None) -> dict[str, Any]:
    """What the engine says of a session: what it refuses to read, or else its complaints, numbers and sets.

    Arguments:
        bench: what the session is held against.
        session: what is typed.
        rules: those that are asked for, where not all are.
    """
    if bench.exercise.specimen is None:
        return swings_said(bench, session, rules)
    data = bench.file(session)
    refused = _flaws(data) if rules is None or rules & ENTRY_RULES else []
    if not refused:
        try:
            record = build_record("typed", data)
        except DateError as error:
            refused = [error.flaw]
    if refused:
        return {"refused": told(refused, "test")}
    case = _case(bench, record, rules)
    assert case.hammer is not None
    assert case.result is not None
    losses = case.result.losses
    whole = case.hammer.potential_energy_J
    return {
        "refused": [],
        "findings": complaints(CHECKS, case, rules),
        "repeats": sorted(_repeats(record)),
        "losses": losses and [
            losses.first_rise_deg, losses.second_rise_deg, losses.indicator_loss_J, losses.swing_loss_J,
            losses.half_swing_loss_J,
        ],
        "whole_J": whole,
        "bars": [
            [each.loss_J, each.energy_J, each.used_pct, each.strength_kJ_m2] for each in case.result.specimens
        ],
        "sets": [
            [list(each.breaks), each.summary.n, each.summary.mean, each.summary.standard_deviation,
             each.summary.variation_pct, *(each.summary.interval or (None, None)), _largest_kJ_m2(case),
             _expanded_kJ_m2(bench, case, each)]
            for each in case.result.sets
        ],
    }  # fmt: skip


_SOUND_BAR = {"id": "1", "width_mm": 10.0, "thickness_mm": 4.0, "break": "C"}
_SOUND_RECORD: dict[str, Any] = {
    "kind": "test", "date": "2026-10-06", "group": "G2", "exercise": "e", "rig": "r", "hammer": "h", "material": "m",
    "specimen": {"type": "1", "notch": "A", "direction": "edgewise"},
    "conditioning": {"temperature_C": 23, "humidity_pct": 50, "hours": 48},
    "test_atmosphere": {"temperature_C": 23, "humidity_pct": 50},
}  # fmt: skip


def _flaws(data: dict[str, Any]) -> list[Flaw]:
    """What the schema refuses: of each bar by itself, because most are the same in the next session."""
    found = list(_flaws_of(repr(data | {"specimens": [_SOUND_BAR]})))
    for place, bar in enumerate(data["specimens"]):
        of_bar = _flaws_of(repr(_SOUND_RECORD | {"specimens": [bar]}))
        found += [dataclasses.replace(each, keys=("specimens", place, *each.keys[2:])) for each in of_bar]
    return found


@functools.lru_cache(maxsize=100_000)
def _flaws_of(written: str) -> tuple[Flaw, ...]:
    return tuple(flaws("test", ast.literal_eval(written)))


def _largest_kJ_m2(case: RecordCase) -> float:
    """What the strengths of a record were worked out from, as a strength: that of the hammer's whole energy."""
    assert case.hammer is not None
    assert case.result is not None
    return max(
        abs(each.strength_kJ_m2) * max(1.0, abs(case.hammer.potential_energy_J / each.energy_J))
        for each in case.result.specimens
        if each.strength_kJ_m2 and each.energy_J
    )


def _expanded_kJ_m2(bench: Bench, case: RecordCase, of: SetResult) -> float | None:
    """Of the mean of a set; a worksheet leaves out what takes the form of the losses of metals."""
    record, hammer, evaluation = case.record, case.hammer, bench.handbook.evaluation
    if bench.method.loss_correction != "plastics":
        return None
    assert hammer is not None
    swings = case.free_swings
    if swings is None or case.result is None or case.rig is None:
        return None
    drift = evaluation.loss_drift(record)
    found = record_uncertainty(record, case.result, case.rig, hammer, bench.method, swings, bench.exercise, drift)
    uncertainty = found.of_set(of) if found is not None else None
    return uncertainty.expanded if uncertainty is not None else None


def _case(bench: Bench, record: Record, rules: frozenset[str] | None) -> RecordCase:
    handbook = bench.handbook
    evaluation = handbook.evaluation
    hammer = evaluation.hammers[record.rig, record.hammer]
    verification = evaluation.verification_in_force(record.rig, record.hammer, record.date)
    losses = None
    if record.free_swings is not None:
        losses = find_losses(hammer, record.free_swings)
    elif verification is not None:
        losses = evaluation.verifications[verification.id].losses
    result = evaluate_record(record, hammer, bench.method, losses, verification and verification.id)
    around = Surroundings(
        handbook.library, dataclasses.replace(evaluation, records={record.id: result}), handbook.day,
        bar_tables([record] if rules is None or "reading-order" in rules else [], evaluation.scales),
        {}, None, {}, None, None,  # type: ignore[arg-type]  # asked for by no rule of one record
    )  # fmt: skip
    return RecordCase.of(around.evaluation, record, around=around)


def _repeats(record: Record) -> set[str]:
    """Places of the bars that agree in all numbers with an earlier one and have a reading."""
    rows = [row(each) for each in record.specimens]
    return {
        f"specimens.{place}" for place, each in enumerate(rows) if each in rows[:place] and each[3:] != (None, None)
    }
