"""What a practice set is of: exercise, material, rig and hammer of the handbook, and how such bars break."""

import datetime as dt
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from notchbook.evaluation.hammer_choice import ExpectedEnergy, typical_strength
from notchbook.facts.exercises import ExerciseFacts, MaterialRow, RigChoice
from notchbook.facts.facts import Facts
from notchbook.facts.hammers import HammerFacts
from notchbook.model.method import Method
from notchbook.model.procedure import Exercise, Material
from notchbook.model.requirement import Requirement
from notchbook.statistics.summary import summarise
from notchbook.wording.nearest import nearest

Trap = Literal["dimension", "hammer"]
_USUAL_VARIATION = 0.08
"""Where nothing is known of a material: plastics bars of one batch scatter by some per cent (common practice)."""


class NotPlannedError(ValueError):
    """A set that cannot be made: what is wrong, and what to do."""

    def __init__(self, message: str, hint: str) -> None:
        super().__init__(message)
        self.hint = hint


@dataclass(frozen=True, slots=True)
class Plan:
    """Everything that the readings of a set follow from, but for chance."""

    exercise: Exercise
    method: Method
    material: Material
    line: HammerFacts
    day: dt.date
    """On which a verification of the hammer is in force."""
    bars: int
    dimensions: Mapping[str, Requirement]
    """What is measured on each bar, by its key, as the method asks for it."""
    mean_kJ_m2: float
    variation: float
    """Standard deviation of the bars over their mean."""
    breaks: str
    """The letter of how they break."""


def plan_of(facts: Facts, exercise_id: str, material_id: str | None, trap: Trap | None) -> Plan:
    """What a set of an exercise is of.

    Arguments:
        facts: those of the handbook.
        exercise_id: the exercise, one with bars.
        material_id: the material; None for the one of which most is known.
        trap: `hammer` for one in whose window the bars do not lie.

    Raises:
        NotPlannedError: where the handbook lacks something for it.
    """
    exercise = facts.exercises.get(exercise_id)
    if exercise is None:
        message = f"the handbook has no exercise '{exercise_id}'"
        raise NotPlannedError(message, nearest(exercise_id, facts.exercises))
    bar, method = exercise.specimen_type, exercise.method
    if bar is None or method is None:
        raise NotPlannedError(f"the exercise '{exercise_id}' breaks no bars", "name one that does")
    row = _row(exercise, material_id)
    mean, variation, letter = _known(exercise, row, method)
    line = _hammer(exercise, row, mean, trap)
    asked = {"width_mm": bar.width_mm, "thickness_mm": bar.thickness_mm}
    if exercise.notch is not None:
        asked["remaining_width_mm"] = exercise.notch.remaining_width_mm
    bars = exercise.exercise.number_of_specimens or method.specimen_number.number
    day = line.in_force.valid_until if line.in_force is not None else facts.day
    return Plan(
        exercise.exercise, method, row.material, line, min(day, facts.day), bars, asked, mean, variation, letter
    )  # fmt: skip


def _row(exercise: ExerciseFacts, material_id: str | None) -> MaterialRow:
    """The material of a set; without a name the one of which most bars were broken, else one with a typical range."""
    rows = {each.material.id: each for each in exercise.material_rows}
    if material_id is not None:
        if material_id not in rows:
            raise NotPlannedError(f"the handbook has no material '{material_id}'", nearest(material_id, rows))
        known = [rows[material_id]] if rows[material_id].expected is not None else []
    else:
        known = [each for each in rows.values() if each.expected is not None]
    if not known:
        hint = "give the material a typical range for this method and notch, or add a record"
        raise NotPlannedError("nothing is known of how strong such bars are", hint)
    return max(known, key=lambda each: _bars(each.expected))


def _bars(expected: ExpectedEnergy | None) -> int:
    return expected.bars if expected is not None else -1


def _known(exercise: ExerciseFacts, row: MaterialRow, method: Method) -> tuple[float, float, str]:
    """Mean, variation and break type of such bars: of own ones, else by the typical range."""
    _, records = exercise.own_records.get(row.material.id, (None, []))
    sets = [each.result for line in records for each in line.sets]
    if sets:
        means = [each.summary.mean for each in sets if each.summary.n > 1]
        variations = [each.summary.variation_pct for each in sets if each.summary.variation_pct]
        letters = Counter(line.record.specimens[place].break_type for line in records for each in line.sets
                          for place in each.result.members)  # fmt: skip
        if means and variations:
            return summarise(means).mean, summarise(variations).mean / 100.0, letters.most_common(1)[0][0]
    assert exercise.exercise.specimen is not None  # noqa: S101  # or it would break no bars
    typical = typical_strength(row.material, method.id, exercise.exercise.specimen.notch)
    letter = next(each.letter for each in method.breaks.types if each.has_strength)
    if typical is None:
        raise NotPlannedError("too little is known of how such bars scatter", "add a record of several bars")
    low, high = typical.strength_kJ_m2
    return (low + high) / 2.0, _USUAL_VARIATION, letter


def _hammer(exercise: ExerciseFacts, row: MaterialRow, mean_kJ_m2: float, trap: Trap | None) -> HammerFacts:
    """The hammer that serves and is verified, or as a trap one that is verified and does not serve."""
    assert exercise.section is not None  # noqa: S101  # or it would break no bars
    usable: list[RigChoice] = [each for each in row.choices if each.line.usable]
    if not usable:
        hint = "add a verification that is in force"
        raise NotPlannedError("no hammer of the exercise is verified today", hint)
    if trap != "hammer":
        return next((each for each in usable if each.choice.reason == "whole-range"), usable[0]).line
    energy = exercise.section.energy_J(mean_kJ_m2)
    for each in usable:
        for line in exercise.hammers_of(each.rig.id):
            share_pct = 100.0 * energy / line.hammer.potential_energy_J
            if line.usable and not each.window.holds(share_pct) and share_pct < each.window.high_pct:
                return line
    raise NotPlannedError("every verified hammer serves such bars", "choose the other trap, or another material")
