"""How the energy of a pendulum dies away in free half swings."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from notchbook.evaluation.losses import swing_energies

if TYPE_CHECKING:
    from notchbook.evaluation.hammers import SwungHammer
    from notchbook.model.swings import FreeSwings


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
    released_J = hammer.potential_energy_J
    second_pct, later_pct = (100.0 * (1.0 - lost / released_J) for lost in (energies.second_J, energies.later_J))
    if not 100.0 >= second_pct > later_pct > 0.0:
        return None
    numbers, left = (1, 1 + swings.half_swings), (second_pct, later_pct)
    products = math.fsum(n * math.log(100.0 / pct) for n, pct in zip(numbers, left, strict=True))
    return EnergyLeft((0, *numbers), (100.0, *left), products / math.fsum(n * n for n in numbers))
