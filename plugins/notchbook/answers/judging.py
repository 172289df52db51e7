"""Answers of a group to verdicts: right to the digits given, a slip that gives the number, or none that is known."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from notchbook.answers.bars import Bars
from notchbook.answers.candidates import Asked, candidates, of_way, right_values
from notchbook.answers.digits import Given
from notchbook.answers.slips import SLIPS, ways_with_two

Kind = Literal["agrees", "slip", "unknown"]
ROUNDING = "rounding"
_FEWEST_ALIKE = 2
"""Answers of one record that two slips together must give before they are named: one alone they give by chance."""
_RANGE = 2.0
"""By what factor to each side numbers are of one size."""


@dataclass(frozen=True, slots=True)
class Answer:
    """What a group worked out."""

    asked: Asked
    given: Given


@dataclass(frozen=True, slots=True)
class Verdict:
    """What is said of one answer."""

    kind: Kind
    slips: tuple[str, ...] = ()
    """Ids, the likeliest first."""
    together: bool = False
    """Whether it takes both slips to get the number, and not either of them."""
    chance_pct: float | None = None
    """How many in a hundred wrong numbers of that size and as many digits some slip would give; None where right."""


def judge(bars: Bars, answers: Sequence[Answer]) -> list[Verdict]:
    """A verdict for each answer about one record.

    One slip is tried over all answers before two are blamed: of the slips that give a number those come first that give
    more of the other answers too, and two together are named only where they give two answers or more.
    """
    found = [_alone(bars, each) for each in answers]
    support = Counter(slip for each in found for slip in each.slips)
    verdicts = [
        replace(each, slips=tuple(sorted(each.slips, key=lambda slip: (-support[slip], SLIPS.index(slip)))))
        for each in found
    ]
    unknown = [place for place, each in enumerate(verdicts) if each.kind == "unknown"]
    if len(unknown) >= _FEWEST_ALIKE:
        for place, slips in _together(bars, answers, unknown).items():
            verdicts[place] = replace(verdicts[place], kind="slip", slips=slips, together=True)
    return verdicts


def _alone(bars: Bars, answer: Answer) -> Verdict:
    right = right_values(bars, answer.asked)
    figures = None if answer.asked.quantity == "energy_J" else bars.method.reporting.significant_figures
    if any(answer.given.is_rounded(each, figures) for each in right):
        return Verdict("agrees")
    known = candidates(bars, answer.asked)
    slips = [slip for slip, value in known if answer.given.gives(value)]
    # off by the last digit is also what comes near by chance; cut off there is what somebody does
    if any(answer.given.is_cut_off(each) or (not slips and answer.given.is_near(each)) for each in right):
        slips.append(ROUNDING)
    named = list(dict.fromkeys(slips))
    chance = _chance_pct(right[0], answer.given, [value for _, value in known]) if right else None
    return Verdict("slip" if named else "unknown", tuple(named), chance_pct=chance)


def _chance_pct(right: float, given: Given, values: Sequence[float]) -> float:
    """The share of numbers within a factor of the right one, with the digits given, that some slip gives."""
    low, high = sorted((right / _RANGE, right * _RANGE))
    numbers = max((high - low) / given.unit, 1.0)
    hit = {round(each / given.unit) for each in values if low <= each <= high}
    hit |= {round(right / given.unit) + step for step in (-1, 1)}
    return min(100.0, 100.0 * len(hit - {round(right / given.unit)}) / numbers)


def _together(bars: Bars, answers: Sequence[Answer], unknown: list[int]) -> dict[int, tuple[str, ...]]:
    """The two slips that give most of the answers that nothing else gives, by the places of these."""
    fits: dict[tuple[str, ...], set[int]] = {}
    for way in ways_with_two(bars):
        for place in unknown:
            value = of_way(way, bars, answers[place].asked)
            if value is not None and answers[place].given.is_rounded(value):
                fits.setdefault(way.slips, set()).add(place)
    best = max(fits, key=lambda slips: len(fits[slips]), default=())
    if not best or len(fits[best]) < _FEWEST_ALIKE:
        return {}
    return dict.fromkeys(fits[best], best)
