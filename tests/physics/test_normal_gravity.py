"""Gravity of a place, against published values of two reference ellipsoids."""

from pathlib import Path

import numpy as np
import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from notchbook.physics.gravity import STANDARD_GRAVITY_m_s2, normal_gravity_m_s2

REFERENCE = yaml.safe_load((Path(__file__).parents[1] / "reference" / "pendulum_mechanics.yaml").read_text("utf-8"))
GRAVITY = REFERENCE["gravity"]


def test_standard_gravity():
    assert GRAVITY["standard"]["value"] == STANDARD_GRAVITY_m_s2


@pytest.mark.parametrize(("latitude_deg", "gravity"), GRAVITY["wgs84"]["rows"].items())
def test_sea_level_against_wgs84(latitude_deg, gravity):
    # printed to eleven decimals at most; ten at equator and pole
    assert normal_gravity_m_s2(float(latitude_deg), 0.0) == pytest.approx(gravity, abs=1e-10)


@pytest.mark.parametrize("table", ["grs80", "grs80_series"])
def test_sea_level_against_the_geodetic_system_of_1980(table):
    # a different ellipsoid: its equator lies 1.4e-6 m/s2 higher, the series adds up to 7e-7
    for latitude_deg, gravity in GRAVITY[table]["rows"].items():
        assert normal_gravity_m_s2(float(latitude_deg), 0.0) == pytest.approx(gravity, abs=2.5e-6)


def test_height_against_published_example():
    # four decimals printed; the linear term leaves out the curvature, 7e-13 h^2 = 1.8e-5 at 5000 m
    case = GRAVITY["with_height"]
    gravity = normal_gravity_m_s2(float(case["latitude_deg"]), float(case["height_m"]))
    assert gravity == pytest.approx(case["published_m_s2"], abs=5e-5 + 2e-5)


def test_height_against_exact_ellipsoid():
    # linear term against the closed form of the ellipsoid: 1.1e-6 m/s2 apart at 1000 m
    case = GRAVITY["with_height_exact"]
    gravity = normal_gravity_m_s2(float(case["latitude_deg"]), float(case["height_m"]))
    assert gravity == pytest.approx(case["value_m_s2"], abs=1.5e-6)
    assert gravity == pytest.approx(GRAVITY["free_air"]["value_m_s2"], abs=1e-10)


@given(st.floats(0.0, 89.0), st.floats(0.01, 1.0), st.floats(0.0, 4000.0))
def test_gravity_grows_towards_the_poles_and_falls_with_height(latitude_deg, step_deg, height_m):
    here = normal_gravity_m_s2(latitude_deg, height_m)
    assert (
        normal_gravity_m_s2(latitude_deg + step_deg, height_m) > here > normal_gravity_m_s2(latitude_deg, height_m + 1)
    )
    assert normal_gravity_m_s2(-latitude_deg, height_m) == here


def test_arrays_of_places():
    gravity = normal_gravity_m_s2(np.array([0.0, 45.0, 90.0]), np.array([[0.0], [1000.0]]))
    assert gravity.shape == (2, 3)
    np.testing.assert_allclose(gravity[0] - gravity[1], 3.086e-3, rtol=1e-11)
