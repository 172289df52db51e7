"""Losses of one autumn after the other, as verifications give them."""

import datetime as dt

from notchbook.evaluation.loss_changes import VerifiedLoss
from notchbook.model.verification import FreeSwings, Verification

DIVISION_PCT = 0.01


def losses(losses_pct, hammer="charpy-1", division_pct=DIVISION_PCT):
    """The losses of a hammer, the first of them of 2016."""
    found = []
    for place, loss_pct in enumerate(losses_pct):
        date = dt.date(2016 + place, 9, 1)
        verification = Verification(
            f"{date}-{hammer}", date, "bench-1", hammer, "LT-1", date, None, None, None, FreeSwings(), (), None
        )
        found.append(VerifiedLoss(verification, loss_pct, division_pct))
    return found
