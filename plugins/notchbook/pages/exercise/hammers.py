"""What the page of an exercise says of hammers: which to take for which material, and what a reading means."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import TYPE_CHECKING

from notchbook.evaluation.hammer_choice import choose_hammer, expected_energy_J, outlook, typical_strength
from notchbook.evaluation.lookup import lookup_table
from notchbook.evaluation.records import broken_bars
from notchbook.evaluation.section import nominal_section
from notchbook.pages.exercise import hammer_words
from notchbook.pages.rig.pages import hammer_lines
from notchbook.pages.sheets.lookups import sheet_name
from notchbook.wording.numbers import to_figures

if TYPE_CHECKING:
    from collections.abc import Sequence

    from notchbook.evaluation.hammer_choice import Choice, ExpectedEnergy, Outlook
    from notchbook.evaluation.lookup import LookupTable
    from notchbook.evaluation.records import SpecimenResult
    from notchbook.evaluation.section import Section
    from notchbook.handbook import Handbook
    from notchbook.model.method import EnergyWindow, Method
    from notchbook.model.procedure import Exercise, Material
    from notchbook.model.rig import Rig
    from notchbook.pages.results import ResultLine
    from notchbook.pages.rig.pages import HammerLine


@dataclass(frozen=True, slots=True)
class RigHammers:
    """A rig with its hammers of one method, the lightest first."""

    rig: Rig
    lines: list[HammerLine]


@dataclass(frozen=True, slots=True)
class RigChoice:
    """The hammer to take on one rig."""

    rig: Rig
    line: HammerLine
    choice: Choice
    window: EnergyWindow
    outlook: Outlook | None
    """What the bars would be on it; None where nothing is known of them."""

    @property
    def above(self) -> bool:
        """Whether the bars take more than any window of the rig holds, where none holds any of it."""
        return hammer_words.too_much_for_all(self.choice, self.window)

    @property
    def none_fits(self) -> str:
        """Why no hammer will do, where none holds any of the bars."""
        return hammer_words.none_fits(self.choice, self.window)

    @property
    def left_out(self) -> str:
        """Which bars its window does not hold; empty where it holds all or none."""
        return hammer_words.left_out(self.choice, self.window)

    @property
    def division(self) -> str:
        """What one division of the scale is worth at the most; empty where nothing is known of the bars."""
        worth = [each for each in self.outlook.division_kJ_m2 if each is not None] if self.outlook else []
        if not worth:
            return ""
        return f"{hammer_words.division(self.rig.indicator)}: {to_figures(max(worth), 2)} kJ/m²"


@dataclass(frozen=True, slots=True)
class MaterialRow:
    """One material with the hammer to take on each rig, in the order of the rigs."""

    material: Material
    expected: ExpectedEnergy | None
    unbroken: int
    """How many own bars did not break."""
    choices: list[RigChoice]

    @property
    def known_from(self) -> str:
        """What the expected energies rest on."""
        return hammer_words.known_from(self.expected, self.unbroken)


@dataclass(frozen=True, slots=True)
class HammerOutlook:
    """One hammer with what the bars would be on it; None where nothing is known of them."""

    line: HammerLine
    outlook: Outlook | None


@dataclass(frozen=True, slots=True)
class HammerTable:
    """One hammer with its look-up table; None where the hammer has not been verified."""

    line: HammerLine
    table: LookupTable | None
    sheet: str
    """Name of the page with every division, where there is a table."""


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
        for _, bar in broken_bars(line.result, line.method)
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
        choices = [_choice(rig, method, section, expected) for rig in rigs]
        rows.append(
            MaterialRow(material, expected, unbroken[material_id], [each for each in choices if each is not None])
        )
    return rows


def _choice(
    rig: RigHammers, method: Method, section: Section | None, expected: ExpectedEnergy | None
) -> RigChoice | None:
    choice = choose_hammer([each.hammer for each in rig.lines], method.energy_window, expected)
    if choice is None:
        return None
    line = next(each for each in rig.lines if each.hammer is choice.hammer)
    return RigChoice(
        rig.rig, line, choice, method.energy_window, _outlook(rig.rig, line, method, section, expected)
    )  # fmt: skip


def every_outlook(
    rig: RigHammers, exercise: Exercise, method: Method, expected: ExpectedEnergy | None
) -> list[HammerOutlook]:
    """All hammers of the rig with what the bars of an exercise would be on each."""
    section = nominal_section(method, exercise.specimen) if exercise.specimen is not None else None
    return [HammerOutlook(each, _outlook(rig.rig, each, method, section, expected)) for each in rig.lines]


def _outlook(
    rig: Rig, line: HammerLine, method: Method, section: Section | None, expected: ExpectedEnergy | None
) -> Outlook | None:
    """What the bars would be on a hammer; None where nothing is known of them."""
    if section is None or expected is None:
        return None
    return outlook(rig.indicator, line.hammer, method, line.losses, section, expected)


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
                    sheet_name(each.rig.id, line.hammer.id),
                )
                for line in each.lines
            ],
        )
        for each in rigs
    ]
