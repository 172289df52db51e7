"""The part of an exercise that is filled in by pen: what heads the record, its columns and its rows."""

from collections.abc import Sequence, Set
from dataclasses import dataclass

from notchbook.facts.hammers import RigFacts
from notchbook.model.method import Method
from notchbook.model.procedure import Exercise

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
    # where there is no rig, it may be either
    kinds: Set[str] = {each.rig.indicator.reads for each in rigs} or {"angle", "energy"}
    if exercise.specimen is None:
        return _of_pendulum(kinds, rigs)
    number = exercise.number_of_specimens or (method.specimen_number.number if method else 0)
    width = max(len(str(number)), 2)
    names = [f"{each:0{width}}" for each in range(1, number + 1)]
    fields = [
        *_FIELDS, "Material", "Batch",
        "Conditioning, °C", "Conditioning, % r.h.", "Conditioning, h", "Room, °C", "Room, % r.h.",
        f"Free swing 1, {_unit(kinds)}", f"Free swing 2, {_unit(kinds)}",
    ]  # fmt: skip
    notched = ["Remaining width, mm"] if exercise.specimen.notch != "none" else []
    read = _either(kinds, "Rise, °", "Indicated energy, J")
    columns = ["Bar", "Width, mm", "Thickness, mm", *notched, read, "Break", "Remarks"]
    notes = _what_is_read(rigs)
    if method is not None:
        letters = ", ".join(f"{each.letter} {each.title.lower()}" for each in method.breaks.types)
        notes.append(f"Break: {letters}.")
    notes.append("A bar that does not count keeps its row; why stands under remarks.")
    tables = [names[start : start + MOST_ROWS] for start in range(0, len(names), MOST_ROWS)]
    return BenchSheet(fields, columns, tables, SPARE_ROWS, notes)


def _of_pendulum(kinds: Set[str], rigs: Sequence[RigFacts]) -> BenchSheet:
    """The readings of a verification, each up to three times."""
    rows = ["Force of the level pendulum, N", "Arm, axis to where it rests, mm", "Amplitude of the small swings, °",
            "Full swings counted", "Time of these swings, s"]  # fmt: skip
    first, second, later = (
        _either(kinds, f"{each} rise, °", f"{each} indicated energy, J") for each in ("First", "Second", "Later")
    )
    rows += [first, second, "Half swings from the second to the later", later]
    columns = ["Reading", "Once", "Again", "A third time", "Remarks"]
    return BenchSheet(list(_FIELDS), columns, [rows], 0, _what_is_read(rigs))


def _either(kinds: Set[str], rise: str, energy: str) -> str:
    """The name of a reading on the rigs at hand, both where they differ."""
    if len(kinds) > 1:
        return f"{rise}, or {energy[0].lower()}{energy[1:]}"
    return rise if kinds == {"angle"} else energy


def _unit(kinds: Set[str]) -> str:
    return " or ".join({"angle": "°", "energy": "J"}[each] for each in sorted(kinds))


def _what_is_read(rigs: Sequence[RigFacts]) -> list[str]:
    """What is written down at each rig, and how finely."""
    readings = [
        f"{each.rig.title}: {'angle of rise' if each.rig.indicator.reads == 'angle' else 'indicated energy'} "
        f"to its division, {each.divisions}."
        for each in rigs
    ]
    return ["Write each reading as it was read.", *readings]
