"""Energy, velocity and rise of a pendulum without losses, against worked values and closed forms."""

import math
from pathlib import Path

import numpy as np
import pytest
import yaml
from hypothesis import assume, given
from hypothesis import strategies as st
from uncertainties import ufloat, umath

from notchbook.physics.pendulum import (
    added_moment_Nm,
    energy_from_rise_J,
    highest_velocity_m_s,
    impact_velocity_m_s,
    potential_energy_J,
    rise_from_energy_deg,
)

REFERENCE = yaml.safe_load((Path(__file__).parents[1] / "reference" / "pendulum_mechanics.yaml").read_text("utf-8"))
WORKED = REFERENCE["worked"]
PUBLISHED = REFERENCE["published_examples"]
CLOSED = REFERENCE["closed_forms"]
G = WORKED["gravity_m_s2"]
SIX_DIGITS = 5e-6  # relative: the reference prints six significant digits
TEN_DIGITS = 5e-10

moments = st.floats(0.01, 500.0)
angles = st.floats(0.0, 180.0)


def test_potential_energy_of_worked_case():
    # W01
    assert potential_energy_J(2.15, 150.0) == pytest.approx(WORKED["W01"]["results"]["E_J"], rel=SIX_DIGITS)


def test_potential_energy_of_closed_form():
    # closed form: M = 2.5 Nm released at 150 deg
    available = CLOSED["energy_from_angles"]["available_J"]
    assert potential_energy_J(2.5, 150.0) == pytest.approx(available, rel=TEN_DIGITS)


@pytest.mark.parametrize(("angle_deg", "share"), [(0.0, 0.0), (60.0, 0.5), (90.0, 1.0), (120.0, 1.5), (180.0, 2.0)])
def test_potential_energy_at_angles_with_exact_cosine(angle_deg, share):
    assert potential_energy_J(3.0, angle_deg) == pytest.approx(3.0 * share, rel=1e-15, abs=1e-15)


def test_sensitivity_of_potential_energy_to_the_release_angle():
    # W06; central difference over 0.02 deg, error of the difference about 5e-9 relative
    results = WORKED["W06"]["results"]
    slope = (potential_energy_J(2.15, 150.01) - potential_energy_J(2.15, 149.99)) / 0.02
    assert slope == pytest.approx(results["dE_J_per_degree"], rel=SIX_DIGITS)
    share_pct = 100.0 * slope / potential_energy_J(2.15, 150.0)
    assert share_pct == pytest.approx(results["relative_percent_per_degree"], rel=SIX_DIGITS)
    assert 0.25 / share_pct == pytest.approx(results["angle_deg_for_0p25_percent"], rel=SIX_DIGITS)


def test_impact_velocity_of_worked_case():
    # W02
    results = WORKED["W02"]["results"]
    velocity = impact_velocity_m_s(0.225, 150.0, G)
    assert velocity == pytest.approx(results["v_m_per_s"], rel=SIX_DIGITS)
    assert 100.0 * (velocity / 2.9 - 1.0) == pytest.approx(results["deviation_from_2p9_percent"], rel=SIX_DIGITS)


def test_impact_velocity_of_closed_form():
    case = CLOSED["impact_speed"]
    assert impact_velocity_m_s(case["L_m"], case["alpha_deg"], G) == pytest.approx(case["v"], rel=1e-9)


@pytest.mark.parametrize(("velocity", "height_m"), CLOSED["drop_height_m_of_velocity"].items())
def test_impact_velocity_from_drop_height(velocity, height_m):
    # closed form h = v^2 / 2g to 8 decimals; released level with its axis a pendulum falls through its own length
    assert impact_velocity_m_s(height_m, 90.0, G) == pytest.approx(velocity, rel=2e-8)


def test_impact_velocity_of_fixed_fall_height():
    # X01: 610 mm, the fall height of ASTM D256 and D6110, and its limits of 2 mm
    results = WORKED["X01"]["results"]
    heights_m = np.array([0.610, 0.608, 0.612])
    expected = [results["v_m_per_s"], results["v_low"], results["v_high"]]
    np.testing.assert_allclose(impact_velocity_m_s(heights_m, 90.0, G), expected, rtol=SIX_DIGITS)


def test_a_pendulum_of_330_mm_has_a_ceiling_of_3_6_m_s():
    # common practice, no source
    assert highest_velocity_m_s(0.330, G) == pytest.approx(3.6, abs=0.005)
    assert impact_velocity_m_s(0.330, 180.0, G) == pytest.approx(highest_velocity_m_s(0.330, G), rel=1e-15)


