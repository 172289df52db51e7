"""A pendulum rig with its hammers."""

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class Indicator:
    """The scale that the pendulum leaves its reading on."""

    reads: Literal["angle", "energy"]
    division_deg: float | None
    division_J: float | None
    pointer: Literal["drag", "none"] = "drag"
    """Whether the pendulum carries a pointer along, which takes energy of its own."""

    @property
    def division(self) -> float | None:
        """One division of what the scale reads, degrees or J; None where it is not stated."""
        return self.division_deg if self.reads == "angle" else self.division_J


@dataclass(frozen=True, slots=True)
class Supports:
    """Two supports for three-point bending."""

    span_mm: float
    edge_radius_mm: float | None


@dataclass(frozen=True, slots=True)
class Clamp:
    """A clamp for cantilever bending."""

    strike_height_mm: float
    jaw_edge_radius_mm: float | None


@dataclass(frozen=True, slots=True)
class StrikingEdge:
    """Form of the edge that meets the specimen."""

    radius_mm: float
    angle_deg: float | None


@dataclass(frozen=True, slots=True)
class AddedMass:
    """A mass fixed to the pendulum at a radius from the axis."""

    mass_kg: float
    radius_mm: float


@dataclass(frozen=True, slots=True)
class Hammer:
    """One complete pendulum as its file states it; None where it takes the value over from its base."""

    id: str
    title: str | None
    base: str | None
    method: str | None
    nominal_energy_J: float | None
    release_angle_deg: float | None
    moment_Nm: float | None
    striking_edge: StrikingEdge | None
    pendulum_mass_kg: float | None
    added_masses: tuple[AddedMass, ...]
    moment_uncertainty_Nm: float | None = None
    """Standard uncertainty of the moment with all masses of this hammer; None where it is not stated."""


@dataclass(frozen=True, slots=True)
class Rig:
    """A frame with its axis, indicator, supports or clamp, and hammers."""

    id: str
    title: str
    location: str | None
    gravity_m_s2: float
    """As stated, or of the place from its latitude and height, or the standard value."""
    gravity_basis: str
    """Where the value of gravity comes from, in words."""
    gravity_stated_twice: bool
    """Whether both a value and a place were given."""
    striking_length_mm: float
    indicator: Indicator
    supports: Supports | None
    clamp: Clamp | None
    frame_mass_kg: float | None
    hammers: dict[str, Hammer]
    gravity_assumed: bool = False
    """Whether gravity is the standard value because neither a value nor a place was given."""
    release_angle_uncertainty_deg: float | None = None
    """Standard uncertainty of the release angles; None where it is not stated."""
