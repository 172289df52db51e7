"""The newest loss of a hammer against those of its earlier verifications."""

from collections.abc import Sequence
from dataclasses import dataclass

from notchbook.evaluation.library import Evaluation
from notchbook.evaluation.loss_changes import LossSpread, VerifiedLoss, pooled, relative_change
from notchbook.model.verification import Verification
from notchbook.statistics.quantiles import UPPER_PROBABILITY, student_t_outside, student_t_quantile
from notchbook.statistics.summary import Summary, summarise

MOST_CHANGE = 2.0
"""Factor that no history of a rig, however restless, lets expect from one verification to the next."""
_LAST_BIT = 1e-9


@dataclass(frozen=True, slots=True)
class LossHistory:
    """A loss and what the earlier ones let expect, all in percent of the nominal energy."""

    newest_pct: float
    last_pct: float
    """The loss of the verification before."""
    earlier: Summary
    """All earlier losses since the last repair, that one among them."""
    spread: LossSpread
    """How much losses change on this rig, the newest change of this hammer left out."""
    division_pct: float
    """What one division of the scale is worth where the pendulum turns."""

    @property
    def factor(self) -> float:
        """How many times more or less the next loss may be.

        That of a change of ``t(0.975; n) s`` with s the spread of n changes, and no more than two.
        """
        quantile = student_t_quantile(UPPER_PROBABILITY, self.spread.degrees_of_freedom)
        half = min(quantile * self.spread.relative, relative_change(1.0, MOST_CHANGE)) / 2.0
        return (1.0 + half) / (1.0 - half)

    @property
    def known_pct(self) -> tuple[float, float]:
        """The last loss and the mean of all earlier ones, the lower first.

        A pendulum may go on from where it was last, or come back to where it mostly was.
        """
        return min(self.last_pct, self.earlier.mean), max(self.last_pct, self.earlier.mean)

    @property
    def interval_pct(self) -> tuple[float, float]:
        """Between what the next loss may lie: a usual change from what is known, at least one division."""
        low, high = self.known_pct
        return min(low / self.factor, low - self.division_pct), max(high * self.factor, high + self.division_pct)

    @property
    def departs(self) -> bool:
        """Whether the newest loss lies outside the interval, its ends not included."""
        low, high = self.known_pct
        known = min(max(self.newest_pct, low), high)
        off = abs(self.newest_pct - known) * (1.0 - _LAST_BIT) - _LAST_BIT
        if off <= self.division_pct:
            return False
        change = abs(relative_change(known, self.newest_pct)) * (1.0 - _LAST_BIT)
        if change > relative_change(1.0, MOST_CHANGE) or not self.spread.relative:
            return True
        outside = student_t_outside(change / self.spread.relative, self.spread.degrees_of_freedom)
        return outside < 2.0 * (1.0 - UPPER_PROBABILITY)


def newest_history(evaluation: Evaluation, verification: Verification) -> LossHistory | None:
    """A hammer's newest verification beside the earlier ones since its last repair.

    None for an older verification, for one without an earlier loss, or where the rig's losses have changed fewer times
    than tells their spread.
    """
    times = evaluation.verified_losses(verification.rig).get(verification.hammer, [])
    newest_time = times[-1] if times else []
    if len(newest_time) < 2 or newest_time[-1].verification.id != verification.id:
        return None
    others = (each for each in evaluation.loss_changes(verification.rig) if each.verification != verification.id)
    spread = pooled(others)
    return loss_history(newest_time, spread) if spread is not None else None


def loss_history(losses: Sequence[VerifiedLoss], spread: LossSpread) -> LossHistory:
    """The newest of a hammer's losses beside the others.

    Args:
        losses: In the order of their days, at least two, none from before the last repair.
        spread: How much losses change on this rig.
    """
    *earlier, newest = losses
    known = summarise([each.loss_pct for each in earlier])
    return LossHistory(newest.loss_pct, earlier[-1].loss_pct, known, spread, newest.division_pct)
