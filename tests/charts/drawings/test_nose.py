"""The profile that notches and striking edges share."""

import math

import pytest

from notchbook.charts.drawings.geometry import DOWN, LEFT, RIGHT, UP
from notchbook.charts.drawings.nose import Nose


@pytest.mark.parametrize("towards", [DOWN, UP, LEFT, RIGHT])
@pytest.mark.parametrize(("radius", "included"), [(4.0, 45.0), (1.0, 30.0), (6.0, 0.0), (2.0, 120.0)])
def test_flanks_touch_the_radius_without_a_corner(towards, radius, included):
    nose = Nose((100.0, 50.0), towards, radius, included, 30.0)
    flank, arc = nose.profile().segments[1], nose.profile().segments[2]
    touched = flank[1]
    assert touched == pytest.approx(arc[0])
    assert math.dist(touched, nose.centre) == pytest.approx(radius)
    along = flank[1][0] - flank[0][0], flank[1][1] - flank[0][1]
    out = touched[0] - nose.centre[0], touched[1] - nose.centre[1]
    assert along[0] * out[0] + along[1] * out[1] == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("included", [30.0, 45.0, 90.0])
def test_flanks_meet_in_the_apex(included):
    nose = Nose((0.0, 0.0), DOWN, 3.0, included, 20.0)
    for (x, y), direction in zip(nose.ends, nose.flank_direction_deg(), strict=True):
        reach = math.dist((x, y), nose.apex)
        turn = math.radians(direction)
        assert (x, y) == pytest.approx(
            (nose.apex[0] + reach * math.cos(turn), nose.apex[1] + reach * math.sin(turn)), abs=1e-9
        )


def test_a_profile_shallower_than_its_radius_is_part_of_a_circle():
    """Half a chord at depth d in a circle of radius r is sqrt(2 r d - d^2)."""
    nose = Nose((0.0, 0.0), DOWN, 5.0, 45.0, 1.0)
    assert nose.half_opening == pytest.approx(3.0)
    assert [y for _, y in nose.ends] == pytest.approx([-1.0, -1.0])
