"""Free swings, of a verification or of the day: complete, possible, in order, and inside the method's limit."""

from collections.abc import Iterator
from dataclasses import dataclass

from notchbook.checks.subject import Check, Complaint
from notchbook.checks.words import too_far
from notchbook.evaluation.hammers import SwungHammer
from notchbook.evaluation.losses import find_losses, swing_energies
from notchbook.evaluation.resolved import ResolvedRecord, ResolvedSwings, ResolvedVerification
from notchbook.findings import Rule
from notchbook.model.requirement import LAST_BIT
from notchbook.model.verification import FreeSwings
from notchbook.wording.numbers import number

SwungCase = ResolvedRecord | ResolvedVerification | ResolvedSwings
LATER_SHARE = 0.25
"""Losses per half swing shrink as the swings do; a quarter is more than that does over ten half swings."""
RESOLVED_SHARE = 0.1
"""Half a division worth less than this share of the allowed loss shows a loss that is there; a coarser scale may
not."""

FREE_SWINGS_COMPLETE = Rule(
    "free-swings-complete",
    "Both free swings were read, and later ones with their number",
    "The first carries the indicator and the second does not; it takes both to tell the losses apart.",
    "ISO 13802:1999, 5.6",
    "Add the swing that is missing, with its number of half swings if it is a later one.",
)
FREE_SWING_ORDER = Rule(
    "free-swing-order",
    "Each free swing is possible and they follow in order",
    "A pendulum never rises to its release angle, rises higher without a drag pointer, and lower after more swings.",
    "conservation of energy; ISO 13802:1999, 5.6",
    "See whether two readings were exchanged; if not, swing and read again, or state that the rig has no drag pointer.",
)
LOSS_LIMIT = Rule(
    "loss-limit",
    "Indicator, bearings and air take no more than the method allows that energy",
    "Losses are corrected for, but the correction is only as good as they are small.",
    "ISO 13802:1999, Table 2",
    "Have bearings and indicator cleaned and checked by the person responsible, then swing again.",
    declarable=True,
)
LATER_SWINGS = Rule(
    "later-swings",
    "The loss of the free swing agrees with that of the later swings",
    "Both tell what bearings and air take; where they disagree, one of the angles was misread.",
    "ISO 148-1, 8.2; the allowed difference is common practice, no source",
    "Count the half swings again and read the later rise again.",
)

_PAIRS = (
    ("first_rise_deg", "first_indicated_energy_J"),
    ("second_rise_deg", "second_indicated_energy_J"),
    ("later_rise_deg", "later_indicated_energy_J"),
)


@dataclass(frozen=True, slots=True)
class _Swung:
    """The free swings of a verification, of a test's day or of a group, with what was swung."""

    case: SwungCase
    hammer: SwungHammer
    swings: FreeSwings

    def key(self, which: int) -> str:
        """The key that a swing was read under."""
        angle, energy = _PAIRS[which]
        read = getattr(self.swings, angle) is not None or getattr(self.swings, energy) is None
        return angle if read else energy

    @property
    def second_lost_more(self) -> bool:
        """Whether the second swing lost more than the first, though it did not carry the pointer.

        Without a pointer both are the same swing, and two readings of it may differ by a division either way.
        """
        rig, losses = self.case.rig, find_losses(self.hammer, self.swings)
        if rig is None or losses is None:
            return False
        rise_deg = (losses.first_rise_deg + losses.second_rise_deg) / 2.0
        division_J = 0.0 if rig.indicator.pointer == "drag" else self.case.division_worth_J(rise_deg)
        return losses.indicator_loss_J < -division_J * (1 + LAST_BIT)

    def lost_nothing(self, energy_J: float) -> bool:
        """Whether a swing lost nothing, though the scale is fine enough to show what a sound pendulum loses."""
        allowed = self.case.asked
        half_J = self.case.division_worth_J(self.hammer.release_angle_deg) / 2.0
        allowed_J = allowed.loss_pct / 100.0 * self.hammer.nominal_energy_J if allowed else 0.0
        return energy_J <= 0.0 if half_J < RESOLVED_SHARE * allowed_J else energy_J < -half_J * (1 + LAST_BIT)


