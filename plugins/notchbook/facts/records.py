"""A test record: its results as they are reported, its verdict, its bars."""

import datetime as dt
import math
from dataclasses import dataclass, field
from functools import cached_property
from typing import Self

from notchbook.checks.verdict import Verdict
from notchbook.evaluation.budgets import SetUncertainty
from notchbook.evaluation.input_uncertainties import Taken
from notchbook.evaluation.library import Evaluation
from notchbook.evaluation.records import SetResult, SpecimenResult, broken_bars, outlying
from notchbook.evaluation.resolved import ResolvedRecord
from notchbook.evaluation.uncertainty import RecordUncertainty
from notchbook.handbook import Handbook
from notchbook.model.method import Method
from notchbook.model.quantity import Quantity, quantity_of
from notchbook.model.record import Specimen
from notchbook.statistics.summary import half_width, specimens_for
from notchbook.wording.lists import listed
from notchbook.wording.numbers import interval_ends, to_figures


@dataclass(frozen=True)
class ReportedSet:
    """One set of a record as it is reported."""

    letters: str
    """Its break types in one word, which no other set of the record has."""
    words: str
    n: int
    reported: str
    """The mean as the method rounds it, in kJ/m²."""
    result: SetResult
    line: "RecordFacts" = field(repr=False, compare=False)
    """The record that it is of."""

    @property
    def together(self) -> tuple[str, ...]:
        """All break types that share its mean, whether they occur in it or not."""
        method, first = self.line.method, self.result.breaks[0]
        return method.breaks.group_of(first) if method is not None else self.result.breaks

    @cached_property
    def uncertainty(self) -> SetUncertainty | None:
        """Uncertainty of its mean; None for a single bar, or where that of its bars is not known."""
        of_bars = self.line.uncertainty
        return None if of_bars is None else of_bars.of_set(self.result)

    @property
    def interval(self) -> tuple[float, float] | None:
        """Two-sided 95 % interval of the mean, in kJ/m²: with the scatter of the bars and with what they all share.

        From the scatter alone where nothing else is known; None for a single bar.
        """
        if self.uncertainty is None:
            return self.result.summary.interval
        mean, expanded = self.result.summary.mean, self.uncertainty.expanded
        return mean - expanded, mean + expanded

    @property
    def expanded_kJ_m2(self) -> float | None:
        """Half of that interval; None for a single bar."""
        return self.half_width_kJ_m2(self.n) if self.uncertainty is None else self.uncertainty.expanded

    @property
    def interval_words(self) -> str:
        """The interval with its unit; empty for a single bar."""
        if self.interval is None:
            return ""
        return self._ends(self.interval) + (" (from scatter alone)" if self.uncertainty is None else "")

    @property
    def scatter_interval_words(self) -> str:
        """The same by the scatter of the bars alone, which is what a method means by it."""
        of_scatter = self.result.summary.interval
        return "" if of_scatter is None else self._ends(of_scatter)

    def _ends(self, interval: tuple[float, float]) -> str:
        low, high = interval_ends(*interval)
        return f"{low} to {high}\N{NO-BREAK SPACE}{self.result.quantity.unit}"

    @property
    def interval_below_zero(self) -> bool:
        """Whether the 95 % interval of the mean holds strengths below 0, which cannot be."""
        return self.interval is not None and self.interval[0] < 0.0

    def half_width_kJ_m2(self, n: int) -> float | None:
        """Half the interval of the mean of so many bars that scatter as these, from scatter alone; None for one bar."""
        deviation = self.result.summary.standard_deviation
        return None if deviation is None else half_width(deviation, n)

    def bars_for(self, share: float) -> int | None:
        """The least number of bars by which the mean would be known to a share of itself, where that can be said."""
        deviation = self.result.summary.standard_deviation
        return None if deviation is None else specimens_for(deviation, share * abs(self.result.summary.mean))


