"""The slips that are known: what each does to an energy, a section or a unit, and which step it asks to look at again.

A slip gives the numbers that somebody gets who makes it, in all ways in which it is commonly made. They are common
practice, no source: what a demonstrator meets year after year.
"""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from notchbook.answers.bars import Bars
from notchbook.physics.arrays import FloatArray

JOULES_PER_FOOT_POUND = 1.3558179483314004
"""Exact: 0.3048 m times 0.45359237 kg times 9.80665 m/s2 (NIST SP 811, appendix B)."""
_POWERS = tuple(10.0**power for power in (-6, -5, -4, -3, -2, -1, 1, 2, 3, 4, 5, 6))
_Energies = Callable[[Bars], tuple[FloatArray, ...]]


def _nominal_energy(bars: Bars) -> tuple[FloatArray, ...]:
    """As if the pendulum had its nominal energy: the whole swing, with the loss as it is or in the same proportion."""
    ratio = bars.hammer.nominal_energy_J / bars.hammer.potential_energy_J
    if not bars.reads_angle or ratio == 1.0:
        return ()
    return ratio * bars.indicated_J - bars.loss_J, ratio * (bars.indicated_J - bars.loss_J)


def _radians(bars: Bars) -> tuple[FloatArray, ...]:
    """As if the degrees were radians, without the loss or with it."""
    if not bars.reads_angle:
        return ()
    taken = bars.hammer.moment_Nm * (np.cos(bars.rise_deg) - math.cos(bars.hammer.release_angle_deg))
    return taken, taken - bars.loss_J


def _energy_left(bars: Bars) -> tuple[FloatArray, ...]:
    """What the pendulum kept, without the loss, or with it on either side."""
    left = bars.hammer.potential_energy_J - bars.indicated_J
    return left, left - bars.loss_J, left + bars.loss_J


def _whole_loss(bars: Bars) -> tuple[FloatArray, ...]:
    return (bars.indicated_J - (bars.losses.indicator_loss_J + bars.losses.swing_loss_J),)


ENERGY_SLIPS: dict[str, _Energies] = {
    "loss-forgotten": lambda bars: (bars.indicated_J,),
    "loss-added": lambda bars: (bars.indicated_J + bars.loss_J,),
    "loss-whole": _whole_loss,
    "energy-left": _energy_left,
    "nominal-energy": _nominal_energy,
    "radians": _radians,
}
"""By the id: the energies of all bars, in J."""


def _nominal_section(bars: Bars) -> tuple[FloatArray, ...]:
    if bars.nominal is None:
        return ()
    return (np.full(len(bars.ids), 1000.0 / (bars.nominal.thickness_mm * bars.nominal.width_mm)),)


SECTION_SLIPS: dict[str, _Energies] = {
    "full-width": lambda bars: (1000.0 / (bars.thickness_mm * bars.width_mm),),
    "nominal-section": _nominal_section,
    "width-for-thickness": lambda bars: (
        1000.0 / (bars.width_mm * bars.broken_width_mm), 1000.0 / (bars.thickness_mm * bars.thickness_mm),
    ),
    "j-per-m": lambda bars: (1000.0 / bars.thickness_mm,),
}  # fmt: skip
"""By the id: by what an energy in J becomes what was taken for a strength in kJ/m2."""
UNIT_SLIPS: dict[str, tuple[float, ...]] = {
    "power-of-ten": _POWERS,
    "foot-pound": (1.0 / JOULES_PER_FOOT_POUND, JOULES_PER_FOOT_POUND),
}
"""By the id: the factors by which the number is off."""
LOOK_AT = {
    "loss-forgotten": "Look again at what the swing loses by itself, before a bar takes anything.",
    "loss-added": "Look again at which way the loss of the swing goes: does the bar take it too?",
    "loss-whole": "Look again at the loss: does a swing that rises less lose as much as a free one?",
    "energy-left": "Look again at the energies: what the pendulum had, what it kept, and which of them the bar took.",
    "nominal-energy": "Look again at the energy of the hammer: the one it is called by, or the one that was weighed?",
    "radians": "Look again at the angle: what does the calculator take it for?",
    "full-width": "Look again at the section: which part of a notched bar breaks?",
    "nominal-section": "Look again at the dimensions: those of the drawing, or those of this bar?",
    "width-for-thickness": "Look again at the section: which two dimensions went into it, and did each go in once?",
    "power-of-ten": "Look again at the units on the way, from mm and J to kJ/m²: how many zeros are there?",
    "j-per-m": "Look again at the unit that was asked for: energy by what?",
    "foot-pound": "Look again at the unit of the energy: is it the joule throughout?",
    "n-for-n-minus-1": "Look again at what the sum of squares is divided by.",
    "standard-error": "Look again at what was asked for: how the bars scatter, or how well the mean is known?",
    "normal-for-t": "Look again at the factor of the interval: does it know how few bars there are?",
    "excluded-counted": "Look again at which bars count: was one left out on the day?",
    "no-break-counted": "Look again at which bars count: did all of them break?",
    "breaks-mixed": "Look again at how the bars broke: do all ways share one mean?",
    "rounded-first": "Look again at when you rounded: before the sum or after it?",
    "neighbour-reading": "Look again at the sheet: is this the reading of this bar?",
    "rounding": "Look again at the last digit: how was it rounded, and what was rounded on the way?",
}
"""By the id, the likeliest first where nothing else tells: which step to look at again, in the words of a tutor."""
SLIPS = tuple(LOOK_AT)
"""The ids."""


@dataclass(frozen=True, slots=True, eq=False)
class Way:
    """One way to work out a record, with the slips that were made on it."""

    slips: tuple[str, ...]
    energy_J: FloatArray
    strength_kJ_m2: FloatArray
    changes_energy: bool
    """Whether the energies too are others than they should be."""


def ways(bars: Bars) -> Iterator[Way]:
    """Every way with one slip, which was made in all bars alike."""
    energy, per_section = bars.energy_J, bars.per_section_m2
    for slip, energies in ENERGY_SLIPS.items():
        for wrong in energies(bars):
            yield Way((slip,), wrong, wrong * per_section, True)
    for slip, sections in SECTION_SLIPS.items():
        for section in sections(bars):
            yield Way((slip,), energy, energy * section, False)
    for slip, factors in UNIT_SLIPS.items():
        for factor in factors:
            yield Way((slip,), energy * factor, energy * per_section * factor, True)


def ways_with_two(bars: Bars) -> Iterator[Way]:
    """Every way with a slip in the energy and another one in the section or the unit, or one in each of these."""
    right = bars.energy_J
    energies = [((slip,), each) for slip, make in ENERGY_SLIPS.items() for each in make(bars)]
    sections = [((slip,), each) for slip, make in SECTION_SLIPS.items() for each in make(bars)]
    units = [((slip,), each) for slip, factors in UNIT_SLIPS.items() for each in factors]
    for first, energy in energies:
        for second, section in sections:
            yield Way(first + second, energy, energy * section, True)
        for second, factor in units:
            yield Way(first + second, energy * factor, energy * bars.per_section_m2 * factor, True)
    for first, section in sections:
        for second, factor in units:
            yield Way(first + second, right * factor, right * section * factor, True)
