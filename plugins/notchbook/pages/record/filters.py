"""What the table of all records can be filtered by."""

from collections.abc import Sequence
from dataclasses import dataclass

from notchbook.facts.facts import Facts
from notchbook.facts.records import RecordFacts


@dataclass(frozen=True, slots=True)
class Filter:
    """One choice above the table."""

    key: str
    """Key of the rows' data and of the address."""
    label: str
    choices: tuple[tuple[str, str], ...]
    """Value and words of each, in the order in which they are offered."""


def record_filters(facts: Facts, lines: Sequence[RecordFacts]) -> list[Filter]:
    """The choices that occur in the records."""
    rigs = facts.rigs
    years = _by_words({f"{line.date.year}": f"{line.date.year}" for line in lines})
    titles = {each: rigs[each].rig.title if each in rigs else each for each in {line.record.rig for line in lines}}
    return [
        Filter("material", "Material", _by_words({line.record.material: line.material_name for line in lines})),
        Filter("exercise", "Exercise", _by_words({line.record.exercise: line.exercise_name for line in lines})),
        Filter("rig", "Rig", _by_words(titles)),
        Filter("group", "Group", _by_words({line.record.group: line.record.group for line in lines})),
        Filter("year", "Year", tuple(reversed(years))),
    ]


def _by_words(words: dict[str, str]) -> tuple[tuple[str, str], ...]:
    return tuple(sorted(words.items(), key=lambda each: (each[1].casefold(), each[0])))
