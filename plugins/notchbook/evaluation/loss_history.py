"""The newest loss of a hammer against those of its earlier verifications."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from notchbook.evaluation.hammers import SwungHammer
from notchbook.evaluation.library import Evaluation
from notchbook.evaluation.scale import division_worth_J, scale_of
from notchbook.model.rig import Rig
from notchbook.model.verification import Verification
from notchbook.statistics.quantiles import UPPER_PROBABILITY, student_t_outside, student_t_quantile
from notchbook.statistics.summary import Summary, summarise

FEWEST_EARLIER = 3
"""With fewer earlier losses their spread is not known well enough to judge by it."""
_LAST_BIT = 1e-9


@dataclass(frozen=True, slots=True)
class LossHistory:
    """A loss and what the earlier ones let expect, all in percent of the nominal energy."""

    newest_pct: float
    earlier: Summary
    division_pct: float
    """What one division of the scale is worth where the pendulum turns."""

    @property
    def half_width_pct(self) -> float:
        """How far from the mean of the earlier losses the next one may lie.

        Half of the two-sided 95 % prediction interval of one more value, ``t(0.975; n - 1) s sqrt(1 + 1/n)``, or one
        division of the scale where that is more: a reading tells no smaller difference.
        """
        quantile = student_t_quantile(UPPER_PROBABILITY, self.earlier.n - 1)
        return max(quantile * self._one_more_pct, self.division_pct)

    @property
    def interval_pct(self) -> tuple[float, float]:
        """Between what the next loss may lie."""
        return self.earlier.mean - self.half_width_pct, self.earlier.mean + self.half_width_pct

    @property
    def departs(self) -> bool:
        """Whether the newest loss lies outside the interval, its ends not included."""
        off = abs(self.newest_pct - self.earlier.mean) * (1.0 - _LAST_BIT) - _LAST_BIT
        scatter = self._one_more_pct
        beyond = not scatter or student_t_outside(off / scatter, self.earlier.n - 1) < 2.0 * (1.0 - UPPER_PROBABILITY)
        return off > self.division_pct and beyond

    @property
    def _one_more_pct(self) -> float:
        return (self.earlier.standard_deviation or 0.0) * math.sqrt(1.0 + 1.0 / self.earlier.n)


def newest_history(evaluation: Evaluation, verification: Verification) -> LossHistory | None:
    """A hammer's newest verification beside the earlier ones; None for an older one, or where it cannot be judged."""
    key = (verification.rig, verification.hammer)
    hammer, found = evaluation.hammers.get(key), evaluation.verifications.get(verification.id)
    newest, *others = evaluation.by_hammer[key]
    if hammer is None or found is None or found.losses is None or newest.id != verification.id:
        return None
    losses = [evaluation.verifications[each.id].losses for each in others if each.date < newest.date]
    earlier_pct = [each.loss_pct for each in losses if each is not None]
    rig = evaluation.library.rigs[verification.rig]
    return loss_history(rig, hammer, found.losses.loss_pct, found.losses.first_rise_deg, earlier_pct)


def loss_history(
    rig: Rig, hammer: SwungHammer, newest_pct: float, first_rise_deg: float, earlier_pct: Sequence[float]
) -> LossHistory | None:
    """The newest loss beside the earlier ones; None where there are fewer than three, or a number is not finite.

    Arguments:
        rig: tells what a division of the scale is.
        hammer: the hammer as it swings.
        newest_pct: indicator, bearing and air loss of the newest verification in percent of the nominal energy.
        first_rise_deg: rise of its first free swing.
        earlier_pct: the same losses of the earlier verifications, in any order.
    """
    worth_pct = division_pct(rig, hammer, first_rise_deg)
    if len(earlier_pct) < FEWEST_EARLIER or not all(map(math.isfinite, [newest_pct, worth_pct, *earlier_pct])):
        return None
    return LossHistory(newest_pct, summarise(earlier_pct), worth_pct)


def division_pct(rig: Rig, hammer: SwungHammer, rise_deg: float) -> float:
    """What one division of the scale is worth at a rise, in percent of the nominal energy."""
    return 100.0 * division_worth_J(scale_of(rig, hammer), hammer, rise_deg) / hammer.nominal_energy_J
