"""The part of an exercise that is filled in by pen: what heads the record, its columns and its rows."""

from collections.abc import Sequence
from dataclasses import dataclass

from notchbook.facts import hammer_words
from notchbook.facts.hammers import RigFacts
from notchbook.model.method import Method
from notchbook.model.procedure import Exercise
from notchbook.model.rig import Indicator

MOST_ROWS = 25
"""Rows of a table that stays on one sheet with what heads it."""
SPARE_ROWS = 2
"""A bar that does not count keeps its row, and a spare one takes another."""
_FIELDS = ("Date", "Group", "Rig", "Hammer", "Handed over by")


@dataclass(frozen=True, slots=True)
class BenchSheet:
    """An empty record."""

    fields: list[str]
    """What is asked once, with units."""
    columns: list[str]
    """Heads of the table; the first is that of the names of the rows."""
    tables: list[list[str]]
    """Names of the rows that are printed, by table; each table stays on one sheet."""
    spare: int
    """Rows without a name at the end of the last table."""
    notes: list[str]


def bench_sheet(exercise: Exercise, method: Method | None, rigs: Sequence[RigFacts]) -> BenchSheet:
    """The record of an exercise with bars, or of one about the pendulum itself.

    Arguments:
        exercise: what is done.
        method: that of the exercise, where it is known.
        rigs: those on which it can be done; they say what a reading is.
    """
    scales = [(each.rig.title, each.rig.indicator) for each in rigs]
    if exercise.specimen is None:
        return _of_pendulum(scales)
    number = exercise.number_of_specimens or (method.specimen_number.number if method else 0)
    width = max(len(str(number)), 2)
    names = [f"{each:0{width}}" for each in range(1, number + 1)]
    fields = [
        *_FIELDS, "Material", "Batch",
        "Conditioning, °C", "Conditioning, % r.h.", "Conditioning, h", "Room, °C", "Room, % r.h.",
        f"Free swing 1, {_unit(scales)}", f"Free swing 2, {_unit(scales)}",
    ]  # fmt: skip
    notched = ["Remaining width, mm"] if exercise.specimen.notch != "none" else []
    read = _either(scales, "Rise, °", "Indicated energy, J")
    columns = ["Bar", "Width, mm", "Thickness, mm", *notched, read, "Break", "Remarks"]
    notes = _what_is_read(scales)
    if method is not None:
        letters = ", ".join(f"{each.letter} {each.title.lower()}" for each in method.breaks.types)
        notes.append(f"Break: {letters}.")
    notes.append("A bar that does not count keeps its row; why stands under remarks.")
    tables = [names[start : start + MOST_ROWS] for start in range(0, len(names), MOST_ROWS)]
    return BenchSheet(fields, columns, tables, SPARE_ROWS, notes)


def _of_pendulum(scales: list[tuple[str, Indicator]]) -> BenchSheet:
    """The readings of a verification, each up to three times."""
    rows = ["Force of the level pendulum, N", "Arm, axis to where it rests, mm", "Amplitude of the small swings, °",
            "Full swings counted", "Time of these swings, s"]  # fmt: skip
    first, second, later = (
        _either(scales, f"{each} rise, °", f"{each} indicated energy, J") for each in ("First", "Second", "Later")
    )
    rows += [first, second, "Half swings from the second to the later", later]
    columns = ["Reading", "Once", "Again", "A third time", "Remarks"]
    return BenchSheet(list(_FIELDS), columns, [rows], 0, _what_is_read(scales))


def _reads(scales: list[tuple[str, Indicator]]) -> set[str]:
    """What the rigs read; where there is no rig, it may be either."""
    return {scale.reads for _, scale in scales} or {"angle", "energy"}


def _either(scales: list[tuple[str, Indicator]], rise: str, energy: str) -> str:
    """The name of a reading on the rigs at hand, both where they differ."""
    kinds = _reads(scales)
    if len(kinds) > 1:
        return f"{rise}, or {energy[0].lower()}{energy[1:]}"
    return rise if kinds == {"angle"} else energy


def _unit(scales: list[tuple[str, Indicator]]) -> str:
    return " or ".join({"angle": "°", "energy": "J"}[each] for each in sorted(_reads(scales)))


def _what_is_read(scales: list[tuple[str, Indicator]]) -> list[str]:
    """What is written down at each rig, and how finely."""
    readings = [
        f"{title}: {'angle of rise' if scale.reads == 'angle' else 'indicated energy'} "
        f"to its division, {hammer_words.division(scale)}."
        for title, scale in scales
    ]
    return ["Write each reading as it was read.", *readings]
