"""A session at the pendulum and all that it is held against, and what the engine says of it."""

from __future__ import annotations

import ast
import dataclasses
import functools
import re
from dataclasses import dataclass
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from notchbook.checks.bar_tables import bar_tables, row
from notchbook.checks.bench_limits import BENCH_RULES
from notchbook.checks.registry import RECORD_CHECKS
from notchbook.checks.run import _record_case
from notchbook.checks.subject import Surroundings
from notchbook.evaluation.losses import find_losses
from notchbook.evaluation.records import evaluate_record
from notchbook.evaluation.verifications import evaluate_verification
from notchbook.pages.exercise.hammers import rigs_with_hammers
from notchbook.pages.exercise.worksheet import worksheet_data
from notchbook.pages.exercise.worksheet_limits import told_rules
from notchbook.reading.build_results import DateError
from notchbook.reading.build_results import record as build_record
from notchbook.reading.scalars import plain_value
from notchbook.reading.schemas import flaws, schema

if TYPE_CHECKING:
    from notchbook.checks.subject import RecordCase
    from notchbook.handbook import Handbook
    from notchbook.model.method import Method
    from notchbook.model.procedure import Exercise
    from notchbook.model.record import Record
    from notchbook.reading.nodes import Flaw

REPEATED = "repeated-readings"
"""The worksheet tells every repeat while the bars are at hand; the check leaves out those that its marks explain."""
CHECKS = [check for check in RECORD_CHECKS if check.rule.id in BENCH_RULES and check.rule.id != REPEATED]
ENTRY_RULES = frozenset(told_rules()) - frozenset(BENCH_RULES)
"""Of what no file may hold."""
DIMENSIONS = ("width_mm", "thickness_mm", "remaining_width_mm")
SWINGS = ("first", "second", "later")
_NUMBER = re.compile(r"[0-9]+(?:\.[0-9]+)?(?:e[-−+]?[0-9]+)?")
_SIDES = ("larger", "smaller")


def text_of(value: float) -> str:
    """A number as somebody types it, with every digit that it has."""
    return format(Decimal(repr(value)), "f")


@dataclass(frozen=True)
class Session:
    """What is typed: texts by field, and texts by field for each bar."""

    fields: dict[str, str]
    bars: tuple[dict[str, str], ...]

    def having(self, place: str, text: str) -> Session:
        """The same with another text in one field, of a bar by its place: `bars.2.width_mm`."""
        _, row, name = place.split(".") if place.startswith("bars.") else ("", "", "")
        if not row:
            return Session({**self.fields, place: text}, self.bars)
        bars = [dict(bar) for bar in self.bars]
        bars[int(row)][name] = text
        return Session(self.fields, tuple(bars))


@dataclass(frozen=True)
class Bench:
    """A handbook with the exercise that is done; the session chooses rig and hammer."""

    handbook: Handbook
    exercise: Exercise

    @property
    def method(self) -> Method:
        return self.handbook.library.methods[self.exercise.method]

    def of_method(self, **changes: Any) -> Bench:
        """The same with another method in place of the exercise's."""
        library = self.handbook.library
        methods = {**library.methods, self.method.id: dataclasses.replace(self.method, **changes)}
        return self._of_library(methods=methods)

    def of_rig(self, rig: str, **changes: Any) -> Bench:
        """The same with another scale."""
        old = self.handbook.library.rigs[rig]
        indicator = dataclasses.replace(old.indicator, **changes)
        return self._of_library(rigs={**self.handbook.library.rigs, rig: dataclasses.replace(old, indicator=indicator)})

    def of_hammer(self, rig: str, hammer: str, **changes: Any) -> Bench:
        """The same with another hammer in place of one; its verifications stay."""
        evaluation = self.handbook.evaluation
        other = dataclasses.replace(evaluation.hammers[rig, hammer], **changes)
        own = self.handbook.library.rigs[rig]
        verified = {
            each.id: evaluate_verification(own, other, each) for each in evaluation.by_hammer.get((rig, hammer), ())
        }
        known = dataclasses.replace(
            evaluation,
            hammers={**evaluation.hammers, (rig, hammer): other},
            verifications={**evaluation.verifications, **verified},
        )
        return dataclasses.replace(self, handbook=dataclasses.replace(self.handbook, evaluation=known))

    def _of_library(self, **changes: Any) -> Bench:
        library = dataclasses.replace(self.handbook.library, **changes)
        evaluation = dataclasses.replace(self.handbook.evaluation, library=library)
        return dataclasses.replace(
            self, handbook=dataclasses.replace(self.handbook, library=library, evaluation=evaluation)
        )

    def data(self) -> dict[str, Any]:
        """What the page gives its worksheet."""
        chosen = self.exercise.specimen
        assert chosen is not None
        rigs = [each for each in rigs_with_hammers(self.handbook, self.method.id) if each.lines]
        return worksheet_data(self.handbook, self.exercise, chosen, self.method, rigs)

    def reads(self, session: Session) -> str:
        return self.handbook.library.rigs[session.fields["rig"]].indicator.reads

    def file(self, session: Session) -> dict[str, Any]:
        """The record as its file holds it."""
        fields, chosen = session.fields, self.exercise.specimen
        assert chosen is not None
        energy = self.reads(session) == "energy"
        told: dict[str, Any] = {
            "kind": "test",
            "exercise": self.exercise.id,
            "specimen": {"type": chosen.type, "notch": chosen.notch, "direction": chosen.direction},
            "specimens": [_bar(bar, energy=energy) for bar in session.bars],
            **{key: text for key, text in fields.items() if text and "." not in key},
        }
        for key, text in fields.items():
            group, _, name = key.partition(".")
            if name and text:
                scale = "_indicated_energy_J" if energy else "_rise_deg"
                told.setdefault(group, {})[name + scale if name in SWINGS else name] = plain_value(text)
        return told


