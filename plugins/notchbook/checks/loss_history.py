"""The loss of a hammer, at a verification or on the day of a test, against its own history."""

from collections.abc import Iterator

from notchbook.checks.subject import Check, Complaint, RecordCase, SwingsCase, VerificationCase
from notchbook.checks.swing_origin import of_another_hammer, own_hammers
from notchbook.evaluation.loss_changes import division_pct
from notchbook.evaluation.loss_history import newest_history
from notchbook.evaluation.loss_trend import loss_trends
from notchbook.evaluation.losses import Losses
from notchbook.evaluation.repairs import last_repair
from notchbook.findings import Rule, Severity
from notchbook.wording.lists import counted
from notchbook.wording.numbers import plain

_COMPARED = 3
"""A verification with the two before it."""

_JUMP = 2.0
"""Factor between two losses that is a jump."""
_JUMP_DIVISIONS = 2.0
"""Divisions of the scale that a jump is more than."""

LOSS_HISTORY = Rule(
    "loss-history",
    "The newest loss of a hammer is one that its earlier verifications let expect",
    "A loss that jumps is a bearing, an indicator or a reading that has changed, long before the limit is reached.",
    "a change from the loss before, and from the mean of the earlier ones since the last repair, that chance brings in "
    "less than 5 % by the changes of all hammers of the rig, or doubles or halves it; at least one division of the "
    "scale; that losses are held against it: common practice, no source",
    "Swing and read again; if it is right, have bearings and indicator looked at, and write what was done under "
    "`repairs` of the rig.",
    Severity.WARNING,
)
LOSS_JUMP = Rule(
    "loss-jump",
    "The loss of a hammer does not double or halve from one verification to the next",
    "Bearings wear slowly. A loss that jumps is a misread swing, another hammer or a repair, and every record until "
    "the next verification is corrected with it.",
    "a factor of two and more than two divisions of the scale, where the losses of the rig have changed fewer than "
    "twice, a later loss is known, and no repair lies between: common practice, no source",
    "Swing and read again; if it is right, write what was done to bearings and indicator under `repairs` of the rig.",
    Severity.WARNING,
)
LOSS_TREND = Rule(
    "loss-trend",
    "The loss of a hammer does not grow steadily",
    "Bearings that run dry take a little more each year; no single verification looks wrong, until the limit is there.",
    "from three losses since the last repair on: a line that losses which do not grow lie on in less than 1 %, by the "
    "scatter about the lines of all hammers of the rig, and that has grown by half or reaches the limit within two "
    "years: common practice, no source",
    "Have bearings and indicator cleaned or renewed, and write it under `repairs` of the rig; until then acknowledge "
    "it.",
    Severity.WARNING,
)
DAY_LOSS = Rule(
    "day-loss",
    "The loss on the day of a test or an exercise is near that of the verification in force",
    "A loss that doubled or halved since the verification is a bearing, an indicator or a misread swing.",
    "a factor of two and more than two divisions of the scale: common practice, no source",
    "Swing and read again; if it is right, have bearings and indicator looked at and the pendulum verified again.",
    Severity.WARNING,
)


def newest_loss(case: VerificationCase) -> Iterator[Complaint]:
    """A newest loss outside what the earlier ones let expect."""
    history = newest_history(case.around.evaluation, case.verification)
    if history is None or not history.departs:
        return
    low, high = history.interval_pct
    earlier = counted(history.earlier.n, "earlier verification")
    yield Complaint(
        _first_swing(case),
        f"indicator, bearings and air take {history.newest_pct:.2f} % of the nominal energy; {earlier} of hammer "
        f"'{case.verification.hammer}' and {history.spread.degrees_of_freedom} changes of losses on this rig let "
        f"expect {max(low, 0.0):.2f} to {high:.2f} %",
        "swing and read again; if it is right, look for what has changed at bearings and indicator",
    )


def steady_growth(case: VerificationCase) -> Iterator[Complaint]:
    """A newest loss at the end of a line that rises to where somebody has to act, and is no jump."""
    own, evaluation = case.verification, case.around.evaluation
    if case.rig is None or case.hammer is None or any(newest_loss(case)):
        return
    trend = loss_trends(evaluation, own.rig).get(own.hammer)
    limit_pct = _allowed_pct(case)
    if trend is None or trend.losses[-1].verification.id != own.id or not trend.is_to_be_told(limit_pct):
        return
    first, when = trend.losses[0].verification, trend.reaches(limit_pct)
    yield Complaint(
        _first_swing(case),
        f"indicator, bearings and air take more from verification to verification: {trend.first_pct:.2f} % of the "
        f"nominal energy on {first.date}, {trend.newest_pct:.2f} % now by the line through {len(trend.losses)} of them"
        + (f", and the allowed {plain(limit_pct)} % in {when.year}" if when is not None and when > own.date else ""),
        "have bearings and indicator cleaned or renewed before the limit is reached",
    )


