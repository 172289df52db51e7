"""Readings of free swings and of verifications to the losses of a hammer, to those in one test, and to its decay."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from statistics import fmean

import numpy as np

from notchbook.evaluation.hammers import SwungHammer
from notchbook.evaluation.known import known
from notchbook.model.method import LossCorrection
from notchbook.model.rig import Rig
from notchbook.model.swings import SwingSeries
from notchbook.model.verification import FreeSwings, Verification
from notchbook.physics import losses as physics
from notchbook.physics.arrays import Floats
from notchbook.physics.pendulum import energy_from_rise_J, pendulum_length_mm, rise_from_energy_deg


@dataclass(frozen=True, slots=True)
class Losses:
    """What a hammer loses by itself in a free swing."""

    release_angle_deg: float
    first_rise_deg: float
    second_rise_deg: float
    indicator_loss_J: float
    """W_P."""
    swing_loss_J: float
    """W_AB, bearings and air, the first half swing."""
    half_swing_loss_J: float | None
    """p', bearings and air, one half swing by the later swings; None without them."""
    loss_pct: float
    """Both losses in percent of the nominal energy."""

    @property
    def free_swing_J(self) -> float:
        """Indicator, bearings and air together in one free swing."""
        return self.indicator_loss_J + self.swing_loss_J

    def in_test_J(self, correction: LossCorrection, rise_angle_deg: Floats) -> Floats | None:
        """Loss in tests that rise to these angles, J, in the shape of the angles.

        None where the correction of the metals methods is asked for and no later swings were read.
        """
        if correction == "plastics":
            return physics.plastics_loss_J(
                rise_angle_deg, self.release_angle_deg, self.indicator_loss_J, self.swing_loss_J
            )
        if self.half_swing_loss_J is None:
            return None
        return physics.metals_loss_J(
            rise_angle_deg,
            self.release_angle_deg,
            self.first_rise_deg,
            self.second_rise_deg,
            self.indicator_loss_J,
            self.half_swing_loss_J,
        )


@dataclass(frozen=True, slots=True)
class SwingEnergies:
    """Energy missing after each free swing, from whichever scale it was read on, J; None where it was not read."""

    first_J: float | None
    second_J: float | None
    later_J: float | None


def swing_energies(hammer: SwungHammer, swings: FreeSwings) -> SwingEnergies:
    """The free swings as energies: as indicated, or `M (cos beta - cos alpha)` of the rise that was read."""

    def energy(rise_deg: float | None, indicated_J: float | None) -> float | None:
        if rise_deg is not None:
            return float(energy_from_rise_J(hammer.moment_Nm, hammer.release_angle_deg, rise_deg))
        return indicated_J

    return SwingEnergies(
        energy(swings.first_rise_deg, swings.first_indicated_energy_J),
        energy(swings.second_rise_deg, swings.second_indicated_energy_J),
        energy(swings.later_rise_deg, swings.later_indicated_energy_J),
    )


@np.errstate(all="ignore")  # a swing that the pendulum cannot have made has no rise
def find_losses(hammer: SwungHammer, swings: FreeSwings) -> Losses | None:
    """Losses from the readings of free swings; None where the two that it takes were not read."""
    energies = swing_energies(hammer, swings)
    if energies.first_J is None or energies.second_J is None:
        return None
    indicator, swing = energies.first_J - energies.second_J, energies.second_J
    half_swing = None
    if energies.later_J is not None and swings.half_swings:
        half_swing = (energies.later_J - energies.second_J) / swings.half_swings
    return Losses(
        release_angle_deg=hammer.release_angle_deg,
        first_rise_deg=_rise_deg(hammer, swings.first_rise_deg, energies.first_J),
        second_rise_deg=_rise_deg(hammer, swings.second_rise_deg, energies.second_J),
        indicator_loss_J=indicator,
        swing_loss_J=swing,
        half_swing_loss_J=half_swing,
        loss_pct=float(physics.loss_share_pct(indicator, swing, hammer.nominal_energy_J)),
    )


def _rise_deg(hammer: SwungHammer, read_deg: float | None, energy_J: float) -> float:
    if read_deg is not None:
        return read_deg
    return float(rise_from_energy_deg(hammer.moment_Nm, hammer.release_angle_deg, energy_J))


@dataclass(frozen=True, slots=True)
class EnergyLeft:
    """Energy left after half swings that carry no indicator, and the exponential through it."""

    half_swings: tuple[int, ...]
    """0 at the release, then ascending."""
    left_pct: tuple[float, ...]
    """In percent of the energy released; 100 at the release."""
    decay: float
    """k of ``100 exp(-k n)``."""

    @property
    def half_swing_loss_pct(self) -> float:
        """What one half swing takes of the energy that is left before it, by the fit."""
        return -100.0 * math.expm1(-self.decay)

    def fitted_pct(self, half_swings: float) -> float:
        """Energy left after so many half swings by the fit."""
        return 100.0 * math.exp(-self.decay * half_swings)


def energy_left(hammer: SwungHammer, swings: FreeSwings) -> EnergyLeft | None:
    """Energy left at the release, after the second free swing, and after the later half swings.

    The exponential is fitted to the logarithms by least squares. It begins at 100 %, which is no reading but known:
    ``k = sum(n ln(100/E)) / sum(n^2)``. The first free swing is not among the points, because it carries the indicator.

    Returns:
        None where the second or the later swing was not read, or they cannot have been: the energy left grows or ends.
    """
    energies = swing_energies(hammer, swings)
    if energies.second_J is None or energies.later_J is None or not swings.half_swings:
        return None
    return _fitted(hammer, [1, 1 + swings.half_swings], [energies.second_J, energies.later_J])


def series_energies_J(hammer: SwungHammer, series: SwingSeries) -> list[float]:
    """The energies missing after each swing of a series, J, from whichever scale they were read on."""
    rises = series.rises_deg
    of_rises = (float(energy_from_rise_J(hammer.moment_Nm, hammer.release_angle_deg, each)) for each in rises)
    return list(of_rises) if rises else list(series.indicated_energies_J)


def energy_left_in_series(hammer: SwungHammer, series: SwingSeries) -> EnergyLeft | None:
    """The same for a series of swings, the first of which is read after one half swing."""
    lost_J = series_energies_J(hammer, series)
    return _fitted(hammer, [1 + place * series.half_swings_between for place in range(len(lost_J))], lost_J)


def _fitted(hammer: SwungHammer, numbers: Sequence[int], lost_J: Sequence[float]) -> EnergyLeft | None:
    """The energy left after so many half swings, of the energies missing then; None where it grows or ends."""
    left = [100.0 * (1.0 - lost / hammer.potential_energy_J) for lost in lost_J]
    if not (left[0] <= 100.0 and left[-1] > 0.0 and all(later < earlier for earlier, later in pairwise(left))):
        return None
    products = math.fsum(n * math.log(100.0 / pct) for n, pct in zip(numbers, left, strict=True))
    return EnergyLeft((0, *numbers), (100.0, *left), products / math.fsum(n * n for n in numbers))


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
