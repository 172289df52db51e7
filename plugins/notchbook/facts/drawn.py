"""The mean of a record's set by drawn values, beside the first order."""

from dataclasses import dataclass

from notchbook.evaluation.drawn_means import Swinging, drawn_mean
from notchbook.evaluation.input_uncertainties import moment_taken
from notchbook.facts.records import ReportedSet
from notchbook.statistics.drawn import Drawn, numerical_tolerance


@dataclass(frozen=True, slots=True)
class DrawnBeside:
    """Drawn values and how far they are from the first order."""

    drawn: Drawn
    apart_kJ_m2: float
    """How far the ends of the two intervals are apart at most."""
    may_be_kJ_m2: float
    """How far they may be (JCGM 101:2008, 7.9.2)."""

    @property
    def agrees(self) -> bool:
        """Whether the first order does (JCGM 101:2008, 8.1)."""
        return self.apart_kJ_m2 <= self.may_be_kJ_m2


def drawn_of(each: ReportedSet, draws: int, seed: int) -> DrawnBeside | None:
    """The mean of a set by so many draws (JCGM 101:2008); the same for the same seed.

    None where the first order has no uncertainty either, or where a draw gives no strength.
    """
    line = each.line
    rig, hammer, method, swings, of_bars = line.rig, line.hammer, line.method, line.free_swings, line.uncertainty
    if rig is None or hammer is None or method is None or swings is None:
        return None
    moment, losses = moment_taken(rig, hammer.id), line.losses
    if of_bars is None or each.uncertainty is None or moment is None or losses is None:
        return None
    swinging = Swinging(
        hammer=hammer,
        correction=method.loss_correction,
        half_swings=swings.half_swings,
        own_free_swings=line.drift is None,
        free_swing_J=losses.free_swing_J,
        added_kg_m=moment.added_kg_m,
        gravity_m_s2=rig.gravity_m_s2,
    )
    found, mean = each.uncertainty, each.result.summary.mean
    drawn = drawn_mean(of_bars, each.result, found, swinging, draws, seed)
    if drawn is None:
        return None
    return DrawnBeside(drawn, drawn.apart(mean, found.expanded), numerical_tolerance(found.standard))
