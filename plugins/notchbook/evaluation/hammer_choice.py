"""Which hammer to take for a test: the energy that bars will absorb, held against the windows of the hammers."""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from notchbook.evaluation.after_break import reading_after_break, rise_after_break_deg
from notchbook.evaluation.hammers import SwungHammer
from notchbook.evaluation.losses import Losses
from notchbook.evaluation.scale import Section, division_worth_kJ_m2
from notchbook.model.method import EnergyWindow, Method
from notchbook.model.procedure import Material, TypicalStrength
from notchbook.model.rig import Indicator

Basis = Literal["own-results", "typical-range"]
Reason = Literal["whole-range", "most-of-range", "outside", "not-known"]
Held = Literal["all", "some", "none"]
_BY_HELD: tuple[Reason, ...] = ("whole-range", "most-of-range", "outside", "not-known")
_EQUAL_TO_PLACES = 9


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
    reading: tuple[float | None, float | None]
    """What the scale would show: the rise in degrees, or the indicated energy in J."""
    division_kJ_m2: tuple[float | None, float | None]
    """What one division of the scale is worth at that rise, for a bar of nominal section."""


def typical_strength(material: Material, method_id: str, notch_id: str) -> TypicalStrength | None:
    """The material's typical range for a method and notch; None where its file gives none."""
    for each in material.typical:
        if (each.method, each.notch) == (method_id, notch_id):
            return each
    return None


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


def serves(hammer: SwungHammer, window: EnergyWindow, low_J: float, high_J: float) -> bool:
    """Whether a hammer's window holds all energies from the one to the other, the ends of the window included."""
    return all(window.holds(100.0 * each / hammer.potential_energy_J) for each in (low_J, high_J))


def largest_that_serves(
    hammers: Iterable[SwungHammer], window: EnergyWindow, low_J: float, high_J: float
) -> SwungHammer | None:
    """Of those whose window holds all energies from the one to the other the hammer with the most energy.

    ISO 179-1, 7.3, and ISO 180, clause 7 (from memory): absorbed energy within 10 % to 80 % of the pendulum's, of
    several pendulums the largest.
    """
    fitting = [each for each in hammers if serves(each, window, low_J, high_J)]
    return max(fitting, key=lambda each: each.potential_energy_J, default=None)


def choose_hammer(
    hammers: Sequence[SwungHammer], window: EnergyWindow, expected: ExpectedEnergy | None
) -> Choice | None:
    """The hammer to take: of those whose window holds the whole expected range the largest.

    What to do where none will do is common practice, no source.

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
    largest = largest_that_serves(rising, window, expected.low_J, expected.high_J)
    if largest is not None:
        return Choice(largest, *_shares_pct(largest, expected), contains_all=True, reason="whole-range")
    # the larger of two that hold as much
    best = max(reversed(rising), key=lambda each: _held_share(each, window, expected))
    if _held_share(best, window, expected) > 0.0:
        return Choice(best, *_shares_pct(best, expected), contains_all=False, reason="most-of-range")
    strong_enough = [each for each in rising if expected.high_J <= window.ends_J(each.potential_energy_J)[1]]
    nearest = strong_enough[0] if strong_enough else rising[-1]
    return Choice(nearest, *_shares_pct(nearest, expected), contains_all=False, reason="outside")


def suits_better(one: Choice, other: Choice) -> bool:
    """Whether one choice holds all of the expected range where the other does not, or some where it holds none."""
    return _BY_HELD.index(one.reason) < _BY_HELD.index(other.reason)


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

    def shown(energy_J: float) -> float | None:
        return reading_after_break(indicator, hammer, losses, method.loss_correction, energy_J)

    part: Held = "some" if _held_share(hammer, method.energy_window, expected) > 0.0 else "none"
    whole = serves(hammer, method.energy_window, expected.low_J, expected.high_J)
    rises = [
        rise_after_break_deg(hammer, losses, method.loss_correction, each)
        for each in (expected.low_J, expected.high_J)
    ]  # fmt: skip
    return Outlook(
        hammer,
        _shares_pct(hammer, expected),
        "all" if whole else part,
        (rises[0], rises[1]),
        (shown(expected.low_J), shown(expected.high_J)),
        (worth(rises[0]), worth(rises[1])),
    )


def _shares_pct(hammer: SwungHammer, expected: ExpectedEnergy) -> tuple[float, float]:
    energy = hammer.potential_energy_J
    return 100.0 * expected.low_J / energy, 100.0 * expected.high_J / energy


def _held_share(hammer: SwungHammer, window: EnergyWindow, expected: ExpectedEnergy) -> float:
    """Which share of an expected range lies in the hammer's window; not above 0 where none of it does."""
    low, high = window.ends_J(hammer.potential_energy_J)
    width = expected.high_J - expected.low_J
    held = min(high, expected.high_J) - max(low, expected.low_J)
    return round(held / width, _EQUAL_TO_PLACES) if width > 0.0 else 0.0
