"""Free swings, of a verification or of the day: complete, possible, in order, and inside the method's limit."""

from __future__ import annotations

from typing import TYPE_CHECKING

from notchbook.checks.subject import Check, Complaint
from notchbook.checks.words import number, too_far
from notchbook.evaluation.losses import swing_energies
from notchbook.findings import Rule
from notchbook.physics.pendulum import energy_from_rise_J

if TYPE_CHECKING:
    from collections.abc import Iterator

    from notchbook.checks.subject import RecordCase, VerificationCase
    from notchbook.evaluation.hammers import SwungHammer
    from notchbook.evaluation.losses import Losses
    from notchbook.model.method import Method
    from notchbook.model.rig import Rig
    from notchbook.model.swings import FreeSwings

# Losses per half swing shrink as the swings do; a quarter is more than that does over ten half swings.
_LATER_SHARE = 0.25

FREE_SWINGS_COMPLETE = Rule(
    "free-swings-complete",
    "Both free swings were read, and later ones with their number",
    "The first carries the indicator and the second does not; it takes both to tell the losses apart.",
    "ISO 13802, 5.6",
)
FREE_SWING_ORDER = Rule(
    "free-swing-order",
    "Each free swing is possible and they follow in order",
    "A pendulum never rises to its release angle, rises higher without the indicator, and lower after more swings.",
    "conservation of energy; ISO 13802, 5.6",
)
LOSS_LIMIT = Rule(
    "loss-limit",
    "Indicator, bearings and air take no more than the method allows that energy",
    "Losses are corrected for, but the correction is only as good as they are small.",
    "ISO 13802, Table 2",
    declarable=True,
)
LATER_SWINGS = Rule(
    "later-swings",
    "The loss of the free swing agrees with that of the later swings",
    "Both tell what bearings and air take; where they disagree, one of the angles was misread.",
    "ISO 148-1, 8.2; the allowed difference is common practice, no source",
)

_PAIRS = (
    ("first_rise_deg", "first_indicated_energy_J"),
    ("second_rise_deg", "second_indicated_energy_J"),
    ("later_rise_deg", "later_indicated_energy_J"),
)


def _key(swings: FreeSwings, which: int) -> str:
    """The key that a swing was read under."""
    angle, energy = _PAIRS[which]
    return angle if getattr(swings, angle) is not None or getattr(swings, energy) is None else energy


def _complete(hammer: SwungHammer, swings: FreeSwings) -> Iterator[Complaint]:
    energies = swing_energies(hammer, swings)
    for value, name in ((energies.first_J, "first"), (energies.second_J, "second")):
        if value is None:
            yield Complaint(
                ("free_swings",),
                f"the {name} free swing is missing",
                f"add {name}_rise_deg, or {name}_indicated_energy_J on a scale that reads energy",
            )
    if (energies.later_J is None) != (swings.half_swings is None):
        yield Complaint(
            ("free_swings",), "a later rise and the number of half swings go together", "add the one that is missing"
        )
    for angle, energy in _PAIRS:
        if getattr(swings, angle) is not None and getattr(swings, energy) is not None:
            yield Complaint(
                ("free_swings", energy), f"the swing has both {angle} and {energy}", "keep the one that was read"
            )


def _order(hammer: SwungHammer, swings: FreeSwings) -> Iterator[Complaint]:
    energies = swing_energies(hammer, swings)
    first, second, later = energies.first_J, energies.second_J, energies.later_J
    release = number(hammer.release_angle_deg)
    if second is not None and second <= 0.0:
        yield Complaint(
            ("free_swings", _key(swings, 1)),
            f"the second free swing lost nothing: it reaches the release angle of {release}° or more",
            "read the rise again, and see that the release angle is the hammer's",
        )
    if first is not None and (first <= 0.0 or first >= hammer.potential_energy_J):
        yield Complaint(
            ("free_swings", _key(swings, 0)),
            f"the first free swing does not end between rest and the release angle of {release}°",
            "read the rise again, and see that the release angle is the hammer's",
        )
    elif first is not None and second is not None and first < second:
        yield Complaint(
            ("free_swings", _key(swings, 1)),
            "the second free swing lost more than the first, though it did not carry the indicator",
            "see whether the two were exchanged",
        )
    if later is not None and second is not None and later <= second:
        yield Complaint(
            ("free_swings", _key(swings, 2)),
            "the later swing rises as high as the second free swing or higher, though more half swings lie between",
            "read the later rise again",
        )


