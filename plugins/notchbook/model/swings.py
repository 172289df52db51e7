"""Free swings: readings that tell how much the pendulum loses by itself."""

from __future__ import annotations

from dataclasses import dataclass


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
