"""Which hammer to take for a test: the energy that bars will absorb, held against the windows of the hammers."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from notchbook.evaluation.lookup import division_worth_kJ_m2, rise_after_break_deg
from notchbook.physics.strength import impact_strength_kJ_m2

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence

    from notchbook.evaluation.hammers import SwungHammer
    from notchbook.evaluation.losses import Losses
    from notchbook.evaluation.records import RecordResult, SpecimenResult
    from notchbook.model.method import EnergyWindow, Method
    from notchbook.model.procedure import Material, SpecimenChoice, TypicalStrength
    from notchbook.model.rig import Indicator

Basis = Literal["own-results", "typical-range"]
Reason = Literal["whole-range", "most-of-range", "outside", "not-known"]
Held = Literal["all", "some", "none"]
# An energy of exactly 10 % must not fall out of the window for the last bit of a binary fraction.
_LAST_BITS_PCT = 1e-9
_EQUAL_TO_PLACES = 9


@dataclass(frozen=True, slots=True)
class Section:
    """The part of a bar that breaks, at its nominal dimensions."""

    thickness_mm: float
    width_mm: float
    """What is left under a notch, the whole width without one."""

    def energy_J(self, strength_kJ_m2: float) -> float:
        """Energy that a bar of that strength absorbs: ``W = a h b``."""
        return strength_kJ_m2 / float(impact_strength_kJ_m2(1.0, self.thickness_mm, self.width_mm))


@dataclass(frozen=True, slots=True)
class ExpectedEnergy:
    """Between which energies the bars of a test are expected to break."""

    low_J: float
    high_J: float
    basis: Basis
    bars: int
    """How many bars it was found from; 0 for a typical range."""

    def __post_init__(self) -> None:
        if not self.low_J <= self.high_J:
            raise ValueError(f"an expected range begins with its lower end, got {self.low_J:g} to {self.high_J:g} J")


@dataclass(frozen=True, slots=True)
class Choice:
    """The hammer to take and how far it suits."""

    hammer: SwungHammer
    low_pct: float | None
    """The least expected energy in percent of the hammer's potential energy; None where none is known."""
    high_pct: float | None
    contains_all: bool
    """Whether its window holds the whole expected range."""
    reason: Reason
    """`whole-range`: the largest of those whose window holds the whole range; `most-of-range`: the one whose window
    holds most of it; `outside`: no window holds any of it, and this is the nearest that can break the bars, or else
    the largest; `not-known`: nothing is known, and this is the largest."""


@dataclass(frozen=True, slots=True)
class Outlook:
    """What the expected bars would be on one hammer. Of each pair the first is for the least energy expected."""

    hammer: SwungHammer
    share_pct: tuple[float, float]
    """Of the hammer's potential energy."""
    held: Held
    """Which of the expected range lies in the window."""
    rise_deg: tuple[float | None, float | None]
    """Angle of rise; None where the pendulum would not pass the bar."""
    division_kJ_m2: tuple[float | None, float | None]
    """What one division of the scale is worth at that rise, for a bar of nominal section."""


def nominal_section(method: Method, specimen: SpecimenChoice) -> Section | None:
    """The nominal section of a method's specimen; None where the method has no such type or notch."""
    return bar_section(method, specimen.type, specimen.notch)


def bar_section(method: Method, type_id: str, notch_id: str) -> Section | None:
    """The nominal section of a type with a notch, or with `none`; None where the method has no such type or notch."""
    bar, notch = method.specimen_type(type_id), method.notch(notch_id)
    if bar is None or (notch is None and notch_id != "none"):
        return None
    width = bar.width_mm if notch is None else notch.remaining_width_mm
    return Section(bar.thickness_mm.value, width.value)


def typical_strength(material: Material, method_id: str, notch_id: str) -> TypicalStrength | None:
    """The material's typical range for a method and notch; None where its file gives none."""
    for each in material.typical:
        if (each.method, each.notch) == (method_id, notch_id):
            return each
    return None


def broken_bars(result: RecordResult, method: Method) -> list[SpecimenResult]:
    """The bars of a record whose energy counts: broken and not excluded."""
    letters = {each.letter for each in method.breaks.types if each.has_strength}
    return [each for each in result.specimens if each.excluded is None and each.break_type in letters]


