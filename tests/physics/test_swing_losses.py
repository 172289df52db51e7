"""Losses of free swings and of a test, against worked values, exact cosines and limiting cases."""

import math
from pathlib import Path

import numpy as np
import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat, umath

from notchbook.physics.losses import (
    half_swing_loss_J,
    indicator_loss_J,
    loss_share_pct,
    metals_loss_J,
    plastics_loss_J,
    swing_loss_J,
)
from notchbook.physics.pendulum import energy_from_rise_J, potential_energy_J

REFERENCE = yaml.safe_load((Path(__file__).parents[1] / "reference" / "pendulum_mechanics.yaml").read_text("utf-8"))
WORKED = REFERENCE["worked"]
SIX_DIGITS = 5e-6  # relative: the reference prints six significant digits

# the machine of W07 to W10 and X08
MOMENT_Nm, RELEASE_deg, FIRST_RISE_deg, SECOND_RISE_deg, RISE_deg = 2.15, 150.0, 149.2, 149.5, 120.0
W09_INDICATOR_LOSS_J, W09_HALF_SWING_LOSS_J = 0.00573892, 0.00913258

moments = st.floats(0.05, 300.0)


def test_free_swing_losses_of_worked_case():
    # W09 states p, W10 states W_f1 = W_P + W_AB and W_f2 = W_AB
    results = WORKED["W10"]["results"]
    indicator = indicator_loss_J(MOMENT_Nm, FIRST_RISE_deg, SECOND_RISE_deg)
    swing = swing_loss_J(MOMENT_Nm, SECOND_RISE_deg, RELEASE_deg)
    assert indicator == pytest.approx(W09_INDICATOR_LOSS_J, rel=SIX_DIGITS)
    assert swing == pytest.approx(results["W_f2_J"], rel=SIX_DIGITS)
    assert indicator + swing == pytest.approx(results["W_f1_J"], rel=SIX_DIGITS)


def test_plastics_loss_of_worked_case():
    # W10, and the energy left after it
    results = WORKED["W10"]["results"]
    indicator = indicator_loss_J(MOMENT_Nm, FIRST_RISE_deg, SECOND_RISE_deg)
    swing = swing_loss_J(MOMENT_Nm, SECOND_RISE_deg, RELEASE_deg)
    loss = plastics_loss_J(RISE_deg, RELEASE_deg, indicator, swing)
    assert loss == pytest.approx(results["E_f_J"], rel=SIX_DIGITS)
    corrected = energy_from_rise_J(MOMENT_Nm, RELEASE_deg, RISE_deg) - loss
    assert corrected == pytest.approx(results["K_J"], rel=SIX_DIGITS)


def test_metals_loss_of_worked_case():
    # W09, and how far it lies from W10
    results = WORKED["W09"]["results"]
    loss = metals_loss_J(
        RISE_deg, RELEASE_deg, FIRST_RISE_deg, SECOND_RISE_deg, W09_INDICATOR_LOSS_J, W09_HALF_SWING_LOSS_J
    )
    assert loss == pytest.approx(results["p_beta_J"], rel=SIX_DIGITS)
    corrected = energy_from_rise_J(MOMENT_Nm, RELEASE_deg, RISE_deg) - loss
    assert corrected == pytest.approx(results["K_J"], rel=SIX_DIGITS)
    share_pct = 100.0 * corrected / potential_energy_J(MOMENT_Nm, RELEASE_deg)
    assert share_pct == pytest.approx(results["K_percent_of_E"], rel=SIX_DIGITS)
    difference = WORKED["W10"]["results"]["difference_from_W09_J"]
    assert corrected - WORKED["W10"]["results"]["K_J"] == pytest.approx(difference, abs=1e-6)


@pytest.mark.parametrize("nominal_J", [0.5, 1, 2, 4, 5])
def test_share_of_each_pendulum_used(nominal_J):
    # X03: the corrected energy of W09 against the usual pendulums
    loss = metals_loss_J(
        RISE_deg, RELEASE_deg, FIRST_RISE_deg, SECOND_RISE_deg, W09_INDICATOR_LOSS_J, W09_HALF_SWING_LOSS_J
    )
    share_pct = 100.0 * (energy_from_rise_J(MOMENT_Nm, RELEASE_deg, RISE_deg) - loss) / nominal_J
    assert share_pct == pytest.approx(WORKED["X03"]["results"][f"percent_of_{nominal_J}J"], rel=SIX_DIGITS)


def test_loss_share_of_a_free_swing():
    # X08: the first free swing carries both losses, as a share of the stored energy
    share_pct = loss_share_pct(
        indicator_loss_J(MOMENT_Nm, FIRST_RISE_deg, SECOND_RISE_deg),
        swing_loss_J(MOMENT_Nm, SECOND_RISE_deg, RELEASE_deg),
        potential_energy_J(MOMENT_Nm, RELEASE_deg),
    )
    assert share_pct == pytest.approx(WORKED["X08"]["results"]["loss_percent"], rel=SIX_DIGITS)


