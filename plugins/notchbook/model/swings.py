"""The record of the exercise about the losses of a pendulum: free swings that a group read."""

import datetime as dt
from dataclasses import dataclass

from notchbook.model.verification import Acknowledgement, FreeSwings


@dataclass(frozen=True, slots=True)
class SwingSeries:
    """Readings one after the other while the pendulum swings on from one release; the first after one half swing."""

    half_swings_between: int
    """From one reading to the next."""
    rises_deg: tuple[float, ...] = ()
    indicated_energies_J: tuple[float, ...] = ()
    """One of the two is empty."""


@dataclass(frozen=True, slots=True)
class SwingsRecord:
    """Free swings of one hammer of one rig, read by a group; no test rests on them."""

    id: str
    date: dt.date
    group: str
    exercise: str
    rig: str
    hammer: str
    free_swings: FreeSwings
    series: SwingSeries | None
    acknowledged: tuple[Acknowledgement, ...]
    notes: str | None