def test_velocity_left_after_the_blow():
    # X04: with a share w absorbed the pendulum passes on with sqrt(1 - w) of its velocity and rises accordingly
    shares = np.array([0.10, 0.80])
    rises_deg = rise_from_energy_deg(2.15, 150.0, shares * potential_energy_J(2.15, 150.0))
    ratios = impact_velocity_m_s(0.225, rises_deg, G) / impact_velocity_m_s(0.225, 150.0, G)
    expected = [WORKED["X04"]["results"][f"ratio_at_{percent}_percent"] for percent in (10, 80)]
    np.testing.assert_allclose(ratios, expected, rtol=SIX_DIGITS)


def test_energy_from_rise_of_worked_case():
    # W07
    results = WORKED["W07"]["results"]
    energy = energy_from_rise_J(2.15, 150.0, 120.0)
    assert energy == pytest.approx(results["K_T_J"], rel=SIX_DIGITS)
    assert 100.0 * energy / potential_energy_J(2.15, 150.0) == pytest.approx(results["percent_of_E"], rel=SIX_DIGITS)


def test_energy_from_rise_of_closed_form():
    case = CLOSED["energy_from_angles"]
    energy = energy_from_rise_J(case["m_g_d_Nm"], case["alpha_deg"], case["beta_deg"])
    assert energy == pytest.approx(case["E_J"], rel=TEN_DIGITS)


def test_energy_from_rise_between_two_heights():
    # web guide, 2026: m g (h1 - h2) printed as about 101 J; an arm of 1 m turns the heights into angles
    case = PUBLISHED["fall_heights"]
    release_deg, rise_deg = (math.degrees(math.acos(1.0 - case[height])) for height in ("h1_m", "h2_m"))
    energy = energy_from_rise_J(case["m_kg"] * case["g"] * 1.0, release_deg, rise_deg)
    assert energy == pytest.approx(22 * 9.81 * 0.47, rel=1e-12)
    assert energy == pytest.approx(case["printed_result_J"], abs=0.5)


def test_energy_from_rise_in_foot_pounds():
    # physics question thread, 2011: 60 lbf at 31.5 in, 50 deg to 20 deg; result computed, six digits
    case = PUBLISHED["release_at_50_deg"]
    energy = energy_from_rise_J(case["weight_lb"] * case["length_in"] / 12.0, case["alpha_deg"], case["beta_deg"])
    assert energy == pytest.approx(case["result_ft_lbf"], rel=SIX_DIGITS)


def test_energy_from_rise_of_hammer_and_arm():
    # student question page: hammer at the end of a uniform arm; result computed, six digits
    case = PUBLISHED["hammer_on_rigid_arm"]
    length_mm = 1000.0 * case["L_m"]
    moment = added_moment_Nm([case["hammer_kg"], case["arm_kg"]], [length_mm, length_mm / 2.0], case["g"])
    energy = energy_from_rise_J(moment, case["alpha_deg"], case["beta_deg"])
    assert energy == pytest.approx(case["result_J"], rel=SIX_DIGITS)


def test_energy_and_its_slope_against_the_uncertainties_package():
    # computed case: M 2.5 (5) Nm, 150.0 (1) and 60.0 (1) deg; the reference prints ten digits
    case = CLOSED["energy_uncertainty"]
    values = [ufloat(*case[key]) for key in ("M", "alpha_deg", "beta_deg")]
    moment, alpha, beta = values
    propagated = moment * (umath.cos(beta * math.pi / 180) - umath.cos(alpha * math.pi / 180))
    nominal = [value.n for value in values]
    assert energy_from_rise_J(*nominal) == pytest.approx(propagated.n, rel=1e-14)
    assert energy_from_rise_J(*nominal) == pytest.approx(case["E"], rel=TEN_DIGITS)

    contributions = []
    for position, value in enumerate(values):
        above, below = list(nominal), list(nominal)
        above[position] += 1e-3
        below[position] -= 1e-3
        slope = (energy_from_rise_J(*above) - energy_from_rise_J(*below)) / 2e-3
        assert slope == pytest.approx(propagated.derivatives[value], rel=1e-8)  # step error 5e-11, rounding 1e-12/slope
        contributions.append(slope * value.s)
    assert math.hypot(*contributions) == pytest.approx(case["u"], rel=1e-8)


