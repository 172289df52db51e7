"""Propagation of uncertainty against the worked examples of the guides, and the slopes of the pendulum's energy."""

import math
from pathlib import Path

import numpy as np
import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from notchbook.physics.losses import half_swing_loss_J, indicator_loss_J, metals_loss_J, plastics_loss_J, swing_loss_J
from notchbook.physics.partial_derivatives import metals_energy_slopes, plastics_energy_slopes, rise_slope_J_per_deg
from notchbook.physics.pendulum import energy_from_rise_J
from notchbook.physics.uncertainty import (
    combined_standard_uncertainty,
    effective_degrees_of_freedom,
    rectangular_standard_uncertainty,
    resolution_standard_uncertainty,
    variance_shares_pct,
)
from notchbook.statistics.quantiles import student_t_quantile

REFERENCE_FILE = Path(__file__).parents[1] / "reference" / "uncertainty_propagation.yaml"
REFERENCE = yaml.safe_load(REFERENCE_FILE.read_text("utf-8"))
NORMAL_95 = student_t_quantile(0.975, math.inf)


def columns(example):
    """Estimates, standard uncertainties (and degrees of freedom) of an example's inputs."""
    return np.array([[float(number) for number in row] for row in example["inputs"].values()]).T


def test_end_gauge():
    example, results = REFERENCE["end_gauge"], REFERENCE["end_gauge"]["results"]
    (l_s, d, dalpha, theta, alpha_s, dtheta), standard, freedom = columns(example)
    assert l_s + d - l_s * (dalpha * theta + alpha_s * dtheta) == results["l_nm"]
    of_l_s = 1 - dalpha * theta - alpha_s * dtheta
    slopes = np.array([of_l_s, 1, -l_s * theta, -l_s * dalpha, -l_s * dtheta, -l_s * alpha_s])
    contributions = slopes * standard
    combined = combined_standard_uncertainty(contributions)
    effective = effective_degrees_of_freedom(contributions, freedom)
    assert round(combined) == results["u_nm"]
    assert math.floor(effective) == results["freedom"]
    factor = student_t_quantile(0.995, math.floor(effective))
    assert factor == pytest.approx(results["t_99"], abs=0.005)
    assert round(factor * combined) == results["U_99_nm"]


def test_end_gauge_difference():
    example, results = REFERENCE["end_gauge_difference"], REFERENCE["end_gauge_difference"]["results"]
    contributions, freedom = np.array(example["components"], dtype=float).T
    combined = combined_standard_uncertainty(contributions)
    assert combined == pytest.approx(results["u_nm"], abs=0.05)
    effective = effective_degrees_of_freedom(contributions, freedom)
    # one decimal printed, from the rounded combined uncertainty
    assert effective * (results["u_nm"] / combined) ** 4 == pytest.approx(results["freedom"], abs=0.05)


def test_relative_components():
    example, results = REFERENCE["relative_components"], REFERENCE["relative_components"]["results"]
    contributions, freedom = np.array(example["components"], dtype=float).T
    combined = combined_standard_uncertainty(contributions)
    effective = effective_degrees_of_freedom(contributions, freedom)
    assert combined == pytest.approx(results["u_pct"], abs=0.005)
    assert effective == pytest.approx(results["freedom"], abs=0.05)
    factor = student_t_quantile(0.975, effective)
    assert factor == pytest.approx(results["t_95"], abs=0.005)
    assert factor * combined == pytest.approx(results["U_95_pct"], abs=0.05)


