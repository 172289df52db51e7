"""A verification of one hammer on one rig."""

import datetime as dt
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Acknowledgement:
    """A warning that somebody looked into."""

    rule: str
    reason: str
    """Why nothing has to be put right."""
    by: str
    """Code of the role that looked into it."""


@dataclass(frozen=True, slots=True)
class FreeSwings:
    """Readings of free swings, as angles of rise or as indicated energies; never a mixture of both for one swing."""

    first_rise_deg: float | None = None
    """beta_1: the indicator was set to the hanging position and carried by the pendulum."""
    second_rise_deg: float | None = None
    """beta_2: released again without setting the indicator back."""
    later_rise_deg: float | None = None
    """beta_3: the indicator pushed back, read after the half swings."""
    half_swings: int | None = None
    first_indicated_energy_J: float | None = None
    second_indicated_energy_J: float | None = None
    later_indicated_energy_J: float | None = None


@dataclass(frozen=True, slots=True)
class Weighing:
    """The pendulum held level on a scale at a distance from the axis."""

    force_N: float
    arm_mm: float


@dataclass(frozen=True, slots=True)
class Period:
    """Timed runs of small full swings."""

    swings: int
    times_s: tuple[float, ...]
    amplitude_deg: float


@dataclass(frozen=True, slots=True)
class Measured:
    """Geometry measured at a verification; None where it was not."""

    striking_length_mm: float | None = None
    release_angle_deg: float | None = None
    span_mm: float | None = None
    edge_radius_mm: float | None = None
    edge_angle_deg: float | None = None
    strike_height_mm: float | None = None
    fitting: str | None = None
    """The method that the pendulum was fitted for, where it serves several: whose edge was measured."""


@dataclass(frozen=True, slots=True)
class Verification:
    """What was measured on one hammer of one rig, when, by whom, and until when it holds."""

    id: str
    date: dt.date
    rig: str
    hammer: str
    checked_by: str
    valid_until: dt.date
    weighing: Weighing | None
    period: Period | None
    measured: Measured
    free_swings: FreeSwings
    acknowledged: tuple[Acknowledgement, ...]
    notes: str | None

    def holds_on(self, day: dt.date) -> bool:
        """Whether it is in force on that day."""
        return self.date <= day <= self.valid_until
