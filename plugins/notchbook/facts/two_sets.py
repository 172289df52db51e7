"""Two sets of records against each other: whether they may be compared, by how much they differ, and what that says."""

import datetime as dt
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property
from itertools import product

from notchbook.facts.alike import KEPT, Departure, departure_of
from notchbook.facts.records import RecordFacts, ReportedSet
from notchbook.statistics.comparing import Difference, KnownMean, Ratio, difference, ratio
from notchbook.wording.dates import day_words
from notchbook.wording.lists import listed
from notchbook.wording.nearest import nearest
from notchbook.wording.numbers import decimals_of, figures_text, interval_ends, plain, to_decimals, to_figures

_BETWEEN = re.compile("[:/]")


class NoSetError(LookupError):
    """There is no such record, or it has no such set."""

    def __init__(self, message: str, hint: str) -> None:
        super().__init__(message)
        self.hint = hint


@dataclass(frozen=True)
class TwoSets:
    """Two sets, the first less the second."""

    first: ReportedSet
    second: ReportedSet

    @cached_property
    def obstacles(self) -> tuple[str, ...]:
        """Why they are not to be compared, each as words that follow `not comparable: `; none where they may be."""
        a, b = self.first.line, self.second.line
        differing = {what: of for what, of in HAVE_TO_AGREE.items() if of(a) != of(b)}
        found = [f"different {what}, {listed(_both(of, a, b))}" for what, of in differing.items()]
        if a.method is not None and a.method == b.method:
            ways = [a.method.breaks.group_of(each.result.breaks[0]) for each in (self.first, self.second)]
            if ways[0] != ways[1]:
                found.append(f"different break types, {self.first.letters} and {self.second.letters}")
        departures = [departure_of(each) for each in (a, b)]
        if departures[0] != departures[1]:
            words = (f"{each.record.id} {departure_words(of)}" for each, of in zip((a, b), departures, strict=True))
            found.append(f"different departures from the method: {', '.join(words)}")
        if a.record.id == b.record.id and self.first.letters == self.second.letters:
            found.append("they are one and the same set")
        return tuple(found)

    @property
    def shares_a_pendulum(self) -> bool:
        """Whether one hammer on one rig broke the bars of both, so that what is not known of it cancels."""
        a, b = self.first.line.record, self.second.line.record
        return (a.rig, a.hammer) == (b.rig, b.hammer)

    @cached_property
    def difference(self) -> Difference | None:
        """The first mean less the second in kJ/m2, with its 95 % interval; None where they are not comparable."""
        return None if self.obstacles else difference(*self._means)

    @cached_property
    def ratio(self) -> Ratio | None:
        """The first mean over the second; None where they are not comparable or a mean is not greater than 0."""
        if self.obstacles or min(each.mean for each in self._means) <= 0.0:
            return None
        return ratio(*self._means)

    @property
    def basis(self) -> str:
        """What the interval takes into account, in words."""
        if self.shares_a_pendulum:
            return "from the scatter of the bars alone: both were broken by one pendulum"
        if all(each.uncertainty for each in (self.first, self.second)):
            return "from the scatter of the bars and what is not known of the two pendulums"
        return (
            "from the scatter of the bars alone, although the pendulums differ: what is not known of them is left out"
        )

    @property
    def differs_beside(self) -> list[str]:
        """What else is not the same in both, so that the difference may come from it."""
        a, b = self.first.line, self.second.line
        return [f"{what} ({', '.join(_both(of, a, b))})" for what, of in MAY_DIFFER.items() if of(a) != of(b)]

    @property
    def amount(self) -> str:
        """The size of the difference with its half-width and direction: `2.1 ± 1.0 kJ/m² higher`."""
        found = self.difference
        if found is None:
            return ""
        unit = self.first.result.quantity.unit
        if found.interval is None or found.interval[0] == found.interval[1]:
            size = to_figures(abs(found.difference), 2)
        else:
            half = figures_text((found.interval[1] - found.interval[0]) / 2.0, 2)
            size = f"{to_decimals(abs(found.difference), decimals_of(half))} ± {half}"
        way = "higher" if found.difference >= 0.0 else "lower"
        return f"{size}\N{NO-BREAK SPACE}{unit} {way}"

    @property
    def interval_words(self) -> str:
        """The 95 % interval of the first mean less the second; empty where there is none."""
        if self.difference is None or self.difference.interval is None:
            return ""
        low, high = interval_ends(*self.difference.interval)
        return f"{low} to {high}\N{NO-BREAK SPACE}{self.first.result.quantity.unit}"

    @property
    def told(self) -> str:
        """The result in one sentence."""
        if self.obstacles:
            return f"not comparable: {'; '.join(self.obstacles)}"
        found = self.difference
        if found is None or found.interval is None:
            return f"{self.amount}; of a single bar no interval can be had"
        holds = "does not contain 0" if found.excludes_zero else "contains 0"
        return f"{self.amount}; the 95 % interval, {self.interval_words}, {holds}"

    @property
    def meaning(self) -> str:
        """What that says, and what it does not."""
        found = self.difference
        if self.obstacles:
            return "Strengths that were measured otherwise are other quantities; their difference says nothing."
        if found is None or found.interval is None:
            return "One bar does not show how bars scatter, so nothing tells whether this is more than scatter."
        if found.excludes_zero:
            said = "So large a difference comes about by that alone in fewer than one of twenty such comparisons."
        else:
            said = (
                "That alone explains such a difference. It is no proof that the two are the same: any difference "
                "within the interval would look like this."
            )
        beside = self.differs_beside
        return f"{said} Of its cause it says nothing{f'; they also differ in {listed(beside)}' if beside else ''}."

    @property
    def _means(self) -> tuple[KnownMean, KnownMean]:
        pair = (self.first, self.second)
        known = not self.shares_a_pendulum and all(each.uncertainty for each in pair)
        return known_mean(self.first, known=known), known_mean(self.second, known=known)


