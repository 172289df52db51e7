"""One test record to energies, strengths and sets."""

import math
from dataclasses import dataclass

import numpy as np

from notchbook.evaluation.hammers import SwungHammer
from notchbook.evaluation.known import known
from notchbook.evaluation.losses import Losses
from notchbook.model.method import Method
from notchbook.model.quantity import Quantity, quantity_of
from notchbook.model.record import Record
from notchbook.physics.arrays import FloatArray
from notchbook.physics.pendulum import energy_from_rise_J, rise_from_energy_deg
from notchbook.physics.strength import impact_strength_kJ_m2
from notchbook.statistics.outliers import furthest_outlier
from notchbook.statistics.summary import Summary, summarise


@dataclass(frozen=True, slots=True)
class SpecimenResult:
    """What one specimen gave; None where it cannot be had."""

    id: str
    break_type: str
    excluded: str | None
    rise_angle_deg: float | None
    """As read, or worked out from the indicated energy."""
    energy_J: float | None
    loss_J: float | None
    used_pct: float | None
    """Absorbed energy in percent of the pendulum's potential energy."""
    strength_kJ_m2: float | None
    """None for a specimen that did not break."""

    @property
    def counts(self) -> bool:
        """Whether it counts for the result: it was not excluded."""
        return self.excluded is None


@dataclass(frozen=True, slots=True)
class SetResult:
    """Mean and spread of the specimens that broke in one way, or in ways that share a mean."""

    breaks: tuple[str, ...]
    name: str
    """Its break types in one word, which no other set of the record has."""
    members: tuple[int, ...]
    """Places of its specimens in the record, from 0."""
    summary: Summary
    reported_kJ_m2: float
    """The mean as the method rounds it."""
    quantity: Quantity
    """What mean, spread and reported value are values of."""


@dataclass(frozen=True, slots=True)
class RecordResult:
    """What a record gave."""

    quantity: Quantity
    """What the strengths of its specimens and the means of its sets are values of."""
    losses: Losses | None
    verification: str | None
    """Id of the verification in force on the day, or None where there was none."""
    own_free_swings: bool
    """Whether the losses are those of the day's own free swings rather than of the verification."""
    specimens: tuple[SpecimenResult, ...]
    sets: tuple[SetResult, ...]
    """The largest set first."""


def rounded(value: float, significant_figures: int) -> float:
    """The value to that many significant figures."""
    return float(f"{value:.{significant_figures}g}")


@np.errstate(all="ignore")  # what overflows or is no number is not known, and is told by the checks of the readings
def evaluate_record(
    record: Record,
    hammer: SwungHammer,
    method: Method,
    losses: Losses | None,
    verification: str | None,
) -> RecordResult:
    """Energies, losses, strengths and sets of a record.

    Arguments:
        record: the readings.
        hammer: the hammer that was swung.
        method: the hammer's method.
        losses: those of the day's free swings or of the verification in force; None where there are neither.
        verification: id of the verification in force.
    """
    rise = _rise_deg(record, hammer)
    indicated = np.asarray(energy_from_rise_J(hammer.moment_Nm, hammer.release_angle_deg, rise))
    found = losses.in_test_J(method.loss_correction, rise) if losses is not None else None
    loss = np.full(len(record.specimens), np.nan) if found is None else np.asarray(found)
    energy = indicated - loss
    used = 100.0 * energy / hammer.potential_energy_J
    # the energy is referred to what is left under a notch, to the whole width without one
    width = _column(record, "remaining_width_mm" if record.specimen.notched else "width_mm")
    referred = impact_strength_kJ_m2(energy, _column(record, "thickness_mm"), width)
    broke = [method.breaks.give_strength(each.break_type) for each in record.specimens]
    strength = np.where(broke, referred, np.nan)
    specimens = tuple(
        SpecimenResult(specimen.id, specimen.break_type, specimen.excluded, *map(known, values))
        for specimen, *values in zip(
            record.specimens,
            rise.tolist(),
            energy.tolist(),
            loss.tolist(),
            used.tolist(),
            strength.tolist(),
            strict=True,
        )
    )
    own = record.free_swings is not None
    quantity = quantity_of(record, method)
    return RecordResult(quantity, losses, verification, own, specimens, _sets(specimens, method, quantity))


def _column(record: Record, name: str) -> FloatArray:
    """One quantity of all specimens, shape (n,), NaN where it was not read."""
    return np.array(
        [math.nan if (value := getattr(each, name)) is None else value for each in record.specimens], dtype=np.float64
    )


def _rise_deg(record: Record, hammer: SwungHammer) -> FloatArray:
    """Angles of rise, shape (n,): as read, else from the indicated energy."""
    rise = _column(record, "rise_angle_deg")
    if np.isnan(rise).any():
        indicated_J = _column(record, "indicated_energy_J")
        by_energy = rise_from_energy_deg(hammer.moment_Nm, hammer.release_angle_deg, indicated_J)
        rise = np.where(np.isnan(rise), by_energy, rise)
    return rise


def _sets(specimens: tuple[SpecimenResult, ...], method: Method, quantity: Quantity) -> tuple[SetResult, ...]:
    """The sets of a record: excluded specimens and those without a strength are in none."""
    groups: dict[tuple[str, ...], list[int]] = {}
    for place, specimen in enumerate(specimens):
        if specimen.counts and specimen.strength_kJ_m2 is not None:
            groups.setdefault(method.breaks.group_of(specimen.break_type), []).append(place)
    found = []
    for members in groups.values():
        summary = summarise([strength for each in members if (strength := specimens[each].strength_kJ_m2) is not None])
        breaks = tuple(dict.fromkeys(sorted(specimens[each].break_type for each in members)))
        reported = rounded(summary.mean, method.reporting.significant_figures)
        name = method.breaks.set_name(breaks)
        found.append(SetResult(breaks, name, tuple(members), summary, reported, quantity))
    return tuple(sorted(found, key=lambda each: (-each.summary.n, each.breaks)))


def broken_bars(result: RecordResult, method: Method) -> list[tuple[int, SpecimenResult]]:
    """The bars of a record whose energy counts, with their places: broken and not excluded."""
    return [
        (place, each)
        for place, each in enumerate(result.specimens)
        if each.counts and method.breaks.give_strength(each.break_type)
    ]


def lacking_strengths(result: RecordResult, method: Method) -> int:
    """How many bars that count are missing from the sets of a record: they broke and have no strength.

    A bar whose break type the method does not have is one of them.
    """
    return sum(
        each.counts and each.strength_kJ_m2 is None and not method.breaks.leave_unbroken(each.break_type)
        for each in result.specimens
    )


def outlying(result: RecordResult) -> tuple[int, ...]:
    """Places of the specimens that stand apart from their set by Grubbs' test at 5 %; at most one of each set."""
    found = []
    for each in result.sets:
        known_strengths = (result.specimens[place].strength_kJ_m2 for place in each.members)
        strengths = [strength for strength in known_strengths if strength is not None]
        furthest = furthest_outlier(strengths)
        if furthest is not None:
            found.append(each.members[furthest])
    return tuple(found)
