"""Period of finite swings and the length of the pendulum, against tables, the series and closed forms."""

import math
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import ellipk

from notchbook.physics.pendulum import pendulum_length_mm, period_ratio

REFERENCE = yaml.safe_load((Path(__file__).parents[1] / "reference" / "pendulum_mechanics.yaml").read_text("utf-8"))
CLOSED = REFERENCE["closed_forms"]
G = CLOSED["gravity_m_s2"]


@pytest.mark.parametrize(("amplitude_deg", "ratio"), REFERENCE["period_ratio"]["rows"].items())
def test_ratio_against_the_published_table(amplitude_deg, ratio):
    # ten decimals printed; the table itself differs from exact values by up to 9.6e-11
    assert period_ratio(float(amplitude_deg)) == pytest.approx(ratio, abs=1.5e-10)


@pytest.mark.parametrize(("amplitude_deg", "ratio"), REFERENCE["period_ratio_more"]["rows"].items())
def test_ratio_at_further_amplitudes(amplitude_deg, ratio):
    assert period_ratio(float(amplitude_deg)) == pytest.approx(ratio, abs=6e-12)


def test_ratio_against_the_series():
    # four terms of the series at 30 deg; the fifth term is below 3e-9
    amplitude = math.pi / 6
    terms = REFERENCE["period_series"]["coefficients"]
    series = 1.0 + sum(float(Fraction(text)) * amplitude**power for power, text in terms.items())
    assert series == pytest.approx(REFERENCE["period_series"]["at_30_deg"]["series"], abs=6e-11)
    assert period_ratio(30.0) == pytest.approx(REFERENCE["period_series"]["at_30_deg"]["exact"], abs=1e-10)
    assert period_ratio(30.0) == pytest.approx(series, abs=3e-9)


@given(st.floats(0.0, 179.9))
def test_ratio_against_the_elliptic_integral(amplitude_deg):
    # scipy.special.ellipk takes the parameter sin^2(theta/2); near 180 deg its own argument loses digits
    parameter = math.sin(math.radians(amplitude_deg) / 2.0) ** 2
    assert period_ratio(amplitude_deg) == pytest.approx(2.0 / math.pi * ellipk(parameter), rel=1e-10)


@given(st.floats(0.0, 179.0), st.floats(0.001, 0.9))
def test_ratio_grows_with_the_amplitude(amplitude_deg, step_deg):
    assert period_ratio(amplitude_deg + step_deg) > period_ratio(amplitude_deg) >= 1.0
    assert period_ratio(-amplitude_deg) == period_ratio(amplitude_deg)


def test_ratio_where_the_pendulum_no_longer_swings():
    ratios = period_ratio(np.array([0.0, 179.999999, 180.0, 200.0]))
    assert ratios[0] == 1.0
    # K tends to ln(4 / cos(theta/2)) as theta nears 180 deg; Abramowitz and Stegun, 17.3.26
    assert ratios[1] == pytest.approx(2.0 / math.pi * math.log(4.0 / math.radians(0.5e-6)), rel=1e-9)
    assert np.isnan(ratios[2:]).all()


def test_length_of_worked_case():
    # W04: 50 swings in 47.60 s, six digits
    results = REFERENCE["worked"]["W04"]["results"]
    period_s = 47.60 / 50
    assert period_s == pytest.approx(results["T_s"], rel=1e-12)
    length_mm = pendulum_length_mm(period_s, 9.80665, 0.0)
    assert length_mm == pytest.approx(1000 * results["L_P_m"], rel=5e-6)
    assert pendulum_length_mm(period_s, 9.81, 0.0) == pytest.approx(1000 * results["L_P_m_if_g_is_9p81"], rel=5e-6)
    assert length_mm / 225.0 == pytest.approx(results["ratio_to_L_0p2250"], rel=5e-6)


@pytest.mark.parametrize(("period_s", "length_m"), CLOSED["length_m_of_period_s"].items())
def test_length_of_small_swings(period_s, length_m):
    assert pendulum_length_mm(period_s, G, 0.0) == pytest.approx(1000 * length_m, rel=1e-9)


@pytest.mark.parametrize(("gravity", "factor"), CLOSED["length_factor_m_s2"].items())
def test_length_of_one_second(gravity, factor):
    # seven and ten digits printed
    assert pendulum_length_mm(1.0, float(gravity), 0.0) == pytest.approx(1000 * factor, rel=1.5e-7)


@pytest.mark.parametrize("body", ["uniform_rod", "ring_on_its_rim"])
def test_length_of_bodies_with_known_inertia(body):
    # equivalent length I / (m d): rod about its end 2 L / 3, ring about its rim 2 R
    case = CLOSED[body]
    assert pendulum_length_mm(case["period_s"], G, 0.0) == pytest.approx(1000 * case["length_m"], rel=1e-9)


def test_length_corrected_for_amplitude():
    case = CLOSED["amplitude_correction"]
    period_s, amplitude_deg = case["T_measured"], float(case["theta0_deg"])
    assert period_s / period_ratio(amplitude_deg) == pytest.approx(case["T0"], rel=1e-9)
    assert pendulum_length_mm(period_s, G, 0.0) == pytest.approx(1000 * case["L_uncorrected"], rel=1e-9)
    assert pendulum_length_mm(period_s, G, amplitude_deg) == pytest.approx(1000 * case["L_corrected"], rel=1e-9)


@given(st.floats(50.0, 2000.0), st.floats(0.0, 170.0), st.floats(9.76, 9.84))
def test_length_from_the_period_it_causes(length_mm, amplitude_deg, gravity):
    period_s = 2.0 * math.pi * math.sqrt(length_mm / 1000.0 / gravity) * period_ratio(amplitude_deg)
    assert pendulum_length_mm(period_s, gravity, amplitude_deg) == pytest.approx(length_mm, rel=1e-13)


def test_arrays_of_periods():
    lengths = pendulum_length_mm(np.array([0.5, 1.0, 2.0]), G, 0.0)
    np.testing.assert_allclose(lengths / lengths[1], [0.25, 1.0, 4.0], rtol=1e-15)


def test_period_of_a_swing_computed_step_by_step():
    # the equation of motion theta'' = -(g/L) sin theta, integrated for a quarter swing from 60 deg by Runge-Kutta
    steps, angle, rate, time = 4000, math.radians(60.0), 0.0, 0.0
    step = 2.0 / steps

    def slope(state):
        return np.array([state[1], -math.sin(state[0])])

    state = np.array([angle, rate])
    while state[0] > 0.0:
        before = state
        k1 = slope(state)
        k2 = slope(state + step / 2 * k1)
        k3 = slope(state + step / 2 * k2)
        k4 = slope(state + step * k3)
        state = state + step / 6 * (k1 + 2 * k2 + 2 * k3 + k4)
        time += step
    quarter = time - step * state[0] / (state[0] - before[0])
    # quarter of the small swing in these units is pi/2; linear end step costs below 1e-9
    assert quarter / (math.pi / 2) == pytest.approx(period_ratio(60.0), rel=1e-8)
