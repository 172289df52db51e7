"""Laboratories that broke the same, held together: what several handbooks published, a cell a laboratory."""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from notchbook.facts.alike import KEPT
from notchbook.facts.comparisons import Cell, Comparison, Subject
from notchbook.model.procedure import SpecimenChoice
from notchbook.reading.published_results import PublishedSet, PublishedTest
from notchbook.statistics.summary import half_width, summarise
from notchbook.wording.lists import listed
from notchbook.wording.numbers import plain


@dataclass(frozen=True, slots=True)
class Common:
    """What the laboratories of a comparison have in common; exercises and batches are named by each for itself."""

    material: str
    standard: str
    specimen: SpecimenChoice
    speed_m_s: float
    together: tuple[str, ...]

    @property
    def words(self) -> str:
        """The same in a line."""
        return ", ".join([self.material, *(words for _, words in self.parts)])

    @property
    def parts(self) -> list[tuple[str, str]]:
        """All but the material, each with what it is."""
        chosen = self.specimen
        return [
            ("standard", self.standard),
            ("kind of bars", f"type {chosen.type}, {chosen.notch_words}, {chosen.direction}"),
            ("speed", f"{plain(self.speed_m_s)} m/s"),
            ("kind of break", "/".join(self.together)),
        ]


@dataclass(frozen=True, slots=True)
class RoundRobin:
    """What was found of several laboratories."""

    comparisons: list[Comparison]
    batches: list[list[str]]
    """Of each comparison the batches that were broken."""
    alone: list[tuple[str, str, str]]
    """What one laboratory has alone: its name, what it is, and why nothing is compared with it."""


@dataclass(slots=True)
class _Gathered:
    """The sets of one laboratory for one subject."""

    sets: list[PublishedSet] = field(default_factory=list)
    tests: list[PublishedTest] = field(default_factory=list)


_Found = dict[tuple[Common, str | None], dict[str, _Gathered]]
"""By what was broken and the batch, where several laboratories broke it, and then by laboratory."""


def round_robin(laboratories: Mapping[str, Sequence[PublishedTest]]) -> RoundRobin:
    """The laboratories by name held together, in the order of what they broke.

    Tests that keep to their method are compared where material, standard, bars, nominal speed and the break types that
    share a mean are the same. A laboratory is a cell, with the bars of all its tests: of one batch, where others broke
    bars of it too, and of all the batches that it alone has.
    """
    found = _gathered(laboratories)
    ordered = sorted(found, key=lambda each: (each[0].words, each[1] or ""))
    shared = [each for each in ordered if len(found[each]) > 1]
    alone = [
        (next(iter(found[each])), each[0].words, _reason(each[0], found)) for each in ordered if len(found[each]) == 1
    ]
    batches = [sorted({test.batch or "not stated" for test in _tests(found[each].values())}) for each in shared]
    return RoundRobin([_comparison(each[0], found[each]) for each in shared], batches, alone)


def _gathered(laboratories: Mapping[str, Sequence[PublishedTest]]) -> _Found:
    pieces = [
        (name, test, each, Common(test.material, test.standard, test.specimen, test.speed_m_s, each.together))
        for name, tests in laboratories.items()
        for test in tests
        if test.conforms
        for each in test.sets
    ]
    owners: dict[tuple[Common, str | None], set[str]] = {}
    for name, test, _, common in pieces:
        owners.setdefault((common, test.batch), set()).add(name)
    found: _Found = {}
    for name, test, each, common in pieces:
        batch = test.batch if test.batch is not None and len(owners[common, test.batch]) > 1 else None
        gathered = found.setdefault((common, batch), {}).setdefault(name, _Gathered())
        gathered.sets.append(each)
        gathered.tests.append(test)
    return found


def _tests(gathered: Iterable[_Gathered]) -> list[PublishedTest]:
    return [test for each in gathered for test in each.tests]


def _comparison(common: Common, laboratories: Mapping[str, _Gathered]) -> Comparison:
    tests = _tests(laboratories.values())
    batches = {each.batch for each in tests}
    subject = Subject(
        ", ".join(sorted({each.exercise for each in tests})),
        common.material,
        batches.pop() if len(batches) == 1 else None,
        ", ".join(sorted({each.method for each in tests})),
        common.specimen,
        common.speed_m_s,
        None,
        common.together,
        KEPT,
    )
    return Comparison(subject, tuple(_cell(name, each.sets) for name, each in laboratories.items()))


def _cell(name: str, sets: Sequence[PublishedSet]) -> Cell:
    """One laboratory; of several tests the interval rests on their means, as bars of one have more in common."""
    strengths = tuple(strength for each in sets for strength in each.strengths)
    breaks = tuple(dict.fromkeys(letter for each in sets for letter in each.breaks))
    interval = summarise(strengths).interval
    if len(sets) > 1:
        means = summarise([math.fsum(each.strengths) / len(each.strengths) for each in sets])
        mean, reach = summarise(strengths).mean, half_width(means.standard_deviation or 0.0, means.n)
        interval = mean - reach, mean + reach
    return Cell(name, name, breaks, strengths, interval)


def _reason(common: Common, found: _Found) -> str:
    """Why a laboratory stands alone: what the nearest that another one broke of the material has otherwise."""
    own = _owners(common, found)
    if len(own) > 1:
        return "no other source has these batches"
    others = {each for each, _ in found if each.material == common.material and _owners(each, found) - own}
    if not others:
        return f"no other source has tests of the material {common.material}"

    def differing(other: Common) -> list[str]:
        pairs = zip(common.parts, other.parts, strict=True)
        return [f"another {what}: {words}" for (what, mine), (_, words) in pairs if mine != words]

    nearest = min(others, key=lambda each: (len(differing(each)), each.words))
    return f"the nearest is of {min(_owners(nearest, found) - own)}, with {listed(differing(nearest))}"


def _owners(common: Common, found: _Found) -> set[str]:
    """The laboratories that broke such bars of any batch."""
    return {name for (each, _), laboratories in found.items() if each == common for name in laboratories}