@dataclass(frozen=True, kw_only=True)
class RecordFacts(ResolvedRecord):
    """One record with its results, for a row of a table or the head of its page."""

    verdict: Verdict
    drift: Taken | None
    """How far its losses may have gone since they were verified, as a share; None for those of the day."""
    evaluation: Evaluation = field(repr=False, compare=False)
    """Asked for the uncertainty of this record alone, which follows from what else is known of it."""

    @classmethod
    def of_record(cls, handbook: Handbook, record_id: str) -> Self:
        """The record of that id."""
        verdict, evaluation = handbook.verdicts.records[record_id], handbook.evaluation
        record = handbook.library.records[record_id]
        drift = evaluation.loss_drift(record)
        return cls.of(evaluation, record, verdict=verdict, drift=drift, evaluation=evaluation)

    @property
    def uncertainty(self) -> RecordUncertainty | None:
        """Uncertainties of its results; None where the losses of its tests are not known."""
        return self.evaluation.uncertainty(self.record.id)

    @cached_property
    def sets(self) -> tuple[ReportedSet, ...]:
        """Its sets as they are reported, the largest first."""
        if self.result is None or self.method is None:
            return ()
        return tuple(_reported(each, self.method, self) for each in self.result.sets)

    @property
    def bars(self) -> list[tuple[Specimen, SpecimenResult]]:
        """Its bars with what each gave; none where it could not be evaluated."""
        return list(zip(self.record.specimens, self.result.specimens, strict=True)) if self.result is not None else []

    @property
    def broken_bars(self) -> list[tuple[int, SpecimenResult]]:
        """The bars whose energy counts, with their places: broken and not excluded."""
        return broken_bars(self.result, self.method) if self.result is not None and self.method is not None else []

    @property
    def outlying(self) -> list[str]:
        """Ids of the bars that stand apart from their set by Grubbs' test at 5 %."""
        found = outlying(self.result) if self.result is not None else ()
        return [self.record.specimens[place].id for place in found]

    @property
    def counted(self) -> int:
        """How many bars count."""
        return sum(each.counts for each in self.record.specimens)

    @cached_property
    def _unbroken(self) -> list[str]:
        breaks = self.method.breaks if self.method is not None else None
        counting = [each.break_type for each in self.record.specimens if each.counts]
        return [each for each in counting if breaks is not None and breaks.leave_unbroken(each)]

    @property
    def unbroken(self) -> int:
        """How many bars that count did not break."""
        return len(self._unbroken)

    @property
    def unbroken_words(self) -> str:
        """How many of the bars that count did not break: `8 of 10`."""
        return f"{self.unbroken} of {self.counted}"

    @property
    def unbroken_lead(self) -> bool:
        """Whether more bars did not break than broke in any one way, so that this is the result before any mean."""
        return self.unbroken > (self.sets[0].n if self.sets else 0)

    @property
    def unbroken_letters(self) -> tuple[str, ...]:
        """Break types without a strength among the bars that count."""
        return tuple(sorted(set(self._unbroken)))

    @property
    def unbroken_name(self) -> str:
        """The break types of the bars that did not break, in one word."""
        return "/".join(self.unbroken_letters)

    @property
    def material_name(self) -> str:
        """The material's symbol, or its id where it is not known."""
        return self.material.symbol if self.material else self.record.material

    @property
    def exercise_name(self) -> str:
        """The exercise's title, or its id where it is not known."""
        return self.exercise.title if self.exercise else self.record.exercise

    @property
    def notch_words(self) -> str:
        """The notch in words: `notch A`, `unnotched`."""
        return self.record.specimen.notch_words

    @property
    def notch_radius_mm(self) -> float:
        """Radius at the base of the notch as the method asks for it; infinite without a notch or where not known."""
        return self.notch.base_radius_mm.value if self.notch else math.inf

    @property
    def designation(self) -> str:
        """The method's designation of the test, or its standard where it has none."""
        return self.method.designation(self.record.specimen) if self.method is not None else "–"

    @property
    def symbol(self) -> str:
        """The symbol of the strength, such as a_cN."""
        return self.quantity.symbol

    @property
    def quantity(self) -> Quantity:
        """What its results are values of."""
        return quantity_of(self.record, self.method)

    @property
    def date(self) -> dt.date:
        """The day of the test."""
        return self.record.date

    @property
    def short(self) -> str:
        """The result in a few characters: `4.1 C`, `34 P; 25 H; 2 N`, `8 of 10 did not break; 4.1 C of 2`."""
        if self.unbroken_lead:
            means = [f"{each.reported} {each.letters} of {each.n}" for each in self.sets]
            return "; ".join([f"{self.unbroken_words} did not break", *means])
        parts = [f"{each.reported} {each.letters}" for each in self.sets]
        return "; ".join([*parts, *([f"{self.unbroken} {self.unbroken_name}"] if self.unbroken else [])]) or "–"


def _reported(found: SetResult, method: Method, line: RecordFacts) -> ReportedSet:
    titles = [kind.title for letter in found.breaks if (kind := method.breaks.of_letter(letter))]
    return ReportedSet(
        letters=found.name,
        words=f"{listed(titles)} {'break' if found.summary.n == 1 else 'breaks'}",
        n=found.summary.n,
        reported=to_figures(found.summary.mean, method.reporting.significant_figures),
        result=found,
        line=line,
    )
