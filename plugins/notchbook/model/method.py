"""What a standard asks, as data."""

from dataclasses import dataclass
from typing import Literal

from notchbook.model.breaks import Breaks
from notchbook.model.procedure import SpecimenChoice
from notchbook.model.requirement import LAST_BIT, Origin, Requirement

Support = Literal["three-point", "cantilever"]
LossCorrection = Literal["plastics", "metals"]
LARGEST_HAMMER = "ISO 179-1, 7.3; ISO 180, 7"
"""Where the standards say, from memory, that of several pendulums the largest is taken, which holds for a method that
does not say otherwise."""


@dataclass(frozen=True, slots=True)
class Arrangement:
    """One way a specimen type may be struck, with its designation."""

    direction: str
    notch: str
    designation: str
    symbol: str
    """Symbol of the strength that results, such as `a_cN`."""
    origin: Origin


@dataclass(frozen=True, slots=True)
class SpecimenType:
    """Dimensions of one specimen type; a bar that is only given as a ratio is not among them."""

    id: str
    length_mm: Requirement
    width_mm: Requirement
    thickness_mm: Requirement
    span_mm: Requirement | None
    """Distance between the supports; None for a clamped specimen."""
    arrangements: tuple[Arrangement, ...]

    def arrangement(self, direction: str, notch: str) -> Arrangement | None:
        """The arrangement for that direction and notch, or None where the method has none."""
        for each in self.arrangements:
            if (each.direction, each.notch) == (direction, notch):
                return each
        return None


@dataclass(frozen=True, slots=True)
class Notch:
    """Form of a notch and what is left under it."""

    id: str
    base_radius_mm: Requirement
    angle_deg: Requirement
    remaining_width_mm: Requirement


@dataclass(frozen=True, slots=True)
class PendulumClass:
    """One nominal energy with the velocity and the loss the method allows it."""

    nominal_energy_J: float
    velocity_m_s: float
    loss_pct: float
    """Largest indicator, bearing and air loss of a free swing, in percent of the nominal energy."""
    origin: Origin


@dataclass(frozen=True, slots=True)
class Pendulums:
    """What a method asks of the pendulum and its frame."""

    classes: tuple[PendulumClass, ...]
    velocity_tolerance_pct: Requirement
    potential_energy_tolerance_pct: Requirement
    length_agreement_pct: Requirement
    """How closely the pendulum length from its period must agree with the striking length."""
    frame_mass_ratio: Requirement
    period_amplitude_deg: Requirement

    def of_energy(self, nominal_energy_J: float) -> PendulumClass | None:
        """The class with that nominal energy, or None where the method has none."""
        for each in self.classes:
            if abs(each.nominal_energy_J - nominal_energy_J) <= 1e-9 * nominal_energy_J:
                return each
        return None


@dataclass(frozen=True, slots=True)
class EdgeRequirement:
    """Form of the striking edge."""

    radius_mm: Requirement
    angle_deg: Requirement | None


@dataclass(frozen=True, slots=True)
class EnergyWindow:
    """The share of the pendulum's energy that a test may use."""

    low_pct: float
    high_pct: float
    origin: Origin

    @property
    def bounds_pct(self) -> tuple[float, float]:
        """The least and the greatest share that is inside, with room for the last bit of a computed one."""
        return self.low_pct * (1.0 - LAST_BIT), self.high_pct * (1.0 + LAST_BIT)

    def holds(self, used_pct: float) -> bool:
        """Whether a share lies in the window, its ends included."""
        low, high = self.bounds_pct
        return low <= used_pct <= high

    def ends_J(self, potential_energy_J: float) -> tuple[float, float]:
        """The energies at the ends of the window for a pendulum of that potential energy."""
        return potential_energy_J * self.low_pct / 100.0, potential_energy_J * self.high_pct / 100.0