def expected_energy_J(
    own_J: Collection[float], typical: TypicalStrength | None, section: Section | None
) -> ExpectedEnergy | None:
    """The energies to be expected, J: from own bars if there are any, else from a typical range.

    Arguments:
        own_J: energies of single bars of the same material in the same test, corrected for losses.
        typical: the material's typical range for the method and notch.
        section: nominal section of the bar, through which a typical strength becomes an energy.

    Returns:
        The range, or None where neither is known.
    """
    if own_J:
        return ExpectedEnergy(min(own_J), max(own_J), "own-results", len(own_J))
    if typical is None or section is None:
        return None
    low, high = sorted(section.energy_J(each) for each in typical.strength_kJ_m2)
    return ExpectedEnergy(low, high, "typical-range", 0)


def choose_hammer(
    hammers: Sequence[SwungHammer], window: EnergyWindow, expected: ExpectedEnergy | None
) -> Choice | None:
    """The hammer to take: of those whose window holds the whole expected range the largest.

    ISO 179-1, 7.3, and ISO 180, clause 7 (from memory): absorbed energy within 10 % to 80 % of the pendulum's, of
    several pendulums the largest. What to do where none will do is common practice, no source.

    Arguments:
        hammers: those that are at hand, in any order.
        window: the share of a pendulum's energy that the method allows a test.
        expected: the energies to be expected; None where they are not known.

    Returns:
        The choice, or None without any hammer.
    """
    rising = sorted(hammers, key=lambda each: each.potential_energy_J)
    if not rising:
        return None
    if expected is None:
        return Choice(rising[-1], None, None, contains_all=False, reason="not-known")
    choices = [_held_against(each, window, expected) for each in rising]
    whole = [each for each in choices if each.contains_all]
    if whole:
        return whole[-1]
    # the larger of two that hold as much
    best = max(reversed(choices), key=lambda each: _held_share(each.hammer, window, expected))
    if _held_share(best.hammer, window, expected) > 0.0:
        return best
    strong_enough = [each for each in rising if expected.high_J <= each.potential_energy_J * window.high_pct / 100.0]
    nearest = strong_enough[0] if strong_enough else rising[-1]
    return Choice(nearest, *_shares_pct(nearest, expected), contains_all=False, reason="outside")


def outlook(
    indicator: Indicator,
    hammer: SwungHammer,
    method: Method,
    losses: Losses | None,
    section: Section,
    expected: ExpectedEnergy,
) -> Outlook:
    """What the expected bars would be on a hammer.

    Arguments:
        indicator: the scale of the rig.
        hammer: any hammer of the rig.
        method: whose energy window and loss correction are taken.
        losses: of the hammer's free swings; where they are not known the rise is that of a swing without losses.
        section: of the nominal bar.
        expected: the energies to be expected.
    """

    def worth(rise_deg: float | None) -> float | None:
        if rise_deg is None:
            return None
        return division_worth_kJ_m2(indicator, hammer, losses, method.loss_correction, section, rise_deg)

    held = _held_against(hammer, method.energy_window, expected)
    part: Held = "some" if _held_share(hammer, method.energy_window, expected) > 0.0 else "none"
    rises = [
        rise_after_break_deg(hammer, losses, method.loss_correction, each)
        for each in (expected.low_J, expected.high_J)
    ]  # fmt: skip
    return Outlook(
        hammer,
        _shares_pct(hammer, expected),
        "all" if held.contains_all else part,
        (rises[0], rises[1]),
        (worth(rises[0]), worth(rises[1])),
    )


def _shares_pct(hammer: SwungHammer, expected: ExpectedEnergy) -> tuple[float, float]:
    energy = hammer.potential_energy_J
    return 100.0 * expected.low_J / energy, 100.0 * expected.high_J / energy


def _held_against(hammer: SwungHammer, window: EnergyWindow, expected: ExpectedEnergy) -> Choice:
    low, high = _shares_pct(hammer, expected)
    contains = window.low_pct - _LAST_BITS_PCT <= low and high <= window.high_pct + _LAST_BITS_PCT
    return Choice(hammer, low, high, contains, "whole-range" if contains else "most-of-range")


def _held_share(hammer: SwungHammer, window: EnergyWindow, expected: ExpectedEnergy) -> float:
    """Which share of an expected range lies in the hammer's window; not above 0 where none of it does."""
    low, high = (hammer.potential_energy_J * each / 100.0 for each in (window.low_pct, window.high_pct))
    width = expected.high_J - expected.low_J
    held = min(high, expected.high_J) - max(low, expected.low_J)
    return round(held / width, _EQUAL_TO_PLACES) if width > 0.0 else 0.0
