"""Which records may be compared: those that keep to their method, and those that depart from it in the same way."""

from collections.abc import Iterable
from dataclasses import dataclass

from notchbook.facts.records import RecordFacts
from notchbook.model.procedure import Deviation


@dataclass(frozen=True, slots=True)
class Departure:
    """What the records of one group have in common beside the method; nothing where they keep to it."""

    rig: str = ""
    """On which they were made; equipment departs by another amount on another one."""
    accepted: frozenset[Deviation] = frozenset()

    @property
    def rules(self) -> list[str]:
        """Ids of the rules that are departed from."""
        return sorted(each.rule for each in self.accepted)

    @property
    def words(self) -> str:
        """The same in words; empty where there are none."""
        return ", ".join(self.rules)


KEPT = Departure()
"""Of the records that keep to their method."""


def departure_of(line: RecordFacts) -> Departure:
    """The departure of a record, with the reason and the person by which it was accepted."""
    return KEPT if line.verdict.conforms else Departure(line.record.rig, frozenset(line.verdict.deviations))


def alike(lines: Iterable[RecordFacts]) -> dict[Departure, list[RecordFacts]]:
    """The records by what they depart in, in their order; those that keep to their method come first."""
    found: dict[Departure, list[RecordFacts]] = {KEPT: []}
    for line in lines:
        found.setdefault(departure_of(line), []).append(line)
    return {departure: group for departure, group in found.items() if group}