@pytest.mark.parametrize(
    ("second_rise_deg", "later_rise_deg", "half_swings", "share"),
    [(90.0, 60.0, 10, 0.05), (120.0, 60.0, 10, 0.1), (180.0, 90.0, 4, 0.25), (120.0, 90.0, 1, 0.5)],
)
def test_half_swing_loss_at_angles_with_exact_cosine(second_rise_deg, later_rise_deg, half_swings, share):
    loss = half_swing_loss_J(3.0, second_rise_deg, later_rise_deg, half_swings)
    assert loss == pytest.approx(3.0 * share, rel=1e-14)


def test_losses_against_the_uncertainties_package():
    # nominal value and slope with respect to the second rise, W_AB falls as W_P grows
    second = ufloat(SECOND_RISE_deg, 0.1)
    cosine = umath.cos(second * math.pi / 180)
    swing = MOMENT_Nm * (cosine - math.cos(math.radians(RELEASE_deg)))
    indicator = MOMENT_Nm * (math.cos(math.radians(FIRST_RISE_deg)) - cosine)
    propagated = 0.5 * (swing + RISE_deg / RELEASE_deg * (swing + 2 * indicator))

    def loss(second_rise_deg):
        return plastics_loss_J(
            RISE_deg,
            RELEASE_deg,
            indicator_loss_J(MOMENT_Nm, FIRST_RISE_deg, second_rise_deg),
            swing_loss_J(MOMENT_Nm, second_rise_deg, RELEASE_deg),
        )

    assert loss(SECOND_RISE_deg) == pytest.approx(propagated.n, rel=1e-12)
    slope = (loss(SECOND_RISE_deg + 1e-3) - loss(SECOND_RISE_deg - 1e-3)) / 2e-3
    assert slope == pytest.approx(propagated.derivatives[second], rel=1e-8)


@given(moments, st.floats(20.0, 175.0), st.floats(0.05, 2.0), st.floats(0.0, 2.0))
def test_plastics_loss_of_a_free_swing_is_all_that_it_lost(moment, release, indicator_drop, swing_drop):
    # a swing through the full angle loses W_AB + W_P; one that stops at the bottom half of W_AB
    second = release - swing_drop
    indicator = indicator_loss_J(moment, second - indicator_drop, second)
    swing = swing_loss_J(moment, second, release)
    whole = plastics_loss_J(release, release, indicator, swing)
    assert whole == pytest.approx(energy_from_rise_J(moment, release, second - indicator_drop), rel=1e-12)
    assert plastics_loss_J(0.0, release, indicator, swing) == pytest.approx(swing / 2.0, rel=1e-15)


@given(st.floats(20.0, 175.0), st.floats(0.05, 2.0), st.floats(0.0, 2.0), st.floats(0.001, 1.0), st.floats(0.001, 1.0))
def test_metals_loss_at_the_free_swings(release, indicator_drop, swing_drop, indicator, half_swing):
    # carrying the indicator to beta_1 costs all of p, passing through alpha + beta_2 all of p'
    second = release - swing_drop
    first = second - indicator_drop
    assert metals_loss_J(second, release, first, second, 0.0, half_swing) == pytest.approx(half_swing, rel=1e-14)
    assert metals_loss_J(first, release, first, second, indicator, 0.0) == pytest.approx(indicator, rel=1e-14)


@given(moments, st.floats(1e-2, 1e2))
def test_losses_scale_with_the_moment(moment, factor):
    for loss in (
        lambda value: indicator_loss_J(value, 94.6, 95.0),
        lambda value: swing_loss_J(value, 95.0, 95.7),
        lambda value: half_swing_loss_J(value, 95.0, 89.2, 10),
    ):
        assert loss(factor * moment) == pytest.approx(factor * loss(moment), rel=1e-13)


@given(st.floats(0.0, 150.0), st.floats(0.01, 10.0), st.floats(0.0, 0.1), st.floats(1e-4, 0.1))
def test_losses_grow_with_the_rise(rise, step, swing, indicator):
    assert plastics_loss_J(rise + step, 160.0, indicator, swing) > plastics_loss_J(rise, 160.0, indicator, swing)
    lower = metals_loss_J(rise, 160.0, 159.0, 159.5, indicator, swing)
    assert metals_loss_J(rise + step, 160.0, 159.0, 159.5, indicator, swing) > lower


@given(moments, st.floats(60.0, 170.0), st.floats(0.01, 1.0), st.integers(1, 20))
def test_half_swing_losses_add_up(moment, second, drop, half_swings):
    # n times the loss of one is what lies between the two rises
    loss = half_swing_loss_J(moment, second, second - drop, half_swings)
    between = energy_from_rise_J(moment, second, second - drop)
    assert loss > 0.0
    assert half_swings * loss == pytest.approx(between, rel=1e-14)


def test_arrays_of_rises():
    rises = np.array([0.0, 60.0, 120.0])
    plastics = plastics_loss_J(rises, RELEASE_deg, 0.006, 0.009)
    metals = metals_loss_J(rises, RELEASE_deg, FIRST_RISE_deg, SECOND_RISE_deg, 0.006, 0.009)
    for index, rise in enumerate(rises.tolist()):
        assert plastics[index] == plastics_loss_J(rise, RELEASE_deg, 0.006, 0.009)
        assert metals[index] == metals_loss_J(rise, RELEASE_deg, FIRST_RISE_deg, SECOND_RISE_deg, 0.006, 0.009)
