"""What a reading means on each hammer that an exercise can be done with."""

from dataclasses import dataclass

from notchbook.evaluation.lookup import LookupTable
from notchbook.facts.exercises import ExerciseFacts
from notchbook.facts.hammers import HammerFacts
from notchbook.model.rig import Rig
from notchbook.pages.sheets.lookups import sheet_name


@dataclass(frozen=True, slots=True)
class HammerTable:
    """One hammer with its look-up table; None where the hammer has not been verified."""

    line: HammerFacts
    table: LookupTable | None
    sheet: str
    """Name of the page with every division, where there is a table."""


def lookup_tables(exercise: ExerciseFacts) -> list[tuple[Rig, list[HammerTable]]]:
    """A look-up table for every hammer, by rig; none without a nominal section."""
    section = exercise.section
    if section is None:
        return []

    def table(line: HammerFacts) -> HammerTable:
        return HammerTable(line, line.lookup(section), sheet_name(line.rig.id, line.hammer.id))

    return [(each.rig, [table(line) for line in each.hammers]) for each in exercise.rigs]