def test_correlated_readings_of_a_resistance():
    example = REFERENCE["resistance"]
    readings = np.array([example["voltage_V"], example["current_mA"], example["phase_rad"]])
    readings[1] /= 1000.0
    voltage, current, phase = readings.mean(axis=1)
    standard = readings.std(axis=1, ddof=1) / math.sqrt(5)
    correlation = np.corrcoef(readings)
    z = voltage / current
    r, x = z * math.cos(phase), z * math.sin(phase)
    values = {"R": r, "X": x, "Z": z}
    slopes = {
        "R": [r / voltage, -r / current, -x],
        "X": [x / voltage, -x / current, r],
        "Z": [z / voltage, -z / current, 0.0],
    }
    # all three at once, along the second axis
    contributions = np.array([slopes[name] for name in values]).T * standard[:, np.newaxis]
    combined = combined_standard_uncertainty(contributions, correlation)
    without = combined_standard_uncertainty(contributions)
    for place, name in enumerate(values):
        printed = example["results"][name]
        assert values[name] == pytest.approx(printed["value"], abs=0.005 if name == "Z" else 0.0005)
        # three decimals printed; the one of X is cut off rather than rounded
        assert combined[place] == pytest.approx(printed["u"], abs=0.001 if name == "X" else 0.0005)
        assert without[place] == pytest.approx(example["uncorrelated"][name], abs=0.0005)
        assert combined_standard_uncertainty(contributions[:, place], correlation) == pytest.approx(combined[place])


def test_correlated_counting_rates():
    example, results = REFERENCE["activity"], REFERENCE["activity"]["results"]
    (a_s, m_s, m_x, r_x, r_s), standard = columns(example)
    activity = a_s * m_s / m_x * r_x / r_s
    # four decimals printed, the last a rounded 0
    assert activity == pytest.approx(results["A_x"], abs=1e-4)
    contributions = activity * np.array([1, 1, -1, 1, -1]) / [a_s, m_s, m_x, r_x, r_s] * standard
    correlation = np.eye(5)
    correlation[3, 4] = correlation[4, 3] = example["correlation_of_rates"]
    assert combined_standard_uncertainty(contributions, correlation) == pytest.approx(results["u"], abs=5e-5)


def test_weight():
    example, results = REFERENCE["weight"], REFERENCE["weight"]["results"]
    combined = combined_standard_uncertainty(np.array(example["components_mg"]))
    assert combined == pytest.approx(results["u_mg"], abs=0.06)
    assert 2.0 * combined == pytest.approx(results["U_mg"], abs=0.06)


@pytest.mark.parametrize("case", ["normal", "one_wide"])
def test_sum_of_four(case):
    example = REFERENCE["sum_of_four"][case]
    combined = combined_standard_uncertainty(np.array(example["u_each"], dtype=float))
    assert combined == pytest.approx(example["u"], abs=0.05)
    assert NORMAL_95 * combined == pytest.approx(example["half_width_95"], abs=0.05 if case == "one_wide" else 0.005)


def test_mass_with_rectangular_densities():
    example, results = REFERENCE["mass"], REFERENCE["mass"]["results"]
    (m_rc, dm), standard = columns(example)
    lows, highs = np.array(list(example["limits"].values())).T
    air, weight, reference = (lows + highs) / 2
    mass, buoyancy = m_rc + dm, 1 / weight - 1 / reference
    slopes = np.array([
        1 + (air - 1.2) * buoyancy, 1 + (air - 1.2) * buoyancy, mass * buoyancy,
        -mass * (air - 1.2) / weight**2, mass * (air - 1.2) / reference**2,
    ])  # fmt: skip
    all_standard = np.array([*standard, *rectangular_standard_uncertainty((highs - lows) / 2)])
    combined = combined_standard_uncertainty(slopes * all_standard)
    assert combined == pytest.approx(results["u_mg"], abs=5e-5)
    low, high = results["interval_95_mg"]
    assert results["dm_mg"] - NORMAL_95 * combined == pytest.approx(low, abs=5e-5)
    assert results["dm_mg"] + NORMAL_95 * combined == pytest.approx(high, abs=5e-5)


def test_power_to_first_order():
    for row in REFERENCE["power"]["rows"]:
        combined = combined_standard_uncertainty(np.array([2 * row["x1"] * 0.005, 0.0]))
        assert 1e6 * combined == pytest.approx(row["u"], abs=1e-9)


def test_product_of_powers():
    example, results = REFERENCE["stefan_boltzmann"], REFERENCE["stefan_boltzmann"]["results"]
    estimates, standard = columns(example)
    exponents = np.array([example["exponents"][name] for name in example["inputs"]], dtype=float)
    combined = results["value"] * combined_standard_uncertainty(exponents * standard / estimates)
    # three digits printed
    assert combined == pytest.approx(results["u"], abs=0.005e-13)


