"""A verification of one hammer on one rig."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import datetime as dt

    from notchbook.model.acknowledgement import Acknowledgement
    from notchbook.model.swings import FreeSwings


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

    def covers(self, rig: str, hammer: str, day: dt.date) -> bool:
        """Whether it is of that rig and hammer and in force on that day."""
        return self.rig == rig and self.hammer == hammer and self.date <= day <= self.valid_until