def test_angles_close_together_keep_their_digits():
    # cos 89.9999999 - cos 90 = sin(1e-7 deg) = 1.7453292519943e-9; plain cosines would keep only seven digits of it
    assert energy_from_rise_J(1.0, 90.0, 89.9999999) == pytest.approx(math.sin(math.radians(1e-7)), rel=2e-7)
    assert potential_energy_J(1.0, 1e-7) == pytest.approx(math.radians(1e-7) ** 2 / 2.0, rel=1e-14)


@pytest.mark.parametrize("energy_J", [4.2, -0.2, -1.0])
def test_no_rise_for_more_energy_than_there_is_or_past_the_top(energy_J):
    # M = 2.15 Nm at 150 deg holds 4.012 J and stays 0.288 J below the top
    rise = rise_from_energy_deg(2.15, 150.0, energy_J)
    assert math.isnan(rise) == (energy_J > 4.012 or energy_J < -0.2881)


def test_rise_at_both_ends_of_the_swing():
    assert rise_from_energy_deg(2.15, 150.0, potential_energy_J(2.15, 150.0)) == pytest.approx(0.0, abs=1e-5)
    assert rise_from_energy_deg(2.15, 180.0, 0.0) == 180.0


def test_added_masses():
    # 0.2377 kg at 390 mm, by hand: 0.092703 kg m x 9.80665 m/s2
    assert added_moment_Nm([0.2377], [390.0], 9.80665) == pytest.approx(0.909105875, abs=5e-10)
    assert added_moment_Nm([], [], 9.80665) == 0.0
    with pytest.raises(ValueError, match="2 masses and 1 radii"):
        added_moment_Nm([0.1, 0.2], [390.0], 9.80665)


def test_numbers_and_arrays_give_the_same():
    moment = np.array([[0.5], [2.0]])
    rises = np.array([10.0, 80.0, 140.0])
    energies = energy_from_rise_J(moment, 150.0, rises)
    assert energies.shape == (2, 3)
    for row, column in np.ndindex(2, 3):
        assert energies[row, column] == energy_from_rise_J(float(moment[row, 0]), 150.0, float(rises[column]))
    np.testing.assert_allclose(
        rise_from_energy_deg(moment, 150.0, energies), np.broadcast_to(rises, (2, 3)), rtol=1e-13
    )


@given(moments, angles, angles)
def test_rise_undoes_energy(moment, release, rise):
    # near 0 and 180 deg a rounding of 1e-15 in the squared sine is an angle of 4e-6 deg
    energy = energy_from_rise_J(moment, release, rise)
    assert rise_from_energy_deg(moment, release, energy) == pytest.approx(rise, abs=1e-5)


@given(moments, angles, st.floats(0.0, 1.0))
def test_energy_undoes_rise(moment, release, share):
    energy = share * potential_energy_J(moment, release)
    rise = rise_from_energy_deg(moment, release, energy)
    assert energy_from_rise_J(moment, release, rise) == pytest.approx(energy, rel=1e-12, abs=1e-14 * moment)


@given(moments, angles, angles, st.floats(1e-3, 1e3))
def test_energies_scale_with_the_moment(moment, release, rise, factor):
    scaled = energy_from_rise_J(factor * moment, release, rise)
    assert scaled == pytest.approx(factor * energy_from_rise_J(moment, release, rise), rel=1e-13)
    assert potential_energy_J(factor * moment, release) == pytest.approx(
        factor * potential_energy_J(moment, release), rel=1e-13
    )


@given(moments, angles, angles, angles)
def test_a_lower_rise_means_more_energy(moment, release, first, second):
    low, high = sorted((first, second))
    assume(high - low > 1e-6)
    assert energy_from_rise_J(moment, release, low) > energy_from_rise_J(moment, release, high)


@given(moments, angles)
def test_no_rise_takes_the_whole_potential_energy(moment, release):
    assert energy_from_rise_J(moment, release, 0.0) == pytest.approx(potential_energy_J(moment, release), rel=1e-13)
    assert energy_from_rise_J(moment, release, release) == 0.0


@given(st.floats(0.05, 2.0), angles, st.floats(0.1, 20.0))
def test_velocity_carries_the_potential_energy(length, release, mass):
    # m v^2 / 2 at the lowest point equals m g L (1 - cos alpha), and never exceeds the ceiling
    velocity = impact_velocity_m_s(length, release, G)
    assert mass * velocity**2 / 2.0 == pytest.approx(potential_energy_J(mass * G * length, release), rel=1e-13)
    assert velocity <= highest_velocity_m_s(length, G)
