"""The free swings of a group to losses with their uncertainty, and beside those of the verification in force."""

import math
from dataclasses import dataclass

import numpy as np

from notchbook.evaluation.budgets import COVERAGE_FACTOR
from notchbook.evaluation.hammers import SwungHammer
from notchbook.evaluation.input_uncertainties import moment_taken, release_taken
from notchbook.evaluation.known import known
from notchbook.evaluation.losses import (
    EnergyLeft,
    Losses,
    energy_left,
    energy_left_in_series,
    find_losses,
    series_energies_J,
)
from notchbook.evaluation.scale import division_worth_J, scale_of
from notchbook.model.rig import Rig
from notchbook.model.swings import SwingsRecord
from notchbook.physics.uncertainty import combined_standard_uncertainty, resolution_standard_uncertainty


@dataclass(frozen=True, slots=True)
class LossUncertainty:
    """Expanded uncertainties of losses, k = 2 (JCGM 100:2008, 6.2)."""

    indicator_loss_J: float
    swing_loss_J: float
    loss_pct: float
    """Of both losses together, in percent of the nominal energy."""
    reading_pct: float
    """The same by the readings alone: what is left of it between two losses of one hammer."""


@dataclass(frozen=True, slots=True)
class SwingsResult:
    """What a group found; None where it was not read or cannot have been."""

    losses: Losses | None
    uncertainty: LossUncertainty | None
    later_swing_loss_J: float | None
    """Bearings and air, one half swing: by the later swing, or by the series where none was read."""
    energy_left: EnergyLeft | None
    """By the series, or without one by the second and the later swing."""


@dataclass(frozen=True, slots=True)
class LossAgreement:
    """A loss beside that of the verification in force, both in percent of the nominal energy."""

    difference_pct: float
    """The group's loss less that of the verification."""
    expanded_pct: float
    """Expanded uncertainty of the difference by the readings of both; moment and release angle are the same in both."""

    @property
    def agrees(self) -> bool:
        """Whether the readings explain the difference: E_n of at most 1 (ISO 13528, 9.7, from memory)."""
        return abs(self.difference_pct) <= self.expanded_pct


def evaluate_swings(rig: Rig, hammer: SwungHammer, record: SwingsRecord) -> SwingsResult:
    """The quantities of one record of free swings."""
    losses = find_losses(hammer, record.free_swings)
    later_J = losses.half_swing_loss_J if losses is not None else None
    series = record.series
    if later_J is None and series is not None:
        energies_J = series_energies_J(hammer, series)
        later_J = (energies_J[-1] - energies_J[0]) / ((len(energies_J) - 1) * series.half_swings_between)
    left = energy_left_in_series(hammer, series) if series is not None else energy_left(hammer, record.free_swings)
    uncertainty = loss_uncertainty(rig, hammer, losses) if losses is not None else None
    return SwingsResult(losses, uncertainty, known(later_J) if later_J is not None else None, left)


@np.errstate(all="ignore")  # a swing that the pendulum cannot have made has no uncertainty
def loss_uncertainty(rig: Rig, hammer: SwungHammer, losses: Losses) -> LossUncertainty | None:
    """Uncertainties of the losses of a hammer; None where one of them is not known.

    ``W_P = M (cos beta_1 - cos beta_2)`` and ``W_AB = M (cos beta_2 - cos alpha)``: the readings by half a division,
    release angle and moment as the rig states them or as is taken instead. Gravity in the moment is left out, which
    brings a few thousandths of what is lost.
    """
    moment, scale = moment_taken(rig, hammer.id), scale_of(rig, hammer)

    def read_J(rise_deg: float) -> float:
        return float(resolution_standard_uncertainty(division_worth_J(scale, hammer, rise_deg)))

    if moment is None:
        return None
    release_J_per_deg = hammer.moment_Nm * math.sin(math.radians(hammer.release_angle_deg)) * math.radians(1.0)
    release_J = release_J_per_deg * release_taken(rig, scale, release_J_per_deg).standard
    first_J, second_J = read_J(losses.first_rise_deg), read_J(losses.second_rise_deg)
    relative = moment.moment.standard / hammer.moment_Nm

    def expanded(*contributions_J: float) -> float:
        return COVERAGE_FACTOR * float(combined_standard_uncertainty(np.array(contributions_J)))

    to_pct = 100.0 / hammer.nominal_energy_J
    found = LossUncertainty(
        expanded(first_J, second_J, relative * losses.indicator_loss_J),
        expanded(second_J, release_J, relative * losses.swing_loss_J),
        to_pct * expanded(first_J, release_J, relative * losses.free_swing_J),
        to_pct * expanded(first_J),
    )
    values = (found.indicator_loss_J, found.swing_loss_J, found.loss_pct, found.reading_pct)
    return found if all(map(math.isfinite, values)) else None


def loss_agreement(rig: Rig, hammer: SwungHammer, losses: Losses, verified: Losses) -> LossAgreement | None:
    """A loss beside that of a verification of the same hammer; None where an uncertainty is not known."""
    own, others = loss_uncertainty(rig, hammer, losses), loss_uncertainty(rig, hammer, verified)
    if own is None or others is None:
        return None
    return LossAgreement(losses.loss_pct - verified.loss_pct, math.hypot(own.reading_pct, others.reading_pct))