def test_logarithm_of_a_rectangular_input():
    example, results = REFERENCE["logarithm"], REFERENCE["logarithm"]["results"]
    low, high = example["limits"]
    middle = (low + high) / 2
    standard = rectangular_standard_uncertainty((high - low) / 2) / middle
    assert math.log(middle) == pytest.approx(results["value"], abs=5e-4)
    assert standard == pytest.approx(results["u"], abs=5e-4)
    assert math.log(middle) + NORMAL_95 * standard == pytest.approx(results["upper_95"], abs=5e-4)


def test_quotient():
    example, results = REFERENCE["quotient"], REFERENCE["quotient"]["results"]
    (x1, x2, y_u), standard, freedom = columns(example)
    value = x1 / x2 * y_u
    contributions = np.array([value / x1, -value / x2, value / y_u]) * standard
    combined = combined_standard_uncertainty(contributions)
    effective = effective_degrees_of_freedom(contributions, freedom)
    assert value == pytest.approx(results["value"], abs=5e-5)
    # rounded in between: one unit of the last digit of u, and with it four times as much of the degrees of freedom
    assert combined == pytest.approx(results["u"], abs=1e-5)
    assert effective == pytest.approx(results["freedom"], rel=4 * 1e-5 / results["u"])
    assert student_t_quantile(0.975, effective) * combined == pytest.approx(results["U_95"], abs=5e-5)


def test_resolution_is_rectangular_over_half_a_division_to_each_side():
    # JCGM 100:2008, F.2.2.1: u = 0.29 of the division
    assert resolution_standard_uncertainty(1.0) == pytest.approx(0.29, abs=0.005)
    assert resolution_standard_uncertainty(np.array([0.2, 6.0])) == pytest.approx([0.2 / math.sqrt(12), math.sqrt(3)])
    assert rectangular_standard_uncertainty(3.0) == pytest.approx(math.sqrt(3))


def test_full_correlation_adds_and_cancels():
    contributions = np.array([3.0, -4.0])
    together, against = np.ones((2, 2)), np.array([[1.0, -1.0], [-1.0, 1.0]])
    assert combined_standard_uncertainty(contributions, together) == pytest.approx(1.0)
    assert combined_standard_uncertainty(contributions, against) == pytest.approx(7.0)
    assert combined_standard_uncertainty(np.array([0.1, -0.1]), together) == 0.0


@pytest.mark.parametrize(
    ("correlation", "told"),
    [
        (np.eye(3), "2 x 2"),
        ([[1.0, 0.2], [0.3, 1.0]], "symmetric"),
        ([[1.0, 0.2], [0.2, 0.9]], "diagonal"),
        ([[1.0, 1.2], [1.2, 1.0]], "negative"),
    ],
)
def test_what_is_no_correlation_is_refused(correlation, told):
    with pytest.raises(ValueError, match=told):
        combined_standard_uncertainty(np.array([1.0, 2.0]), np.array(correlation))


def test_degrees_of_freedom_at_their_ends():
    # one component alone keeps its own; known components bring infinitely many; equal ones add theirs
    assert effective_degrees_of_freedom(np.array([0.5, 0.0]), np.array([7.0, 3.0])) == pytest.approx(7.0)
    assert effective_degrees_of_freedom(np.array([0.5, 2.0]), np.array([np.inf, np.inf])) == math.inf
    assert effective_degrees_of_freedom(np.array([0.5, 0.5]), np.array([4.0, 4.0])) == pytest.approx(8.0)
    assert np.isnan(effective_degrees_of_freedom(np.zeros(2), np.array([4.0, np.inf])))


@given(st.lists(st.tuples(st.floats(1e-6, 1e6), st.floats(1.0, 100.0)), min_size=1, max_size=8))
def test_degrees_of_freedom_lie_between_the_smallest_and_the_sum(components):
    # JCGM 100:2008, G.4.1: nu_eff <= sum nu_i
    contributions, freedom = np.array(components).T
    effective = effective_degrees_of_freedom(contributions, freedom)
    assert freedom.min() * (1 - 1e-12) <= effective <= freedom.sum() * (1 + 1e-12)


