"""Energies and strengths against the package `uncertainties`, which differentiates the same formulae by itself.

Its nominal values must be the engine's, and its derivatives the slopes of the engine's results. The standard
uncertainties are invented; they only weigh the derivatives.
"""

import dataclasses
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from uncertainties import ufloat, umath

from notchbook.evaluation.hammers import SwungHammer
from notchbook.evaluation.losses import find_losses
from notchbook.evaluation.records import evaluate_record
from notchbook.model.rig import StrikingEdge
from notchbook.model.verification import FreeSwings
from notchbook.reading.building import record as build_record
from small_handbook import TEST, files, package_method

PLASTICS = package_method()
METALS = dataclasses.replace(PLASTICS, loss_correction="metals")
# name: standard uncertainty, invented
INPUTS = {
    "moment_Nm": 0.002, "release_deg": 0.1, "rise_deg": 0.1, "first_deg": 0.06, "second_deg": 0.06, "later_deg": 0.06,
    "thickness_mm": 0.01, "width_mm": 0.02,
}  # fmt: skip


def engine(values, method):
    """Energy and strength of one specimen by the engine."""
    moment, release = values["moment_Nm"], values["release_deg"]
    hammer = SwungHammer(
        rig="bench", id="h", title="h", method="own", nominal_energy_J=1.0, release_angle_deg=release, moment_Nm=moment,
        striking_edge=StrikingEdge(2.0, None), pendulum_mass_kg=None,
        potential_energy_J=moment * (1 - math.cos(math.radians(release))), velocity_m_s=2.9,
    )  # fmt: skip
    data = files()[TEST]
    data["specimens"] = [
        {
            "id": "1", "width_mm": 10.0, "thickness_mm": values["thickness_mm"],
            "remaining_width_mm": values["width_mm"], "rise_angle_deg": values["rise_deg"], "break": "C",
        }
    ]  # fmt: skip
    losses = find_losses(hammer, FreeSwings(values["first_deg"], values["second_deg"], values["later_deg"], 10))
    (specimen,) = evaluate_record(build_record("r", data), hammer, method, losses, None).specimens
    return specimen.energy_J, specimen.strength_kJ_m2


def package(values, correction):
    """Energy and strength of one specimen as numbers with uncertainties, and the inputs by name."""
    inputs = {name: ufloat(values[name], uncertainty) for name, uncertainty in INPUTS.items()}
    moment, alpha, beta, first, second, _, thickness, width = inputs.values()
    cos = {name: umath.cos(umath.radians(angle)) for name, angle in inputs.items() if name.endswith("deg")}
    indicator = moment * (cos["first_deg"] - cos["second_deg"])
    swing = moment * (cos["second_deg"] - cos["release_deg"])
    if correction == "plastics":
        loss = (swing + beta / alpha * (swing + 2 * indicator)) / 2
    else:
        half_swing = moment * (cos["later_deg"] - cos["second_deg"]) / 10
        loss = indicator * beta / first + half_swing * (alpha + beta) / (alpha + second)
    energy = moment * (cos["rise_deg"] - cos["release_deg"]) - loss
    return energy, 1000 * energy / (thickness * width), inputs


def slope(values, method, name, which):
    """Central difference of an engine's result; the step leaves half of the digits to each side."""
    step = 1e-5 * values[name]
    high, low = (engine(values | {name: values[name] + sign * step}, method)[which] for sign in (1, -1))
    return (high - low) / (2 * step)


SWINGS = st.fixed_dictionaries(
    {
        "moment_Nm": st.floats(0.2, 20.0),
        "release_deg": st.floats(90.0, 160.0),
        "rise_deg": st.floats(30.0, 80.0),
        "first_deg": st.floats(88.0, 88.4),
        "second_deg": st.floats(88.6, 89.0),
        "later_deg": st.floats(80.0, 85.0),
        "thickness_mm": st.floats(3.0, 5.0),
        "width_mm": st.floats(7.0, 9.0),
    }
)


@settings(max_examples=40)
@pytest.mark.parametrize("method", [PLASTICS, METALS], ids=["plastics", "metals"])
@given(values=SWINGS)
def test_values_and_slopes_are_those_of_the_package(method, values):
    energy, strength, inputs = package(values, method.loss_correction)
    for which, quantity in enumerate((energy, strength)):
        assert engine(values, method)[which] == pytest.approx(quantity.nominal_value, rel=1e-12)
        slopes = {name: slope(values, method, name, which) for name in INPUTS}
        expected = {name: quantity.derivatives.get(variable, 0.0) for name, variable in inputs.items()}
        for name in INPUTS:
            # one part in a million of itself, or of a whole result for a change of its input by its own size
            smallest = 1e-6 * abs(quantity.nominal_value) / values[name]
            assert slopes[name] == pytest.approx(expected[name], rel=1e-6, abs=smallest)
        spread = math.hypot(*(slopes[name] * INPUTS[name] for name in INPUTS))
        assert spread == pytest.approx(quantity.std_dev, rel=1e-6)
