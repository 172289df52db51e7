"""How far the losses of a hammer may have gone since they were verified, from how far they went before.

Between two verifications a pointer is tightened, a bearing is oiled or fills with dust. A record that rests on the
losses of a verification has those of another day, so that the change is an uncertainty of its own. It is taken relative
to the loss: hammers of one rig share bearings and indicator, and what changes there changes the losses of all of them
by about the same share, but by other amounts of energy.
"""

from notchbook.evaluation.input_uncertainties import Taken
from notchbook.evaluation.loss_changes import LossSpread
from notchbook.physics.uncertainty import rectangular_standard_uncertainty

FEWEST_CHANGES = 3
"""With fewer their size is not known well enough to go by."""
# Common practice, no source
_UNKNOWN_HALF_WIDTH = 0.3
_UNKNOWN_BASIS = (
    "limits of 30 % of the loss, as fewer than three changes between verifications are known on this rig "
    "(common practice, no source), rectangular"
)


def loss_drift(spread: LossSpread | None) -> Taken:
    """The drift on a rig, by how much its losses change from one verification to the next.

    A change that came suddenly has its whole size from that day on, and nobody knows the day; one that came slowly has
    been smaller for most of the time, so that the whole spread is rather too much than too little.

    Arguments:
        spread: of the changes, pooled over the hammers of the rig; None where too few are known.

    Returns:
        The standard uncertainty as a share of the loss.
    """
    if spread is None or spread.degrees_of_freedom < FEWEST_CHANGES:
        return Taken(float(rectangular_standard_uncertainty(_UNKNOWN_HALF_WIDTH)), _UNKNOWN_BASIS, "rectangular")
    known = f"{spread.degrees_of_freedom} changes between verifications of the rig's hammers"
    return Taken(spread.relative, f"{100.0 * spread.relative:.2g} % of the loss, by {known}")