@given(st.lists(st.floats(-1e6, 1e6).filter(lambda each: abs(each) > 1e-6), min_size=1, max_size=8))
def test_shares_are_those_of_the_variance(contributions):
    shares, combined = (each(np.array(contributions)) for each in (variance_shares_pct, combined_standard_uncertainty))
    assert combined == pytest.approx(math.hypot(*contributions), rel=1e-12)
    assert shares == pytest.approx([100.0 * (each / combined) ** 2 for each in contributions], rel=1e-12)
    assert shares.sum() == pytest.approx(100.0, rel=1e-12)


def test_energy_without_losses():
    example, results = REFERENCE["pendulum_energy"], REFERENCE["pendulum_energy"]["results"]
    (moment, release, rise), standard = columns(example)
    # free swings that come back to the release angle and stay there lose nothing
    slopes = metals_energy_slopes(moment, release, rise, release, release, release, 10)
    contributions = standard * [slopes.moment_J_per_Nm, slopes.release_J_per_deg, slopes.rise_J_per_deg]
    assert energy_from_rise_J(moment, release, rise) == pytest.approx(results["energy_J"], rel=1e-9)
    assert combined_standard_uncertainty(contributions) == pytest.approx(results["u_J"], rel=1e-9)


def plastics_energy_J(moment, release, rise, first, second):
    losses = indicator_loss_J(moment, first, second), swing_loss_J(moment, second, release)
    return energy_from_rise_J(moment, release, rise) - plastics_loss_J(rise, release, *losses)


def metals_energy_J(moment, release, rise, first, second, later):
    losses = indicator_loss_J(moment, first, second), half_swing_loss_J(moment, second, later, 10)
    return energy_from_rise_J(moment, release, rise) - metals_loss_J(rise, release, first, second, *losses)


SWINGS = st.tuples(
    st.floats(0.2, 20.0),  # moment
    st.floats(90.0, 160.0),  # release
    st.floats(5.0, 88.0),  # rise
    st.floats(88.0, 88.4),  # first
    st.floats(88.6, 89.0),  # second
    st.floats(80.0, 85.0),  # later
)
NAMES = ("moment_J_per_Nm", "release_J_per_deg", "rise_J_per_deg", "first_rise_J_per_deg", "second_rise_J_per_deg",
         "later_rise_J_per_deg")  # fmt: skip


@pytest.mark.parametrize("form", ["plastics", "metals"])
@given(values=SWINGS)
def test_slopes_against_central_differences(form, values):
    if form == "plastics":
        values, energy, slopes = values[:5], plastics_energy_J, plastics_energy_slopes(*values[:5])
    else:
        energy, slopes = metals_energy_J, metals_energy_slopes(*values, 10)
    for place, value in enumerate(values):
        step = 1e-5 * value
        high, low = (
            energy(*values[:place], value + sign * step, *values[place + 1 :]) for sign in (1, -1)
        )  # fmt: skip
        # one part in a million of itself, or of the moment's own size where the slope passes through 0
        smallest = 1e-6 * values[0] / value
        assert getattr(slopes, NAMES[place]) == pytest.approx((high - low) / (2 * step), rel=1e-6, abs=smallest)
    assert (slopes.later_rise_J_per_deg is None) is (form == "plastics")


def test_slopes_of_many_rises_are_those_of_each():
    rises = np.array([40.0, 80.0, 86.4])
    for function, more in ((plastics_energy_slopes, ()), (metals_energy_slopes, (89.2, 10))):
        together = function(0.9097, 95.7, rises, 94.6, 95.0, *more)
        for place, rise in enumerate(rises):
            alone = function(0.9097, 95.7, rise, 94.6, 95.0, *more)
            for name in NAMES[: 5 + bool(more)]:
                of_all = np.broadcast_to(getattr(together, name), 3)
                assert of_all[place] == pytest.approx(getattr(alone, name), rel=1e-14)


@given(st.floats(0.2, 20.0), st.floats(1.0, 179.0))
def test_slope_of_a_rise_is_that_of_the_potential_energy(moment, angle):
    step = 1e-4
    difference = energy_from_rise_J(moment, angle + step, angle - step) / (2 * step)
    assert rise_slope_J_per_deg(moment, angle) == pytest.approx(difference, rel=1e-9)