def departure_words(departure: Departure) -> str:
    """Whether a record keeps to its method, and what it departs in where."""
    if departure == KEPT:
        return "keeps to it"
    return f"departs in {departure.words} on {departure.rig}" if departure.accepted else "has errors"


def known_mean(found: ReportedSet, *, known: bool) -> KnownMean:
    """The mean of a set, from its scatter alone or with all that is not known of it."""
    summary = found.result.summary
    if known and found.uncertainty is not None:
        return KnownMean(summary.mean, found.uncertainty.standard, found.uncertainty.effective_degrees_of_freedom)
    if summary.standard_deviation is None:
        return KnownMean(summary.mean, None)
    return KnownMean(summary.mean, summary.standard_deviation / found.n**0.5, summary.n - 1)


def two_sets(records: Mapping[str, RecordFacts], first: str, second: str) -> TwoSets:
    """The sets that two references name: the id of a record, or with the break types of a set behind a colon or slash.

    Without break types the largest sets are meant that share a mean, else the largest of each.

    Raises:
        NoSetError: There is no such record or set.
    """
    chosen = [_sets_of(records, each) for each in (first, second)]
    pairs = [TwoSets(a, b) for a, b in product(*chosen)]
    return next((each for each in pairs if not each.obstacles), pairs[0])


def _sets_of(records: Mapping[str, RecordFacts], reference: str) -> list[ReportedSet]:
    record_id, *letters = _BETWEEN.split(reference, maxsplit=1)
    if record_id not in records:
        raise NoSetError(f"there is no test '{record_id}'", nearest(record_id, records))
    sets = {each.letters: each for each in records[record_id].sets}
    if not sets:
        raise NoSetError(f"test '{record_id}' has no mean", "choose one with bars that broke")
    if letters and letters[0] not in sets:
        raise NoSetError(f"test '{record_id}' has no mean of '{letters[0]}'", nearest(letters[0], sets))
    return [sets[letters[0]]] if letters else list(sets.values())


def _both(of: Callable[[RecordFacts], object], *lines: RecordFacts) -> list[str]:
    return [shown(of(each)) for each in lines]


def shown(value: object) -> str:
    """What a record is of, as a reader has it."""
    return day_words(value) if isinstance(value, dt.date) else str(value or "none")


HAVE_TO_AGREE: dict[str, Callable[[RecordFacts], object]] = {
    "methods": lambda line: line.method.standard if line.method is not None else "not known",
    "tests": lambda line: line.designation,
    "speeds": lambda line: f"{plain(line.speed_m_s)} m/s",
}
"""What makes them the same quantity."""
MAY_DIFFER: dict[str, Callable[[RecordFacts], object]] = {
    "material": lambda line: line.material_name,
    "batch": lambda line: line.record.batch,
    "day": lambda line: line.date,
    "group": lambda line: line.record.group,
    "rig": lambda line: line.record.rig,
    "hammer": lambda line: line.record.hammer,
}
"""What a difference may come from."""
