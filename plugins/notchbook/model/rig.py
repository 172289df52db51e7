"""A pendulum rig with its hammers."""

import datetime as dt
from dataclasses import dataclass, field
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
    """A mass fixed to the pendulum: weighed, at a radius from the axis, or by the energy that is stamped on it."""

    mass_kg: float | None
    radius_mm: float | None
    marked_J: float | None = None
    """What it adds at the release angle of the hammer that it is listed under."""


@dataclass(frozen=True, slots=True)
class Fitting:
    """What one pendulum has for one of several methods."""

    striking_edge: StrikingEdge


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
    methods: tuple[str, ...] = ()
    """In place of `method`, where one pendulum serves several."""
    fittings: dict[str, Fitting] = field(default_factory=dict)
    """By method, where they differ from the striking edge above."""
    division_deg: float | None = None
    """Of its own ring of the scale; None where it is read on the rig's."""
    division_J: float | None = None

    @property
    def stated_methods(self) -> tuple[str, ...]:
        """The methods that its file states; none where it takes them over from its base."""
        return self.methods or ((self.method,) if self.method is not None else ())


@dataclass(frozen=True, slots=True)
class Repair:
    """What was done to a rig between two verifications and may have changed what it loses or reads."""

    on: dt.date
    what: str
    by: str
    """Code of the role that did it or had it done."""
    hammer: str | None = None
    """The hammer that it was done to, with all that are built on it; None where it concerns all hammers."""


@dataclass(frozen=True, slots=True)
class WatchChoice:
    """The everyday material that a rig is watched by."""

    exercise: str
    material: str


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
    repairs: tuple[Repair, ...] = ()
    watch: WatchChoice | None = None
    """None where what was broken most often is watched."""
