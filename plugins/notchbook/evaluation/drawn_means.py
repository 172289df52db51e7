"""The mean strength of a set by drawn values, JCGM 101:2008, beside what the first order says of it.

Nothing is linear here: every draw gives the pendulum, its scale, its losses and the micrometer an error of their own,
and the strengths of all bars are worked out again with these. Their scatter is drawn from Student's t with n - 1
degrees of freedom (6.4.9). Where the bars agree better than their readings, the error of one reading comes to it.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from notchbook.evaluation.budgets import SetUncertainty
from notchbook.evaluation.hammers import SwungHammer
from notchbook.evaluation.input_uncertainties import InputName
from notchbook.evaluation.records import SetResult
from notchbook.evaluation.uncertainty import ENERGY_READINGS, RecordUncertainty
from notchbook.model.method import LossCorrection
from notchbook.physics import losses as physics
from notchbook.physics.arrays import FloatArray, Floats
from notchbook.physics.pendulum import energy_from_rise_J, rise_from_energy_deg
from notchbook.physics.strength import impact_strength_kJ_m2
from notchbook.statistics.drawn import Drawn, errors, summarise_draws

_AT_ONCE = 20_000
"""Draws that are worked out together: ten bars of so many take a few megabytes an array."""

Values = Mapping[InputName, Floats]


@dataclass(frozen=True, slots=True)
class Swinging:
    """What strengths follow from beside the inputs that have an uncertainty."""

    hammer: SwungHammer
    correction: LossCorrection
    half_swings: int | None
    """From the second to the later free swing; None where no later one was read."""
    own_free_swings: bool
    """Whether the free swings are those of the day, and have its zero."""
    free_swing_J: float
    """What one free swing lost, over which a drift of the losses is taken."""
    added_kg_m: float
    """``sum(m r)`` of added masses, whose moment follows from gravity."""
    gravity_m_s2: float
    """That of the moment of the hammer."""


def strengths_kJ_m2(values: Values, swinging: Swinging) -> FloatArray:
    """Strengths for any values of the inputs, in the common shape of these.

    Args:
        values: By the name of the input.
        swinging: The hammer as its file has it, by which a scale of energy is ruled, and the form of the loss.
    """
    hammer = swinging.hammer
    moment, release = values["moment"], values["release-angle"]
    if "gravity" in values:
        moment = moment + swinging.added_kg_m * (values["gravity"] - swinging.gravity_m_s2)

    def rise_deg(name: InputName, off: Floats) -> Floats:
        if name in values:
            return values[name] + off
        shown_J = values[ENERGY_READINGS[name]] + off
        return rise_from_energy_deg(hammer.moment_Nm, hammer.release_angle_deg, shown_J)

    of_day = values["zero"]
    at_swings = values["swing-marks"] + (of_day if swinging.own_free_swings else 0.0)
    rise = rise_deg("rise-angle", of_day + values["bar-marks"])
    first, second = rise_deg("first-rise", at_swings), rise_deg("second-rise", at_swings)
    indicator = physics.indicator_loss_J(moment, first, second)
    if swinging.correction == "plastics" or swinging.half_swings is None:
        lost = physics.plastics_loss_J(rise, release, indicator, physics.swing_loss_J(moment, second, release))
    else:
        later = rise_deg("later-rise", at_swings)
        half_swing = physics.half_swing_loss_J(moment, second, later, swinging.half_swings)
        lost = physics.metals_loss_J(rise, release, first, second, indicator, half_swing)
    if "loss-drift" in values:
        lost = lost * values["loss-drift"] / swinging.free_swing_J
    energy = energy_from_rise_J(moment, release, rise) - lost
    width = values["remaining-width"] if "remaining-width" in values else values["width"]
    return np.asarray(impact_strength_kJ_m2(energy, values["thickness"], width))


@np.errstate(all="ignore")  # what overflows or is no number is not known
def drawn_mean(
    uncertainty: RecordUncertainty,
    result: SetResult,
    found: SetUncertainty,
    swinging: Swinging,
    draws: int,
    seed: int,
) -> Drawn | None:
    """The mean of a set by drawn values; the same for the same seed.

    Args:
        uncertainty: Of the record, with all inputs and their standard uncertainties.
        result: The set, of two bars at least.
        found: What the first order says of it.
        swinging: What else the strengths follow from.
        draws: How many, at least 2.
        seed: Where the draws begin.

    Returns:
        None where a draw gives no strength, such as a reading that no swing can have.
    """
    random = np.random.default_rng(seed)
    members = list(result.members)
    parts = []
    for start in range(0, draws, _AT_ONCE):
        number = min(_AT_ONCE, draws - start)
        means = strengths_kJ_m2(_drawn(uncertainty, members, random, number), swinging).mean(axis=1)
        parts.append(means + _scatter(result, found, random, number))
    values = np.concatenate(parts)
    return summarise_draws(values) if np.isfinite(values).all() else None


def _drawn(
    uncertainty: RecordUncertainty, members: list[int], random: np.random.Generator, draws: int
) -> dict[InputName, Floats]:
    """Values of every input, shape (draws, members); what all bars share has one error a draw."""
    values: dict[InputName, Floats] = {}
    for each in uncertainty.strength.inputs:
        value: Floats = each.values[members]
        if each.shared:
            value = value + errors(random, each.taken.form, each.taken.standard, draws)[:, np.newaxis]
        values[each.name] = value
    return values


def _scatter(result: SetResult, found: SetUncertainty, random: np.random.Generator, draws: int) -> FloatArray:
    deviation, n = result.summary.standard_deviation or 0.0, result.summary.n
    scatter = deviation / math.sqrt(n) * random.standard_t(n - 1, draws)
    if math.isfinite(found.effective_degrees_of_freedom):
        return scatter
    return scatter + errors(random, "rectangular", found.shares[0].contribution_kJ_m2, draws)
