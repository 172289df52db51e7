"""An exercise: its method's bar, the rigs that it can be done on, and which hammer to take for which material."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property

from notchbook.evaluation.hammer_choice import (
    Choice,
    ExpectedEnergy,
    Outlook,
    choose_hammer,
    expected_energy_J,
    outlook,
    suits_better,
    typical_strength,
)
from notchbook.evaluation.records import SpecimenResult
from notchbook.evaluation.scale import Section, nominal_section, scale_of
from notchbook.facts import hammer_words
from notchbook.facts.alike import KEPT, Departure, alike
from notchbook.facts.hammers import HammerFacts, RigFacts
from notchbook.facts.records import RecordFacts
from notchbook.model.method import Arrangement, EnergyWindow, Method, Notch, SpecimenType
from notchbook.model.procedure import Exercise, Hazard, Material
from notchbook.model.rig import Rig
from notchbook.statistics.summary import chance_of_variation_below
from notchbook.wording.numbers import to_figures


@dataclass(frozen=True, slots=True)
class RigChoice:
    """The hammer to take on one rig."""

    rig: Rig
    line: HammerFacts
    choice: Choice
    window: EnergyWindow
    outlook: Outlook | None
    """What the bars would be on it; None where nothing is known of them."""
    better: HammerFacts | None
    """A hammer that would hold more of the bars, but may not be used before it is verified."""

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
    def shown(self) -> str:
        """What an energy dial will show of the bars, with the unit; empty on a scale of angles or where not known."""
        if self.rig.indicator.reads == "angle" or self.outlook is None:
            return ""
        return f"reads {hammer_words.span(self.outlook.reading, 2)} J"

    @property
    def division(self) -> str:
        """What one division of the scale is worth at the most; empty where nothing is known of the bars."""
        worth = [each for each in self.outlook.division_kJ_m2 if each is not None] if self.outlook else []
        if not worth:
            return ""
        return f"{self.line.scale_division}: {to_figures(max(worth), 2)} kJ/m²"


@dataclass(frozen=True, slots=True)
class MaterialRow:
    """One material with the hammer to take on each rig, in the order of the rigs."""

    material: Material
    expected: ExpectedEnergy | None
    unbroken: int
    """How many own bars did not break."""
    departs: str
    """What the own records depart in, where none keeps to the method; else empty."""
    choices: list[RigChoice]

    @property
    def known_from(self) -> str:
        """What the expected energies rest on."""
        return hammer_words.known_from(self.expected, self.unbroken, self.departs)


@dataclass(frozen=True)
class ExerciseFacts:
    """One exercise."""

    exercise: Exercise
    method: Method | None
    records: list[RecordFacts] = field(repr=False)
    """Its own, the newest first."""
    rigs: list[RigFacts] = field(repr=False)
    """Those with hammers of its method, and these hammers alone."""
    materials: Sequence[Material] = field(repr=False)
    """All of the handbook, by id."""
    hazards: list[Hazard]
    """Those that it names and the department's list has."""

    @property
    def specimen_type(self) -> SpecimenType | None:
        """The method's type of the bars; None for an exercise without bars."""
        chosen = self.exercise.specimen
        return self.method.specimen_type(chosen.type) if self.method is not None and chosen is not None else None

    @property
    def notch(self) -> Notch | None:
        """The method's notch of the bars, None also for bars without one."""
        chosen = self.exercise.specimen
        return self.method.notch(chosen.notch) if self.method is not None and chosen is not None else None

    @property
    def arrangement(self) -> Arrangement | None:
        """How the method strikes such bars."""
        chosen = self.exercise.specimen
        return self.method.arrangement(chosen) if self.method is not None and chosen is not None else None

    @property
    def section(self) -> Section | None:
        """The nominal section of the bars."""
        chosen = self.exercise.specimen
        return nominal_section(self.method, chosen) if self.method is not None and chosen is not None else None

    def chance_of_fewer_pct(self, true_variation_pct: float) -> float | None:
        """How often the fewer bars that the method lets do seem to scatter little enough, though they scatter so."""
        if self.method is None:
            return None
        asked = self.method.specimen_number
        return 100.0 * chance_of_variation_below(asked.fewer_below_variation_pct, true_variation_pct, asked.fewer)

    @property
    def notch_depth_mm(self) -> float | None:
        """How deep the notch is where bar and remaining width are as the method asks for them."""
        bar, notch = self.specimen_type, self.notch
        return bar.width_mm.value - notch.remaining_width_mm.value if notch and bar else None

    def hammers_of(self, rig_id: str) -> list[HammerFacts]:
        """The hammers of a rig that it can be done with; none where the rig has none of its method."""
        return next((each.hammers for each in self.rigs if each.rig.id == rig_id), [])

    @cached_property
    def own_records(self) -> dict[str, tuple[Departure, list[RecordFacts]]]:
        """By material the records that say what its bars take, and what they depart in.

        Those that keep to the method; where there are none, the newest with those that depart in the same.
        """
        by_material: dict[str, list[RecordFacts]] = {}
        for line in self.records:
            by_material.setdefault(line.record.material, []).append(line)
        return {material: next(iter(alike(lines).items())) for material, lines in by_material.items()}

    @cached_property
    def own_bars(self) -> list[tuple[RecordFacts, SpecimenResult]]:
        """The broken bars of these records, each with its record."""
        return [(each, bar) for _, lines in self.own_records.values() for each in lines for _, bar in each.broken_bars]

    def own_readings(self, line: HammerFacts) -> tuple[float, float] | None:
        """The least and the greatest reading of an energy dial of own bars with a hammer, J; None where there are none.

        On a scale of angles the look-up table is fine enough without.
        """
        if line.rig.indicator.reads == "angle":
            return None
        readings = [
            bar.energy_J + bar.loss_J
            for each, bar in self.own_bars
            if (each.record.rig, each.record.hammer) == (line.hammer.rig, line.hammer.id)
            and bar.energy_J is not None
            and bar.loss_J is not None
        ]
        return (min(readings), max(readings)) if readings else None

    @cached_property
    def material_rows(self) -> list[MaterialRow]:
        """For every material the hammer to take; none for an exercise without a specimen."""
        if self.exercise.specimen is None or self.method is None or not self.rigs:
            return []
        energies: dict[str, list[float]] = {}
        for line, bar in self.own_bars:
            if bar.energy_J is not None:
                energies.setdefault(line.record.material, []).append(bar.energy_J)
        rows = []
        for material in self.materials:
            departure, own = self.own_records.get(material.id, (KEPT, []))
            unbroken = sum(each.unbroken for each in own)
            typical = typical_strength(material, self.method.id, self.exercise.specimen.notch)
            expected = expected_energy_J(energies.get(material.id, ()), typical, self.section)
            choices = [self._choice(rig, self.method, expected) for rig in self.rigs]
            rows.append(MaterialRow(material, expected, unbroken, departure.words, [each for each in choices if each]))
        return rows

    def _choice(self, rig: RigFacts, method: Method, expected: ExpectedEnergy | None) -> RigChoice | None:
        def choose(hammers: Sequence[HammerFacts]) -> tuple[Choice, HammerFacts] | None:
            found = choose_hammer([each.hammer for each in hammers], method.energy_window, expected)
            return (found, next(each for each in hammers if each.hammer is found.hammer)) if found else None

        of_all = choose(rig.hammers)
        if of_all is None:
            return None
        choice, line = choose([each for each in rig.hammers if each.usable]) or of_all
        better = of_all[1] if suits_better(of_all[0], choice) else None
        return RigChoice(rig.rig, line, choice, method.energy_window, self.outlook(line, expected), better)

    def outlook(self, line: HammerFacts, expected: ExpectedEnergy | None) -> Outlook | None:
        """What the bars would be on a hammer; None where nothing is known of them."""
        if self.method is None or self.section is None or expected is None:
            return None
        return outlook(scale_of(line.rig, line.hammer), line.hammer, self.method, line.losses, self.section, expected)
