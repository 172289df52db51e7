"""What the page of an exercise says of hammers: which to take for which material, and what a reading means."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from notchbook.evaluation.hammer_choice import (
    broken_bars,
    choose_hammer,
    expected_energy_J,
    nominal_section,
    typical_strength,
)
from notchbook.evaluation.lookup import lookup_table
from notchbook.pages.rigs import hammer_lines

if TYPE_CHECKING:
    from collections.abc import Sequence

    from notchbook.evaluation.hammer_choice import Choice, ExpectedEnergy, Section
    from notchbook.evaluation.lookup import LookupTable
    from notchbook.evaluation.records import SpecimenResult
    from notchbook.handbook import Handbook
    from notchbook.model.method import Method
    from notchbook.model.procedure import Exercise, Material
    from notchbook.model.rig import Rig
    from notchbook.pages.results import ResultLine
    from notchbook.pages.rigs import HammerLine


@dataclass(frozen=True, slots=True)
class RigHammers:
    """A rig with its hammers of one method, the lightest first."""

    rig: Rig
    lines: list[HammerLine]


@dataclass(frozen=True, slots=True)
class RigChoice:
    """The hammer to take on one rig."""

    line: HammerLine
    choice: Choice

    @property
    def above(self) -> bool:
        """Whether the bars take more than any window of the rig holds, where none holds any of it."""
        method, high = self.line.method, self.choice.high_pct
        return method is not None and high is not None and high > method.energy_window.high_pct


@dataclass(frozen=True, slots=True)
class MaterialRow:
    """One material with the hammer to take on each rig, in the order of the rigs."""

    material: Material
    expected: ExpectedEnergy | None
    unbroken: int
    """How many own bars did not break."""
    choices: list[RigChoice]


@dataclass(frozen=True, slots=True)
class HammerTable:
    """One hammer with its look-up table; None where the hammer has not been verified."""

    line: HammerLine
    table: LookupTable | None


def rigs_with_hammers(handbook: Handbook, method_id: str) -> list[RigHammers]:
    """The rigs that have hammers of a method, by id."""
    found = []
    for _, rig in sorted(handbook.library.rigs.items()):
        lines = [each for each in hammer_lines(handbook, rig) if each.hammer.method == method_id]
        if lines:
            found.append(RigHammers(rig, lines))
    return found


def own_bars(lines: Sequence[ResultLine]) -> list[tuple[ResultLine, SpecimenResult]]:
    """The broken bars of the records that conform, each with its record."""
    return [
        (line, bar)
        for line in lines
        if line.verdict.conforms and line.result is not None and line.method is not None
        for bar in broken_bars(line.result, line.method)
    ]


def material_rows(
    handbook: Handbook, exercise: Exercise, method: Method, lines: Sequence[ResultLine], rigs: Sequence[RigHammers]
) -> list[MaterialRow]:
    """For every material the hammer to take; none for an exercise without a specimen.

    Arguments:
        handbook: whose materials are listed.
        exercise: what is to be done.
        method: that of the exercise.
        lines: the records of the exercise.
        rigs: those with hammers of the method.
    """
    if exercise.specimen is None or not rigs:
        return []
    section = nominal_section(method, exercise.specimen)
    energies: dict[str, list[float]] = {}
    for line, bar in own_bars(lines):
        if bar.energy_J is not None:
            energies.setdefault(line.record.material, []).append(bar.energy_J)
    unbroken: Counter[str] = Counter()
    for line in lines:
        unbroken[line.record.material] += line.unbroken if line.verdict.conforms else 0
    rows = []
    for material_id, material in sorted(handbook.library.materials.items()):
        typical = typical_strength(material, method.id, exercise.specimen.notch)
        expected = expected_energy_J(energies.get(material_id, ()), typical, section)
        choices = [_choice(rig, method, expected) for rig in rigs]
        rows.append(
            MaterialRow(material, expected, unbroken[material_id], [each for each in choices if each is not None])
        )
    return rows


def _choice(rig: RigHammers, method: Method, expected: ExpectedEnergy | None) -> RigChoice | None:
    choice = choose_hammer([each.hammer for each in rig.lines], method.energy_window, expected)
    if choice is None:
        return None
    return RigChoice(next(each for each in rig.lines if each.hammer is choice.hammer), choice)


def lookup_tables(
    method: Method, section: Section | None, rigs: Sequence[RigHammers]
) -> list[tuple[Rig, list[HammerTable]]]:
    """A look-up table for every hammer, by rig; none without a nominal section."""
    if section is None:
        return []
    return [
        (
            each.rig,
            [
                HammerTable(
                    line,
                    lookup_table(each.rig.indicator, line.hammer, method, line.losses, section)
                    if line.losses is not None
                    else None,
                )
                for line in each.lines
            ],
        )
        for each in rigs
    ]
