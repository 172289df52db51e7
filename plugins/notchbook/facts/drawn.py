"""The mean of a record's set by drawn values."""

from notchbook.evaluation.drawn_means import Swinging, drawn_mean
from notchbook.evaluation.input_uncertainties import moment_taken
from notchbook.facts.records import ReportedSet
from notchbook.statistics.drawn import Drawn


def drawn_of(each: ReportedSet, draws: int, seed: int) -> Drawn | None:
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
    return drawn_mean(of_bars, each.result, each.uncertainty, swinging, draws, seed)
