"""A verification's readings to the quantities that a method puts limits on."""

from __future__ import annotations

from dataclasses import dataclass
from statistics import fmean
from typing import TYPE_CHECKING

from notchbook.evaluation.known import known
from notchbook.evaluation.losses import Losses, find_losses
from notchbook.physics.pendulum import pendulum_length_mm

if TYPE_CHECKING:
    from notchbook.evaluation.hammers import SwungHammer
    from notchbook.model.rig import Rig
    from notchbook.model.verification import Verification


@dataclass(frozen=True, slots=True)
class VerificationResult:
    """What a verification found; None where it was not measured."""

    potential_energy_J: float
    velocity_m_s: float
    weighed_moment_Nm: float | None
    pendulum_length_mm: float | None
    """From the period, with its amplitude taken out."""
    losses: Losses | None


def evaluate_verification(rig: Rig, hammer: SwungHammer, verification: Verification) -> VerificationResult:
    """The quantities of one verification, with the moment, release angle and length that the rig's file states."""
    weighing, period = verification.weighing, verification.period
    length = None
    if period is not None:
        period_s = fmean(period.times_s) / period.swings
        length = known(float(pendulum_length_mm(period_s, rig.gravity_m_s2, period.amplitude_deg)))
    return VerificationResult(
        potential_energy_J=hammer.potential_energy_J,
        velocity_m_s=hammer.velocity_m_s,
        weighed_moment_Nm=weighing.force_N * weighing.arm_mm / 1000.0 if weighing else None,
        pendulum_length_mm=length,
        losses=find_losses(hammer, verification.free_swings),
    )