def _first_swing(case: VerificationCase) -> tuple[str, str]:
    angle = case.verification.free_swings.first_rise_deg is not None
    return "free_swings", "first_rise_deg" if angle else "first_indicated_energy_J"


def loss_jump(case: VerificationCase) -> Iterator[Complaint]:
    """A loss that jumped since the verification before, and did not only come back from a jump."""
    evaluation, own = case.around.evaluation, case.verification
    if case.rig is None or case.hammer is None or newest_history(evaluation, own) is not None:
        return
    near = evaluation.around_day(own.rig, own.hammer, own.date, _COMPARED)
    repaired = last_repair(case.rig, own.hammer, own.date)
    earlier = [each for each in near if each.date < own.date and (repaired is None or repaired <= each.date)]
    found = [evaluation.verifications[each.id].losses for each in (own, *earlier)]
    losses = [each for each in found if each is not None]
    if not earlier or len(losses) < len(found) or any(of_another_hammer(case)):
        return
    worth_pct = division_pct(case.rig, case.hammer, losses[0].first_rise_deg)
    now, last, *before = losses
    limit_pct = _allowed_pct(case)
    came_back = bool(before) and not _jumps(now, before[0], worth_pct, limit_pct)
    if _jumps(now, last, worth_pct, limit_pct) and not came_back:
        yield Complaint(
            _first_swing(case),
            f"indicator, bearings and air take {now.loss_pct:.2f} % of the nominal energy, {last.loss_pct:.2f} % in "
            f"the verification before, '{earlier[0].id}'",
            "swing and read again; if it is right, look for what has changed at bearings and indicator",
        )


def day_loss(case: RecordCase | SwingsCase) -> Iterator[Complaint]:
    """Losses of the day that jumped since the verification in force, and fit none of those beside it either."""
    record, evaluation = case.record, case.around.evaluation
    if case.own_swings is None or case.verification is None or case.rig is None:
        return
    of_day, hammer, limit_pct = case.losses, case.hammer, _allowed_pct(case)
    near = [
        each
        for hammer_id in own_hammers(case)
        for each in evaluation.around_day(record.rig, hammer_id, record.date, 2, 1)
        if (last_repair(case.rig, hammer_id, record.date) or each.date) <= each.date
    ]
    verified = [losses for each in near if (losses := evaluation.verifications[each.id].losses) is not None]
    if of_day is None or hammer is None or not verified or any(of_another_hammer(case)):
        return
    worth_pct = division_pct(case.rig, hammer, of_day.first_rise_deg)
    if all(_jumps(of_day, each, worth_pct, limit_pct) for each in verified):
        in_force = evaluation.verifications[case.verification.id].losses
        known = f"{in_force.loss_pct:.2f} %" if in_force is not None else "another share"
        yield Complaint(
            ("free_swings",),
            f"indicator, bearings and air take {of_day.loss_pct:.2f} % of the nominal energy on the day, "
            f"{known} in verification '{case.verification.id}'",
            "swing and read again; if it is right, something has changed since the verification",
        )


def _jumps(losses: Losses, others: Losses, worth_pct: float, allowed_pct: float) -> bool:
    """Whether one loss is twice the other or more, and more than two divisions of the scale off.

    A loss that cannot be, or that the method does not allow, is told where it stands and compared with nothing.
    """
    for each in (losses, others):
        if min(each.indicator_loss_J, each.swing_loss_J) < 0.0 or each.loss_pct > allowed_pct:
            return False
    low, high = sorted((losses.loss_pct, others.loss_pct))
    return high >= _JUMP * low and high - low > _JUMP_DIVISIONS * worth_pct * (1 + 1e-9)


def _allowed_pct(case: RecordCase | SwingsCase | VerificationCase) -> float:
    """The loss that the method allows the hammer, in percent of its nominal energy; all of it where none is known."""
    return case.asked.loss_pct if case.asked is not None else 100.0


RECORD_CHECKS = (Check(DAY_LOSS, day_loss),)
VERIFICATION_CHECKS = (
    Check(LOSS_HISTORY, newest_loss),
    Check(LOSS_JUMP, loss_jump),
    Check(LOSS_TREND, steady_growth),
)
SWINGS_CHECKS = (Check(DAY_LOSS, day_loss),)
