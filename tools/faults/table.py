"""The table of changes: how many the check caught, and what explains those that it missed."""

import textwrap
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from faults.changes import KINDS
from faults.explanations import Explanation, matches
from notchbook.findings import Severity

_WIDTH = 100


@dataclass(frozen=True, slots=True, order=True)
class Outcome:
    """One change and the gravest that the check said of it."""

    number: str
    """The pattern of the number that was changed."""
    change: str
    place: str
    """File, line and column."""
    severity: Severity | None
    """None where it was missed."""


@dataclass(frozen=True, slots=True)
class Miss:
    """All changes of one kind to numbers of one pattern, of which some were missed."""

    number: str
    change: str
    missed: int
    made: int
    example: str
    explanation: Explanation | None

    @property
    def within(self) -> bool:
        """Whether it is explained, and no more were missed than the explanation allows."""
        return self.explanation is not None and 100.0 * self.missed <= self.explanation.most_pct * self.made

    @property
    def line(self) -> str:
        """The miss as a line of the table."""
        return f"{self.number} {self.change}: {self.missed} of {self.made}, such as {self.example}"


@dataclass(frozen=True, slots=True)
class Table:
    """What was made of a number of changes."""

    outcomes: Sequence[Outcome]
    explanations: Sequence[Explanation]

    def misses(self) -> list[Miss]:
        """The misses in the order of their numbers, each with the first explanation that names it."""
        made = Counter((each.number, each.change) for each in self.outcomes)
        missed: dict[tuple[str, str], list[Outcome]] = {}
        for each in sorted(self.outcomes, key=lambda each: (each.number, each.change, each.place)):
            if each.severity is None:
                missed.setdefault((each.number, each.change), []).append(each)
        return [
            Miss(*case, len(outcomes), made[case], outcomes[0].place, self._explanation(*case))
            for case, outcomes in missed.items()
        ]

    def _explanation(self, number: str, change: str) -> Explanation | None:
        for each in self.explanations:
            if change in each.changes and any(matches(pattern, number) for pattern in each.numbers):
                return each
        return None

    def idle(self) -> list[tuple[str, str]]:
        """Patterns and changes of the explanations for which nothing is missed any more."""
        misses = self.misses()
        return [
            (pattern, change)
            for explanation in self.explanations
            for pattern, change in explanation.cases
            if not any(
                miss.explanation is explanation and miss.change == change and matches(pattern, miss.number)
                for miss in misses
            )
        ]

    def summary(self) -> list[str]:
        """A line a kind of change: made, caught by an error, by a warning, missed, and the share that was caught."""
        lines = [f"{'change':<12}{'made':>8}{'error':>8}{'warning':>9}{'missed':>8}{'caught':>10}"]
        for name in (*KINDS, "all"):
            severities = Counter(each.severity for each in self.outcomes if name in (each.change, "all"))
            made, missed = severities.total(), severities[None]
            share = f"{100.0 * (made - missed) / made:.2f} %" if made else "-"
            caught = f"{severities[Severity.ERROR]:>8}{severities[Severity.WARNING]:>9}"
            lines.append(f"{name:<12}{made:>8}{caught}{missed:>8}{share:>10}")
        return lines

    def explained(self) -> list[str]:
        """Every miss that is explained, below its explanation."""
        misses = self.misses()
        lines = []
        for explanation in self.explanations:
            below = [miss for miss in misses if miss.explanation is explanation]
            if below:
                words = f"{explanation.why} Instead: {explanation.who}"
                lines += ["", *textwrap.wrap(words, _WIDTH), *(f"  {miss.line}" for miss in below)]
        return lines

    def trouble(self, *, whole: bool) -> list[str]:
        """What makes the run fail: misses that nothing explains, too many of them, and explanations of nothing.

        Arguments:
            whole: whether all changes were made; of a sample neither shares nor the lack of a miss say anything.
        """
        misses = self.misses()
        lines = [f"not explained: {miss.line}" for miss in misses if miss.explanation is None]
        if whole:
            lines += [
                f"more than {miss.explanation.most_pct} %: {miss.line}"
                for miss in misses
                if miss.explanation is not None and not miss.within
            ]
            lines += [f"explains nothing any more: {pattern} {change}" for pattern, change in self.idle()]
        return lines
