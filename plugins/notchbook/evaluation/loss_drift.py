"""How far the losses of a hammer may have gone since they were verified, from how far they went before.

Between two verifications a pointer is tightened, a bearing is oiled or fills with dust. A record that rests on the
losses of a verification has those of another day, so that the change is an uncertainty of its own. It is taken relative
to the loss: hammers of one rig share bearings and indicator, and what changes there changes the losses of all of them
by about the same share, but by other amounts of energy.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from notchbook.evaluation.losses import Losses
from notchbook.physics.uncertainty import rectangular_standard_uncertainty

FEWEST_CHANGES = 3
"""With fewer their size is not known well enough to go by."""
# Common practice, no source
_UNKNOWN_HALF_WIDTH = 0.3
_UNKNOWN_BASIS = (
    "limits of 30 % of the loss, as fewer than three changes between verifications are known on this rig "
    "(common practice, no source), rectangular"
)


@dataclass(frozen=True, slots=True)
class LossDrift:
    """Standard uncertainty of a loss on another day than that of its verification."""

    relative: float
    """Over the loss."""
    basis: str


def loss_drift(histories: Iterable[Sequence[Losses]]) -> LossDrift:
    """The drift on a rig, pooled over its hammers.

    The root mean square of the changes from one verification to the next, each over the mean of the two. A change that
    came suddenly has its whole size from that day on, and nobody knows the day; one that came slowly has been smaller
    for most of the time, so that this is rather too much than too little.

    Arguments:
        histories: the losses by the verifications of each hammer, from the oldest to the newest.
    """
    changes = [change for each in histories for pair in pairwise(each) if (change := _change(*pair)) is not None]
    if len(changes) < FEWEST_CHANGES:
        return LossDrift(float(rectangular_standard_uncertainty(_UNKNOWN_HALF_WIDTH)), _UNKNOWN_BASIS)
    relative = math.hypot(*changes) / math.sqrt(len(changes))
    known = f"{len(changes)} changes between verifications of the rig's hammers"
    return LossDrift(relative, f"{100.0 * relative:.2g} % of the loss, by {known}")


def _change(before: Losses, after: Losses) -> float | None:
    """From one loss to the next over the mean of both; None where that is no loss."""
    mean_J = (before.free_swing_J + after.free_swing_J) / 2.0
    return (after.free_swing_J - before.free_swing_J) / mean_J if mean_J > 0.0 else None
