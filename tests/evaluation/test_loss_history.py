"""The newest loss against the earlier ones, and how the energy of free half swings dies away."""

import math
from pathlib import Path

import pytest

from notchbook.evaluation.loss_history import loss_history
from notchbook.evaluation.losses import energy_left
from notchbook.handbook import open_handbook
from notchbook.model.verification import FreeSwings
from notchbook.physics.pendulum import rise_from_energy_deg

DEMO = Path(__file__).resolve().parents[2]
# t(0.975; 3) of Student's distribution as tabled, from memory
T_3 = 3.182446


@pytest.fixture(scope="module")
def charpy_1():
    handbook = open_handbook(DEMO)
    return handbook.library.rigs["bench-1"], handbook.evaluation.hammers["bench-1", "charpy-1"]


def history(charpy_1, newest_pct, earlier_pct):
    rig, hammer = charpy_1
    return loss_history(rig, hammer, newest_pct, 147.0, earlier_pct)


def test_the_interval_is_that_of_one_more_value(charpy_1):
    """Prediction interval, mean ± t s sqrt(1 + 1/n): worked by hand for 1, 2, 3, 4 with s^2 = 5/3."""
    low, high = history(charpy_1, 2.5, [1.0, 2.0, 3.0, 4.0]).interval_pct
    half = T_3 * math.sqrt(5 / 3) * math.sqrt(1 + 1 / 4)
    assert low == pytest.approx(2.5 - half, abs=1e-5)
    assert high == pytest.approx(2.5 + half, abs=1e-5)


def test_a_loss_outside_departs_and_one_inside_does_not(charpy_1):
    earlier = [1.0, 2.0, 3.0, 4.0]
    low, high = history(charpy_1, 2.5, earlier).interval_pct
    for inside in (low + 1e-6, 2.5, high - 1e-6):
        assert not history(charpy_1, inside, earlier).departs
    for outside in (low - 1e-3, high + 1e-3):
        assert history(charpy_1, outside, earlier).departs


def test_losses_that_agree_better_than_the_scale_are_judged_by_its_division(charpy_1):
    found = history(charpy_1, 1.0, [1.0, 1.0, 1.0])
    assert found.half_width_pct == found.division_pct > 0
    assert not history(charpy_1, 1.0 + 0.99 * found.division_pct, [1.0, 1.0, 1.0]).departs
    assert history(charpy_1, 1.0 + 1.01 * found.division_pct, [1.0, 1.0, 1.0]).departs


def test_fewer_than_three_earlier_losses_judge_nothing(charpy_1):
    assert history(charpy_1, 9.0, [1.0, 1.0]) is None
    assert history(charpy_1, 9.0, [1.0, 1.0, math.nan]) is None


@pytest.mark.parametrize("decay", [0.001, 0.009, 0.03])
def test_an_exponential_is_found_again(charpy_1, decay):
    """Readings made from exp(-k n) give back k."""
    _, hammer = charpy_1

    def rise(half_swings):
        lost = hammer.potential_energy_J * -math.expm1(-decay * half_swings)
        return float(rise_from_energy_deg(hammer.moment_Nm, hammer.release_angle_deg, lost))

    found = energy_left(hammer, FreeSwings(rise(1) - 0.3, rise(1), rise(11), 10))
    assert found.half_swings == (0, 1, 11)
    assert found.decay == pytest.approx(decay, rel=1e-9)
    assert found.half_swing_loss_pct == pytest.approx(100 * (1 - math.exp(-decay)), rel=1e-9)
    assert found.fitted_pct(11) == pytest.approx(found.left_pct[2], rel=1e-9)


def test_swings_that_cannot_have_been_have_no_fit(charpy_1):
    _, hammer = charpy_1
    assert energy_left(hammer, FreeSwings(147.0, 148.0, None, None)) is None
    assert energy_left(hammer, FreeSwings(147.0, 148.0, 149.0, 10)) is None
