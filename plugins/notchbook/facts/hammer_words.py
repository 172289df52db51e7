"""What is said of the hammer to take, in the words that the page of an exercise and the command share."""

import math
from collections.abc import Callable

from notchbook.evaluation.hammer_choice import Choice, ExpectedEnergy, Outlook
from notchbook.evaluation.hammers import SwungHammer
from notchbook.model.method import EnergyWindow
from notchbook.model.rig import Indicator
from notchbook.model.verification import Verification
from notchbook.wording.lists import counted
from notchbook.wording.numbers import plain, to_decimals, to_figures

SPARE_BAR = "begin with a spare bar, with the responsible person"
VERIFY_FIRST = "staff verify this hammer before it is used"
_HELD = {"all": "all bars", "some": "some bars", "none": "no bar"}


def known_from(expected: ExpectedEnergy | None, unbroken: int, departs: str = "") -> str:
    """What the expected energies rest on.

    Arguments:
        expected: the energies; None where they are not known.
        unbroken: how many own bars did not break.
        departs: the rules that their records depart from; empty where they keep to the method.
    """
    if expected is None:
        none_broke = f"none of {counted(unbroken, 'own bar')} broke"
        return f"{none_broke if unbroken else 'not known'}: {SPARE_BAR}"
    if expected.basis == "typical-range":
        return "typical range in the file of the material; no pass mark"
    more = f"; {unbroken} more did not break" if unbroken else ""
    marked = f"; all depart from the method ({departs})" if departs else ""
    return f"own results of {counted(expected.bars, 'bar')}{more}{marked}"


def too_much_for_all(choice: Choice, window: EnergyWindow) -> bool:
    """Whether the bars take more than any window holds, where none holds any of them."""
    return choice.reason == "outside" and choice.high_pct is not None and choice.high_pct > window.bounds_pct[1]


def none_fits(choice: Choice, window: EnergyWindow) -> str:
    """Why no hammer will do, where none holds any of the bars."""
    return "none is large enough" if too_much_for_all(choice, window) else "none is small enough"


def left_out(choice: Choice, window: EnergyWindow) -> str:
    """Which bars the window of the hammer to take does not hold, and what that asks for; empty where it holds all."""
    if choice.reason != "most-of-range" or choice.low_pct is None or choice.high_pct is None:
        return ""
    low, high = window.bounds_pct
    beyond = []
    if choice.low_pct < low:
        beyond.append(f"less than {plain(window.low_pct)} %")
    if choice.high_pct > high:
        beyond.append(f"more than {plain(window.high_pct)} %")
    return f"some bars take {', some '.join(beyond)}; two hammers may be needed"


def reason(choice: Choice, window: EnergyWindow) -> str:
    """Why this hammer and no other, as the end of a sentence that begins with it."""
    share = f"{plain(window.low_pct)} and {plain(window.high_pct)} %"
    if choice.reason == "whole-range":
        return f"the largest that keeps every bar between {share} of its energy"
    if choice.reason == "most-of-range":
        return f"none keeps every bar between {share} of its energy, this one most of them; {left_out(choice, window)}"
    if choice.reason == "outside":
        return f"{none_fits(choice, window)} to keep any bar between {share} of its energy, this one is the nearest"
    return f"the largest, because it is not known what the bars take: {SPARE_BAR}"


def held(outlook: Outlook) -> str:
    """Which bars the window of a hammer holds."""
    return _HELD[outlook.held]


def span(ends: tuple[float | None, float | None], figures: int) -> str:
    """From the lesser to the greater of two numbers to so many significant figures."""
    return _span(ends, lambda each: to_figures(each, figures))


def decimals(ends: tuple[float | None, float | None], places: int) -> str:
    """From the lesser to the greater of two numbers to so many decimals."""
    return _span(ends, lambda each: to_decimals(each, places))


def _span(ends: tuple[float | None, float | None], shown: Callable[[float | None], str]) -> str:
    """One number where both read the same, and a dash for one that cannot be had."""
    words = [shown(each) for each in sorted(ends, key=lambda each: math.inf if each is None else each)]
    return words[0] if words[0] == words[1] else f"{words[0]} to {words[1]}"


def energy(hammer: SwungHammer, verification: Verification | None) -> str:
    """The potential energy in J with four figures; as nominal while it rests on what is stamped on a mass.

    Arguments:
        hammer: the hammer.
        verification: the one that it is swung by; None where there is none.
    """
    shown = to_figures(hammer.potential_energy_J, 4)
    return f"{shown} (nominal)" if is_nominal(hammer, verification) else shown


def is_nominal(hammer: SwungHammer, verification: Verification | None) -> bool:
    """Whether an energy rests on what is stamped on a mass, and no verification has weighed the hammer with it."""
    return hammer.is_marked and (verification is None or verification.weighing is None)


def division(indicator: Indicator) -> str:
    """One division of a scale with its unit."""
    if indicator.reads == "angle":
        return f"{plain(indicator.division_deg)}°"
    return f"{plain(indicator.division_J)} J"
