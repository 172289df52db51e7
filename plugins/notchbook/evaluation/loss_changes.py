"""What the losses of a rig do from one verification to the next, pooled over its hammers."""

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import groupby, pairwise

from notchbook.evaluation.hammers import SwungHammer
from notchbook.evaluation.losses import VerificationResult
from notchbook.evaluation.repairs import repairs_of
from notchbook.evaluation.scale import division_worth_J, scale_of
from notchbook.model.rig import Rig
from notchbook.model.verification import Verification

FEWEST_CHANGES = 2
"""With one change alone their spread is not known well enough to judge by it."""
_READ_DIVISIONS = 2.0
"""Below so many divisions of the scale a loss changes by the reading more than by the pendulum."""


@dataclass(frozen=True, slots=True)
class VerifiedLoss:
    """Indicator, bearing and air loss by one verification, in percent of the nominal energy."""

    verification: Verification
    loss_pct: float
    division_pct: float
    """What one division of the scale is worth where the pendulum turned."""


@dataclass(frozen=True, slots=True)
class LossChange:
    """A loss of a hammer over that of its verification before."""

    verification: str
    """Id of the later one."""
    relative: float
    """The later loss less the earlier one, over the mean of both: the same size to either side."""


@dataclass(frozen=True, slots=True)
class LossSpread:
    """How much losses change from one verification to the next on one rig."""

    relative: float
    """Root mean square of the changes: a standard deviation as a share of the loss."""
    degrees_of_freedom: int
    """Number of changes."""


def verified_losses(
    rig: Rig, hammer: SwungHammer, verifications: Iterable[Verification], results: Mapping[str, VerificationResult]
) -> list[list[VerifiedLoss]]:
    """The losses of a hammer in the order of their days, a list for each time between two repairs.

    A loss before a repair says nothing of those after it. Of several verifications of one day the last counts. Losses
    that cannot be, nothing or less by more than a reading tells, are left out; they are told where they stand.

    Args:
        rig: With its repairs.
        hammer: As it swings.
        verifications: Of that hammer, in any order.
        results: By verification.
    """
    repaired = [each.on for each in repairs_of(rig, hammer.id)]
    of_days = {each.date: each for each in sorted(verifications, key=lambda each: (each.date, each.id))}
    found = []
    for verification in of_days.values():
        losses = results[verification.id].losses if verification.id in results else None
        if losses is None or not 0.0 < losses.loss_pct < math.inf:
            continue
        worth_pct = division_pct(rig, hammer, losses.first_rise_deg)
        least_J = -worth_pct / 100.0 * hammer.nominal_energy_J
        if math.isfinite(worth_pct) and min(losses.indicator_loss_J, losses.swing_loss_J) >= least_J:
            found.append(VerifiedLoss(verification, losses.loss_pct, worth_pct))
    times = groupby(found, lambda each: sum(day <= each.verification.date for day in repaired))
    return [list(each) for _, each in times]


def loss_changes(losses: Iterable[VerifiedLoss]) -> Iterator[LossChange]:
    """From one loss to the next, of losses that lie well above what the scale shows."""
    for earlier, later in pairwise(losses):
        if all(each.loss_pct >= _READ_DIVISIONS * each.division_pct for each in (earlier, later)):
            yield LossChange(later.verification.id, relative_change(earlier.loss_pct, later.loss_pct))


def relative_change(earlier: float, later: float) -> float:
    """A change over the mean of both values, which are greater than 0."""
    return 2.0 * (later - earlier) / (later + earlier)


def pooled(changes: Iterable[LossChange]) -> LossSpread | None:
    """The spread of the changes of all hammers of a rig, with as many degrees of freedom as there are changes.

    The hammers of a rig share axis, bearings and indicator, and one hammer alone has a change a year, so that its own
    spread stays unknown for years. They are pooled as shares of the loss and not of the energy: dirt and wear make a
    loss larger by a part of itself, while losses of small and large hammers differ tenfold in percent of their energy.
    The expected change is none, so that no degree of freedom goes to a mean; a change does not depend on the time
    that passed. Between two verifications a loss departs from the first of them by this spread, as a standard
    uncertainty. Common practice, no source.

    Returns:
        None with fewer than two changes.
    """
    found = [each.relative for each in changes]
    if len(found) < FEWEST_CHANGES:
        return None
    return LossSpread(math.hypot(*found) / math.sqrt(len(found)), len(found))


def division_pct(rig: Rig, hammer: SwungHammer, rise_deg: float) -> float:
    """What one division of the scale is worth at a rise, in percent of the nominal energy."""
    return 100.0 * division_worth_J(scale_of(rig, hammer), hammer, rise_deg) / hammer.nominal_energy_J
