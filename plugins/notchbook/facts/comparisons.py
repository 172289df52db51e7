"""Groups that broke the same bars in the same way, held together: what may be compared, and what comes of it."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from notchbook.facts.alike import KEPT, Departure, departure_of
from notchbook.facts.records import RecordFacts
from notchbook.facts.terms import Term, term_of
from notchbook.model.procedure import SpecimenChoice
from notchbook.statistics.precision import Precision, precision
from notchbook.statistics.summary import Summary
from notchbook.wording.numbers import plain

_LEAST_GROUPS = 2
_USUAL_STATE = "conditioned"
"""Of bars of which nobody says another one."""


@dataclass(frozen=True, slots=True)
class Cell:
    """What one group found: a set of bars of one record, or all of a laboratory."""

    name: str
    """Id of the record or name of the laboratory."""
    label: str
    """How a chart and a table call it."""
    breaks: tuple[str, ...]
    """Break types that occur in it."""
    strengths: tuple[float, ...]
    """Of its bars, in kJ/m2."""
    interval: tuple[float, float] | None
    """Two-sided 95 % interval of its own mean; None where it cannot be had."""


class Subject(NamedTuple):
    """What the cells of a comparison have in common: nothing else is compared."""

    exercise: str
    material: str
    batch: str | None
    """None where the records do not say it."""
    method: str
    specimen: SpecimenChoice
    speed_m_s: float
    """Nominal velocity."""
    state: str | None
    """Of moisture, where it is another than conditioned, which is what methods ask for; else None."""
    together: tuple[str, ...]
    """Break types that share a mean."""
    departure: Departure


@dataclass(frozen=True)
class Comparison:
    """The cells of one subject, at least two."""

    subject: Subject
    cells: tuple[Cell, ...]
    """The oldest first."""

    @property
    def breaks(self) -> list[str]:
        """The break types that occur, in the order of the method."""
        return [each for each in self.subject.together if any(each in cell.breaks for cell in self.cells)]

    @cached_property
    def precision(self) -> Precision:
        """What the cells say together."""
        return precision([each.strengths for each in self.cells])

    @property
    def title(self) -> str:
        """What is compared, beside exercise and material: `Batch PP-26-01, 2.9 m/s, C`."""
        batch = f"Batch {self.subject.batch}" if self.subject.batch is not None else "Batch not stated"
        departs = f", departs: {self.subject.departure.words}" if self.subject.departure.words else ""
        state = f", {self.subject.state}" if self.subject.state is not None else ""
        return f"{batch}{state}, {plain(self.subject.speed_m_s)} m/s, {'/'.join(self.breaks)}{departs}"

    @property
    def rows(self) -> list[tuple[Cell, Summary, float | None, float | None]]:
        """The cells with their number, mean and spread, and their h and k."""
        found = self.precision
        return list(zip(self.cells, found.cells, found.h, found.k, strict=True))


def comparisons(lines: Iterable[RecordFacts]) -> list[Comparison]:
    """All comparisons of two groups and more, one of which has two bars at least, in the order of their subjects."""
    found: dict[Subject, list[tuple[RecordFacts, Cell]]] = {}
    for line in lines:
        speed = line.speed_m_s
        if line.method is None or line.result is None or speed is None:
            continue
        record, departure = line.record, departure_of(line)
        if departure is not KEPT and not departure.accepted:
            continue  # one with errors is no result
        state = record.conditioning.state if record.conditioning.state != _USUAL_STATE else None
        for each in line.sets:
            bars = (line.result.specimens[place].strength_kJ_m2 for place in each.result.members)
            strengths = tuple(strength for strength in bars if strength is not None)
            label = f"{record.group} {record.date:%Y-%m-%d}"
            cell = Cell(record.id, label, each.result.breaks, strengths, each.result.summary.interval)
            bars_of = (record.exercise, record.material, record.batch, line.method.id, record.specimen)
            found.setdefault(Subject(*bars_of, speed, state, each.together, departure), []).append((line, cell))
    made = []
    for subject, members in found.items():
        ordered = sorted(members, key=lambda member: (member[0].date, member[0].record.id))
        cells = tuple(cell for _, cell in ordered)
        if len(cells) >= _LEAST_GROUPS and any(each.strengths[1:] for each in cells):
            made.append(Comparison(subject, cells))
    return sorted(made, key=_place)


def _place(comparison: Comparison) -> tuple[object, ...]:
    about = comparison.subject
    chosen = (about.specimen.type, about.specimen.notch, about.specimen.direction)
    what = (about.exercise, about.material, about.batch or "", about.method, chosen, about.speed_m_s)
    return *what, about.state or "", about.together, about.departure.rig, about.departure.words, -len(comparison.cells)


@dataclass(frozen=True)
class TermComparisons:
    """The comparisons of one material in one exercise and half-year: what a class looks at together."""

    term: Term
    exercise: str
    material: str
    found: tuple[Comparison, ...]
    """At least one."""

    @property
    def groups_number(self) -> int:
        """How many cells there are."""
        return sum(len(each.cells) for each in self.found)


def by_term(lines: Sequence[RecordFacts]) -> list[TermComparisons]:
    """The comparisons of each half-year, the newest first."""
    terms: dict[Term, list[RecordFacts]] = {}
    for line in lines:
        terms.setdefault(term_of(line.date), []).append(line)
    made = []
    for term in sorted(terms, reverse=True):
        of_term: dict[tuple[str, str], list[Comparison]] = {}
        for each in comparisons(terms[term]):
            of_term.setdefault((each.subject.exercise, each.subject.material), []).append(each)
        made += [TermComparisons(term, *key, tuple(found)) for key, found in of_term.items()]
    return made