@dataclass(frozen=True, slots=True)
class SpecimenNumber:
    """How many specimens a result needs, and when fewer will do."""

    number: int
    fewer: int
    fewer_below_variation_pct: float
    origin: Origin


@dataclass(frozen=True, slots=True)
class Climate:
    """Temperature and humidity, and for conditioning the time."""

    temperature_C: Requirement
    humidity_pct: Requirement
    hours: Requirement | None


@dataclass(frozen=True, slots=True)
class Reporting:
    """Which result a method reports and how it is rounded."""

    quantity: str
    significant_figures: int
    origin: Origin


@dataclass(frozen=True, slots=True)
class Difference:
    """What a method has otherwise than the one that it is based on."""

    what: str
    """The keys that lead to it."""
    reason: str
    set_by: str
    """Code of a role."""
    there: str
    """What the other method has, in short; empty where it has no such key."""
    here: str


@dataclass(frozen=True, slots=True)
class Method:
    """A test method: every number that the checks hold a record against."""

    id: str
    title: str
    standard: str
    editions: str
    text_seen: Literal["none", "parts", "whole"]
    """How much of the standard's own text was before the person who wrote the numbers down."""
    support: Support
    principle: str
    specimen_types: tuple[SpecimenType, ...]
    notches: tuple[Notch, ...]
    striking_edge: EdgeRequirement
    support_edge_radius_mm: Requirement | None
    strike_height_mm: Requirement | None
    jaw_edge_radius_mm: Requirement | None
    dimension_accuracy_mm: Requirement | None
    """How far off a measured thickness or width may be."""
    pendulums: Pendulums
    energy_window: EnergyWindow
    largest_hammer: bool | None
    """Whether of several hammers that keep the energies inside the window the largest is taken; None where the file
    says nothing of it, and it is taken as in the standards."""
    specimen_number: SpecimenNumber
    conditioning: Climate
    transfer_s: Requirement | None
    """From taking a specimen out of its conditioning to the blow; None where the method sets no limit."""
    clamp_torque_Nm: Requirement | None
    """With which the clamp is closed; None where the method asks for none."""
    test_atmosphere: Climate
    breaks: Breaks
    loss_correction: LossCorrection
    loss_origin: Origin
    reporting: Reporting
    test_report: tuple[str, ...]
    equipment_hazards: tuple[str, ...]
    """Hazards that the equipment brings as soon as it swings."""
    specimen_hazards: tuple[str, ...]
    """Hazards that come with breaking specimens."""
    sources: dict[str, str]
    based_on: str | None
    """Id of the method that it differs from in what stands under differences; None for one that stands by itself."""
    differences: tuple[Difference, ...]

    @property
    def takes_largest(self) -> bool:
        """Whether of several hammers that keep the energies inside the window the largest is taken."""
        return self.largest_hammer is not False

    @property
    def largest_hammer_clause(self) -> str:
        """Where it stands that the largest hammer is taken: beside the window, or in no words of the method."""
        if self.largest_hammer is None:
            return f"{LARGEST_HAMMER}; {self.standard} says nothing of it"
        return self.energy_window.origin.clause

    def specimen_type(self, type_id: str) -> SpecimenType | None:
        """The specimen type with that id, or None."""
        for each in self.specimen_types:
            if each.id == type_id:
                return each
        return None

    def notch(self, notch_id: str) -> Notch | None:
        """The notch with that id, or None (also for `none`)."""
        for each in self.notches:
            if each.id == notch_id:
                return each
        return None

    def arrangement(self, chosen: SpecimenChoice) -> Arrangement | None:
        """How bars of that type, notch and direction are struck, or None where the method has no such arrangement."""
        bar = self.specimen_type(chosen.type)
        return bar.arrangement(chosen.direction, chosen.notch) if bar is not None else None

    def designation(self, chosen: SpecimenChoice) -> str:
        """The designation of a test of such bars, or the standard where it has none for them."""
        arrangement = self.arrangement(chosen)
        return arrangement.designation if arrangement is not None else self.standard
