"""What one division of a scale is worth: by hand from M (cos b1 - cos b2), at its ends, and with losses."""

import math

import pytest

import small_handbook as small
from notchbook.evaluation.losses import find_losses
from notchbook.evaluation.scale import Section, division_worth_J, division_worth_kJ_m2
from notchbook.model.rig import Indicator
from notchbook.model.verification import FreeSwings

ANGLES = Indicator("angle", 0.2, None)
ENERGIES = Indicator("energy", None, 0.002)
SWINGS = FreeSwings(first_rise_deg=94.6, second_rise_deg=95.0)


@pytest.fixture(scope="module")
def hammer(tmp_path_factory):
    handbook = small.opened(tmp_path_factory.mktemp("small"))
    return handbook.evaluation.hammers["bench-1", "charpy-1"]


def between(hammer, low_deg, high_deg):
    """M (cos low - cos high), the energy between two rises without losses."""
    return hammer.moment_Nm * (math.cos(math.radians(low_deg)) - math.cos(math.radians(high_deg)))


@pytest.mark.parametrize(
    ("rise_deg", "low_deg", "high_deg"),
    [(90.0, 89.9, 90.1), (41.0, 40.9, 41.1), (0.0, 0.0, 0.2), (0.1, 0.0, 0.2), (95.7, 95.5, 95.7), (120.0, 95.5, 95.7)],
)
def test_division_of_angles_lies_half_to_each_side_and_at_an_end_inside(hammer, rise_deg, low_deg, high_deg):
    assert hammer.release_angle_deg == 95.7
    assert division_worth_J(ANGLES, hammer, rise_deg) == pytest.approx(between(hammer, low_deg, high_deg), rel=1e-9)


def test_division_of_energies_is_itself(hammer):
    assert [division_worth_J(ENERGIES, hammer, each) for each in (0.0, 41.0, 95.7)] == [0.002] * 3


def test_losses_that_grow_with_the_rise_make_a_division_worth_more(hammer):
    losses = find_losses(hammer, SWINGS)
    # plastics form: the loss grows by (W_AB / 2 + W_P) / alpha a degree
    more_J = 0.2 * (losses.swing_loss_J / 2.0 + losses.indicator_loss_J) / 95.7
    worth_J = division_worth_J(ANGLES, hammer, 41.0, losses, "plastics")
    assert worth_J == pytest.approx(between(hammer, 40.9, 41.1) + more_J, rel=1e-9)


def test_division_that_is_not_stated_is_worth_nothing(hammer):
    unstated = Indicator("angle", None, None)
    assert division_worth_J(unstated, hammer, 41.0) == 0.0
    assert division_worth_kJ_m2(unstated, hammer, None, "plastics", Section(4.0, 8.0), 41.0) is None


def test_division_longer_than_the_scale_is_the_whole_of_it(hammer):
    assert division_worth_J(Indicator("angle", 170.0, None), hammer, 41.0) == pytest.approx(hammer.potential_energy_J)