def _limit(hammer: SwungHammer, method: Method, losses: Losses, swings: FreeSwings) -> Iterator[Complaint]:
    allowed = method.pendulums.of_energy(hammer.nominal_energy_J)
    if allowed is None or not too_far(losses.loss_pct, allowed.loss_pct) or any(_order(hammer, swings)):
        return
    total_J = losses.indicator_loss_J + losses.swing_loss_J
    yield Complaint(
        ("free_swings", _key(swings, 0)),
        f"indicator, bearings and air take {number(total_J)} J, {losses.loss_pct:.2f} % of the nominal "
        f"{number(hammer.nominal_energy_J)} J; {method.standard} allows {number(allowed.loss_pct)} % "
        f"({allowed.origin.clause}, {allowed.origin.words})",
        "clean and check the bearings and the indicator, then swing again",
    )


def _later(hammer: SwungHammer, rig: Rig, losses: Losses, swings: FreeSwings) -> Iterator[Complaint]:
    half = losses.half_swing_loss_J
    if half is None or any(_order(hammer, swings)):
        return
    allowed = _division_J(hammer, rig, losses) + _LATER_SHARE * max(half, losses.swing_loss_J)
    if abs(half - losses.swing_loss_J) > allowed:
        yield Complaint(
            ("free_swings", _key(swings, 2)),
            f"by the later swings bearings and air take {number(half)} J a swing, "
            f"by the second free swing {number(losses.swing_loss_J)} J",
            f"they may differ by {number(allowed)} J: read the angles again and count the half swings",
        )


def _division_J(hammer: SwungHammer, rig: Rig, losses: Losses) -> float:
    """What one division of the scale is worth at the height of the free swing."""
    if rig.indicator.division_J is not None:
        return rig.indicator.division_J
    division = rig.indicator.division_deg or 0.0
    return float(energy_from_rise_J(hammer.moment_Nm, losses.second_rise_deg, losses.second_rise_deg - division))


def record_complete(case: RecordCase) -> Iterator[Complaint]:
    """The day's free swings are complete."""
    if case.record.free_swings is not None and case.hammer is not None:
        yield from _complete(case.hammer, case.record.free_swings)


def record_order(case: RecordCase) -> Iterator[Complaint]:
    """The day's free swings are possible."""
    if case.record.free_swings is not None and case.hammer is not None:
        yield from _order(case.hammer, case.record.free_swings)


def record_limit(case: RecordCase) -> Iterator[Complaint]:
    """The day's losses are inside the limit."""
    losses = case.result.losses if case.result else None
    if case.record.free_swings is not None and case.hammer is not None and case.method is not None and losses:
        yield from _limit(case.hammer, case.method, losses, case.record.free_swings)


def record_later(case: RecordCase) -> Iterator[Complaint]:
    """The day's later swings agree with the free swing."""
    losses = case.result.losses if case.result else None
    if case.record.free_swings is not None and case.hammer is not None and case.rig is not None and losses:
        yield from _later(case.hammer, case.rig, losses, case.record.free_swings)


def verification_complete(case: VerificationCase) -> Iterator[Complaint]:
    """The free swings of a verification are complete."""
    if case.hammer is not None:
        yield from _complete(case.hammer, case.verification.free_swings)


def verification_order(case: VerificationCase) -> Iterator[Complaint]:
    """The free swings of a verification are possible."""
    if case.hammer is not None:
        yield from _order(case.hammer, case.verification.free_swings)


def verification_limit(case: VerificationCase) -> Iterator[Complaint]:
    """The losses of a verification are inside the limit."""
    losses = case.result.losses if case.result else None
    if case.hammer is not None and case.method is not None and losses:
        yield from _limit(case.hammer, case.method, losses, case.verification.free_swings)


def verification_later(case: VerificationCase) -> Iterator[Complaint]:
    """The later swings of a verification agree with its free swing."""
    losses = case.result.losses if case.result else None
    if case.hammer is not None and case.rig is not None and losses:
        yield from _later(case.hammer, case.rig, losses, case.verification.free_swings)


RECORD_CHECKS = (
    Check(FREE_SWINGS_COMPLETE, record_complete),
    Check(FREE_SWING_ORDER, record_order),
    Check(LOSS_LIMIT, record_limit),
    Check(LATER_SWINGS, record_later),
)
VERIFICATION_CHECKS = (
    Check(FREE_SWINGS_COMPLETE, verification_complete),
    Check(FREE_SWING_ORDER, verification_order),
    Check(LOSS_LIMIT, verification_limit),
    Check(LATER_SWINGS, verification_later),
)
