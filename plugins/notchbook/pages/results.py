"""Results in words and for charts, shared by the pages that show them."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from notchbook.charts.kinds import BreakKind
from notchbook.evaluation.quantity import IMPACT_STRENGTH, quantity_of
from notchbook.wording.lists import listed
from notchbook.wording.numbers import to_figures

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Iterable

    from notchbook.checks.verdict import Verdict
    from notchbook.evaluation.hammers import SwungHammer
    from notchbook.evaluation.records import RecordResult, SetResult
    from notchbook.handbook import Handbook
    from notchbook.model.method import Arrangement, Method
    from notchbook.model.procedure import Exercise, Material
    from notchbook.model.record import Record

_OR = " or "


@dataclass(frozen=True, slots=True)
class SetLine:
    """One set of a record as it is reported."""

    letters: str
    """Its break types in one word, which no other set of the record has."""
    words: str
    n: int
    reported: str
    """The mean as the method rounds it, in kJ/m²."""
    result: SetResult


@dataclass(frozen=True, slots=True)
class ResultLine:
    """One record with its results, for a row of a table or the head of its page."""

    record: Record
    material: Material | None
    exercise: Exercise | None
    method: Method | None
    hammer: SwungHammer | None
    result: RecordResult | None
    verdict: Verdict
    sets: tuple[SetLine, ...]
    unbroken_letters: tuple[str, ...]
    """Break types without a strength among the bars that count."""
    unbroken: int
    """How many bars that count did not break."""
    counted: int
    """How many bars count."""

    @property
    def material_name(self) -> str:
        """The material's symbol, or its id where it is not known."""
        return self.material.symbol if self.material else self.record.material

    @property
    def exercise_name(self) -> str:
        """The exercise's title, or its id where it is not known."""
        return self.exercise.title if self.exercise else self.record.exercise

    @property
    def arrangement(self) -> Arrangement | None:
        """The method's arrangement for the bars, or None where it has none."""
        chosen = self.record.specimen
        specimen_type = self.method.specimen_type(chosen.type) if self.method else None
        return specimen_type.arrangement(chosen.direction, chosen.notch) if specimen_type else None

    @property
    def notch_words(self) -> str:
        """The notch in words: `notch A`, `unnotched`."""
        return "unnotched" if self.record.specimen.notch == "none" else f"notch {self.record.specimen.notch}"

    @property
    def notch_radius_mm(self) -> float:
        """Radius at the base of the notch as the method asks for it; infinite without a notch or where not known."""
        notch = self.method.notch(self.record.specimen.notch) if self.method else None
        return notch.base_radius_mm.value if notch else math.inf

    @property
    def designation(self) -> str:
        """The method's designation of the test, or its standard where it has none."""
        if self.method is None:
            return "–"
        return self.arrangement.designation if self.arrangement else self.method.standard

    @property
    def symbol(self) -> str:
        """The symbol of the strength, such as a_cN."""
        return quantity_of(self.record, self.method).symbol if self.method is not None else IMPACT_STRENGTH.symbol

    @property
    def date(self) -> dt.date:
        """The day of the test."""
        return self.record.date

    @property
    def unbroken_name(self) -> str:
        """The break types of the bars that did not break, in one word."""
        return "/".join(self.unbroken_letters)

    @property
    def short(self) -> str:
        """The result in a few characters: `4.1 C`, `34 P; 25 H`, `no break`."""
        parts = [f"{each.reported} {each.letters}" for each in self.sets]
        if self.unbroken:
            parts.append("no break" if not parts else f"{self.unbroken} {self.unbroken_name}")
        return "; ".join(parts) or "–"


def break_kinds(methods: Iterable[Method | None]) -> dict[str, BreakKind]:
    """The break types of the methods by letter, for charts; a letter that they use differently has all its titles."""
    found: dict[str, BreakKind] = {}
    for method in {each.id: each for each in methods if each is not None}.values():
        for each in method.breaks.types:
            kind = BreakKind(each.title, method.breaks.role_of(each.letter) or "none")
            known = found.setdefault(each.letter, kind)
            if kind.title.casefold() not in known.title.casefold().split(_OR):
                found[each.letter] = replace(known, title=f"{known.title}{_OR}{kind.title}")
    return found


def result_line(handbook: Handbook, record: Record) -> ResultLine:
    """The line of one record."""
    library = handbook.library
    hammer = handbook.evaluation.hammers.get((record.rig, record.hammer))
    method = library.methods.get(hammer.method) if hammer is not None else None
    result = handbook.evaluation.records.get(record.id)
    counting = [each for each in record.specimens if each.excluded is None]
    without = {each.letter for each in method.breaks.types if not each.has_strength} if method is not None else set()
    unbroken = [each.break_type for each in counting if each.break_type in without]
    return ResultLine(
        record=record,
        material=library.materials.get(record.material),
        exercise=library.exercises.get(record.exercise),
        method=method,
        hammer=hammer,
        result=result,
        verdict=handbook.verdicts.records[record.id],
        sets=tuple(_set_line(each, method) for each in result.sets) if result and method else (),
        unbroken_letters=tuple(sorted(set(unbroken))),
        unbroken=len(unbroken),
        counted=len(counting),
    )


def _set_line(found: SetResult, method: Method) -> SetLine:
    titles = [kind.title for letter in found.breaks if (kind := method.breaks.of_letter(letter))]
    return SetLine(
        letters=found.name,
        words=f"{listed(titles)} {'break' if found.summary.n == 1 else 'breaks'}",
        n=found.summary.n,
        reported=to_figures(found.summary.mean, method.reporting.significant_figures),
        result=found,
    )


def result_lines(handbook: Handbook) -> list[ResultLine]:
    """All records, the newest first."""
    records = sorted(handbook.library.records.values(), key=lambda each: (each.date, each.id), reverse=True)
    return [result_line(handbook, record) for record in records]
