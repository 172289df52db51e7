"""The energy window of a method: its ends are inside, and the last bit of a binary fraction decides nothing.

ISO 179-1, 7.3, and ISO 180, clause 7: 10 % to 80 % of the pendulum's energy (from memory).
"""

import pytest

from notchbook.model.method import EnergyWindow
from notchbook.model.requirement import Origin

WINDOW = EnergyWindow(10.0, 80.0, Origin("7.3", "memory", "memory", "high"))


@pytest.mark.parametrize(
    ("used_pct", "held"),
    [
        (10.0, True),
        (80.0, True),
        # 100 * (0.1 * 3) / 3 and the like
        (9.999999999999998, True),
        (80.00000000000001, True),
        (9.99999, False),
        (80.0001, False),
        (45.0, True),
        (-1.0, False),
        (float("nan"), False),
    ],
)
def test_the_ends_are_inside(used_pct, held):
    assert WINDOW.holds(used_pct) is held


@pytest.mark.parametrize("nominal_J", [0.5, 1.0, 2.0, 2.75, 4.0, 5.0, 5.5, 7.5, 11.0, 15.0, 25.0, 50.0])
def test_an_energy_at_an_end_is_inside_whatever_the_pendulum(nominal_J):
    low_J, high_J = WINDOW.ends_J(nominal_J)
    assert low_J == pytest.approx(nominal_J / 10.0)
    assert high_J == pytest.approx(nominal_J * 0.8)
    assert WINDOW.holds(100.0 * low_J / nominal_J)
    assert WINDOW.holds(100.0 * high_J / nominal_J)