def _bar(bar: dict[str, str], *, energy: bool) -> dict[str, Any]:
    names = {"reading": "indicated_energy_J" if energy else "rise_angle_deg"}
    texts = ("id", "break", "excluded")
    return {names.get(name, name): text if name in texts else plain_value(text) for name, text in bar.items() if text}


def said(bench: Bench, session: Session, rules: frozenset[str] | None = None) -> dict[str, Any]:
    """What the engine says of a session: what it refuses to read, or else its complaints, numbers and sets.

    Arguments:
        bench: what the session is held against.
        session: what is typed.
        rules: those that are asked for, where not all are.
    """
    data = bench.file(session)
    refused = _flaws(data) if rules is None or rules & ENTRY_RULES else []
    if not refused:
        try:
            record = build_record("typed", data)
        except DateError as error:
            refused = [error.flaw]
    if refused:
        return {"refused": [[each.rule.id, ".".join(map(str, each.keys)), _limits(each.keys)] for each in refused]}
    case = _case(bench, record, rules)
    assert case.hammer is not None
    assert case.result is not None
    losses = case.result.losses
    whole = case.hammer.potential_energy_J
    return {
        "refused": [],
        "findings": _complaints(case, rules),
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
             each.summary.variation_pct, *(each.summary.interval or (None, None)), _largest_kJ_m2(case)]
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
        flaws = _flaws_of(repr(_SOUND_RECORD | {"specimens": [bar]}))
        found += [dataclasses.replace(each, keys=("specimens", place, *each.keys[2:])) for each in flaws]
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


def numbers_in(text: str) -> list[float]:
    """Every number that stands in a text, without its sign."""
    return [float(each.replace("−", "-")) for each in _NUMBER.findall(text)]


def _limits(keys: tuple[str | int, ...]) -> list[float]:
    """The numbers that the schema states of a value."""
    about = schema("test")
    for key in keys:
        about = about["items"] if isinstance(key, int) else about["properties"][key]
    stated = [about.get(name) for name in ("minimum", "exclusiveMinimum", "maximum", "maxLength")]
    return [abs(float(each)) for each in stated if each is not None]


def _case(bench: Bench, record: Record, rules: frozenset[str] | None) -> RecordCase:
    handbook = bench.handbook
    evaluation = handbook.evaluation
    hammer = evaluation.hammers[record.rig, record.hammer]
    verification = evaluation.in_force(record.rig, record.hammer, record.date)
    losses = None
    if record.free_swings is not None:
        losses = find_losses(hammer, record.free_swings)
    elif verification is not None:
        losses = evaluation.verifications[verification.id].losses
    result = evaluate_record(record, hammer, bench.method, losses, verification and verification.id)
    around = Surroundings(
        handbook.library, dataclasses.replace(evaluation, records={record.id: result}), handbook.day,
        bar_tables([record] if rules is None or "reading-order" in rules else []), {}, None, {}, None, None,  # type: ignore[arg-type]  # asked for by no rule of one record
    )  # fmt: skip
    return _record_case(record, around)


def _complaints(case: RecordCase, rules: frozenset[str] | None) -> list[list[Any]]:
    """Rule, place, numbers and side of each complaint."""
    found = []
    for check in CHECKS:
        if rules is not None and check.rule.id not in rules:
            continue
        for each in check.find(case):
            words = f"{each.message} {each.hint}"
            sides = [side for side in _SIDES if side in each.hint]
            found.append([check.rule.id, ".".join(map(str, each.keys)), numbers_in(words), sides])
    return sorted(found)


def _repeats(record: Record) -> set[str]:
    """Places of the bars that agree in all numbers with an earlier one and have a reading."""
    rows = [row(each) for each in record.specimens]
    return {
        f"specimens.{place}" for place, each in enumerate(rows) if each in rows[:place] and each[3:] != (None, None)
    }