def _swung(case: SwungCase) -> _Swung | None:
    swings, hammer = case.own_swings, case.hammer
    return _Swung(case, hammer, swings) if swings is not None and hammer is not None else None


def complete(case: SwungCase) -> Iterator[Complaint]:
    """Free swings that are missing, or of which too much was written."""
    swung = _swung(case)
    if swung is None:
        return
    swings, energies = swung.swings, swing_energies(swung.hammer, swung.swings)
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
    elif energies.later_J is None and case.method is not None and case.method.loss_correction == "metals":
        yield Complaint(
            ("free_swings",),
            f"the loss correction of {case.method.standard} needs the later swings ({case.method.loss_origin.clause})",
            "add half_swings with later_rise_deg or later_indicated_energy_J",
        )
    for angle, energy in _PAIRS:
        if getattr(swings, angle) is not None and getattr(swings, energy) is not None:
            yield Complaint(
                ("free_swings", energy), f"the swing has both {angle} and {energy}", "keep the one that was read"
            )


def order(case: SwungCase) -> Iterator[Complaint]:
    """Free swings that cannot have been."""
    swung = _swung(case)
    if swung is None:
        return
    hammer, energies = swung.hammer, swing_energies(swung.hammer, swung.swings)
    first, second, later = energies.first_J, energies.second_J, energies.later_J
    release = number(hammer.release_angle_deg)
    if second is not None and swung.lost_nothing(second):
        yield Complaint(
            ("free_swings", swung.key(1)),
            f"the second free swing lost nothing: it reaches the release angle of {release}° or more",
            "read the rise again, and see that the release angle is the hammer's",
        )
    if first is not None and (swung.lost_nothing(first) or first >= hammer.potential_energy_J):
        yield Complaint(
            ("free_swings", swung.key(0)),
            f"the first free swing does not end between rest and the release angle of {release}°",
            "read the rise again, and see that the release angle is the hammer's",
        )
    elif swung.second_lost_more:
        yield Complaint(
            ("free_swings", swung.key(1)),
            "the second free swing lost more than the first, though it did not carry the indicator",
            "see whether the two were exchanged",
        )
    if later is not None and second is not None and later <= second:
        yield Complaint(
            ("free_swings", swung.key(2)),
            "the later swing rises as high as the second free swing or higher, though more half swings lie between",
            "read the later rise again",
        )


def limit(case: SwungCase) -> Iterator[Complaint]:
    """Losses beyond what the method allows, where the swings they are from are possible."""
    swung = _swung(case)
    if swung is None or case.losses is None or case.method is None or case.asked is None or any(order(case)):
        return
    losses, allowed = case.losses, case.asked
    if too_far(losses.loss_pct, allowed.loss_pct):
        yield Complaint(
            ("free_swings", swung.key(0)),
            f"indicator, bearings and air take {number(losses.indicator_loss_J + losses.swing_loss_J)} J, "
            f"{losses.loss_pct:.2f} % of the nominal {number(swung.hammer.nominal_energy_J)} J; "
            f"{case.method.standard} allows {number(allowed.loss_pct)} % "
            f"({allowed.origin.clause}, {allowed.origin.words})",
            "clean and check the bearings and the indicator, then swing again",
        )


def later_swings(case: SwungCase) -> Iterator[Complaint]:
    """Later swings that do not agree with the free swing."""
    swung = _swung(case)
    losses = case.losses if swung is not None else None
    if swung is None or losses is None or losses.half_swing_loss_J is None or any(order(case)):
        return
    half, swing = losses.half_swing_loss_J, losses.swing_loss_J
    allowed = case.division_worth_J(losses.second_rise_deg) + LATER_SHARE * max(half, swing)
    if abs(half - swing) > allowed:
        yield Complaint(
            ("free_swings", swung.key(2)),
            f"by the later swings bearings and air take {number(half)} J a half swing, "
            f"by the second free swing {number(swing)} J",
            f"they may differ by {number(allowed)} J: read the angles again and count the half swings",
        )


BOTH_CHECKS: tuple[Check[SwungCase], ...] = (
    Check(FREE_SWINGS_COMPLETE, complete),
    Check(FREE_SWING_ORDER, order),
    Check(LOSS_LIMIT, limit),
    Check(LATER_SWINGS, later_swings),
)
"""Of records, of verifications and of the swings of a group."""
