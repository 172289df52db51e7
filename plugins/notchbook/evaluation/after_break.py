"""From the energy that a bar takes to what the scale shows after it."""

import math

import numpy as np

from notchbook.evaluation.hammers import SwungHammer
from notchbook.evaluation.known import known
from notchbook.evaluation.losses import Losses
from notchbook.model.method import LossCorrection
from notchbook.model.rig import Indicator
from notchbook.physics.pendulum import energy_from_rise_J, rise_from_energy_deg

_ROUNDS = 50
_SETTLED_DEG = 1e-9


@np.errstate(all="ignore")  # more energy than the pendulum holds leaves no rise
def rise_after_break_deg(
    hammer: SwungHammer, losses: Losses | None, correction: LossCorrection, energy_J: float
) -> float | None:
    """Angle of rise after a bar that absorbed an energy.

    The loss depends on the rise, so that the rise is found by repetition; without losses there is none.

    Returns:
        Degrees, or None where the pendulum cannot pass such a bar.
    """
    rise = hammer.release_angle_deg
    for _ in range(_ROUNDS):
        loss = losses.in_test_J(correction, rise) if losses is not None else None
        given_off = energy_J + (0.0 if loss is None else float(loss))
        before, rise = rise, float(rise_from_energy_deg(hammer.moment_Nm, hammer.release_angle_deg, given_off))
        if math.isnan(rise) or abs(rise - before) <= _SETTLED_DEG:
            break
    return known(rise)


def reading_after_break(
    scale: Indicator, hammer: SwungHammer, losses: Losses | None, correction: LossCorrection, energy_J: float
) -> float | None:
    """What a scale shows after a bar that absorbed an energy: the rise, or the energy with the losses of that rise.

    Returns:
        Degrees or J, or None where the pendulum cannot pass such a bar.
    """
    rise = rise_after_break_deg(hammer, losses, correction, energy_J)
    if rise is None or scale.reads == "angle":
        return rise
    return float(energy_from_rise_J(hammer.moment_Nm, hammer.release_angle_deg, rise))
