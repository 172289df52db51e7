"""The numbers of a record that somebody works with: of each bar its reading, loss and dimensions."""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from notchbook.evaluation.hammers import SwungHammer
from notchbook.evaluation.losses import Losses
from notchbook.evaluation.records import SetResult
from notchbook.evaluation.resolved import ResolvedRecord
from notchbook.evaluation.scale import Section, nominal_section
from notchbook.evaluation.uncertainty import RecordUncertainty
from notchbook.model.method import Method
from notchbook.physics.arrays import FloatArray
from notchbook.physics.strength import impact_strength_kJ_m2


@dataclass(frozen=True, slots=True, eq=False)
class Bars:
    """The bars of one record; every array has the shape (n,), NaN where something cannot be had."""

    hammer: SwungHammer
    method: Method
    losses: Losses
    reads_angle: bool
    nominal: Section | None
    """The nominal section of such a bar."""
    ids: tuple[str, ...]
    breaks: tuple[str, ...]
    counts: tuple[bool, ...]
    """Whether each was not excluded."""
    rise_deg: FloatArray
    indicated_J: FloatArray
    """What the swing lacked, losses included."""
    loss_J: FloatArray
    thickness_mm: FloatArray
    width_mm: FloatArray
    broken_width_mm: FloatArray
    """What is left under a notch, the whole width without one."""
    sets: tuple[SetResult, ...]
    expanded: tuple[float | None, ...]
    """Expanded uncertainties of the means of the sets, kJ/m2: what is shown beside them."""

    @property
    def energy_J(self) -> FloatArray:
        """The energies, right."""
        return self.indicated_J - self.loss_J

    @property
    def per_section_m2(self) -> FloatArray:
        """By what an energy in J becomes a strength in kJ/m2, right."""
        return np.asarray(impact_strength_kJ_m2(1.0, self.thickness_mm, self.broken_width_mm))

    @property
    def strength_kJ_m2(self) -> FloatArray:
        """The strengths, right; also of bars that did not break."""
        return self.energy_J * self.per_section_m2


def bars_of(case: ResolvedRecord, uncertainty: RecordUncertainty | None = None) -> Bars | None:
    """The bars of a record; None where nothing could be worked out from them.

    Arguments:
        case: the record.
        uncertainty: how sure its results are; None where only the scatter makes an interval.
    """
    result, hammer, method, rig = case.result, case.hammer, case.method, case.rig
    if result is None or result.losses is None or hammer is None or method is None or rig is None:
        return None
    specimens, found = case.record.specimens, result.specimens
    energy, loss = _column(each.energy_J for each in found), _column(each.loss_J for each in found)
    notched = case.record.specimen.notched
    return Bars(
        hammer=hammer,
        method=method,
        losses=result.losses,
        reads_angle=rig.indicator.reads == "angle",
        nominal=nominal_section(method, case.record.specimen),
        ids=tuple(each.id for each in specimens),
        breaks=tuple(each.break_type for each in specimens),
        counts=tuple(each.counts for each in specimens),
        rise_deg=_column(each.rise_angle_deg for each in found),
        indicated_J=energy + loss,
        loss_J=loss,
        thickness_mm=_column(each.thickness_mm for each in specimens),
        width_mm=_column(each.width_mm for each in specimens),
        broken_width_mm=_column(each.remaining_width_mm if notched else each.width_mm for each in specimens),
        sets=result.sets,
        expanded=tuple(_expanded(uncertainty, each) for each in result.sets),
    )


def _expanded(uncertainty: RecordUncertainty | None, result: SetResult) -> float | None:
    of_mean = uncertainty.of_set(result) if uncertainty is not None else None
    return of_mean.expanded if of_mean is not None else None


def _column(values: Iterable[float | None]) -> FloatArray:
    return np.array([np.nan if each is None else each for each in values], dtype=np.float64)
