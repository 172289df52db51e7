"""The newest loss of a hammer against its own history."""

from __future__ import annotations

from typing import TYPE_CHECKING

from notchbook.checks.subject import Check, Complaint
from notchbook.evaluation.loss_history import newest_history
from notchbook.findings import Rule, Severity

if TYPE_CHECKING:
    from collections.abc import Iterator

    from notchbook.checks.subject import VerificationCase

LOSS_HISTORY = Rule(
    "loss-history",
    "The newest loss of a hammer is one that its earlier verifications let expect",
    "A loss that jumps is a bearing, an indicator or a reading that has changed, long before the limit is reached.",
    "95 % prediction interval of one more value from three earlier ones or more, at least one division of the scale; "
    "that losses are held against it: common practice, no source",
    "Swing and read again; if it is right, have bearings and indicator looked at, and write into the notes what was "
    "done.",
    Severity.WARNING,
)


def newest_loss(case: VerificationCase) -> Iterator[Complaint]:
    """A newest loss outside what the earlier ones let expect."""
    history = newest_history(case.around.evaluation, case.verification)
    if history is None or not history.departs:
        return
    low, high = history.interval_pct
    swings = case.verification.free_swings
    yield Complaint(
        ("free_swings", "first_rise_deg" if swings.first_rise_deg is not None else "first_indicated_energy_J"),
        f"indicator, bearings and air take {history.newest_pct:.2f} % of the nominal energy; the {history.earlier.n} "
        f"earlier verifications of hammer '{case.verification.hammer}' let expect {max(low, 0.0):.2f} to {high:.2f} %",
        "swing and read again; if it is right, look for what has changed at bearings and indicator",
    )


VERIFICATION_CHECKS = (Check(LOSS_HISTORY, newest_loss),)
