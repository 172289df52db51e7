"""The energy of the pieces, against the sum over small parts of a bar."""

import numpy as np
import pytest

from notchbook.physics.toss import toss_energies_J


def test_the_ends_are_those_of_the_parts_of_a_bar() -> None:
    mass_kg, velocity_m_s, parts = 0.00336, 2.9, 100_000
    # from an outer end, at rest, to the broken middle, which moves with the edge; mechanics
    along = (np.arange(parts) + 0.5) / parts
    turned_J = float(np.sum(0.5 * mass_kg / parts * (velocity_m_s * along) ** 2))
    least, most = toss_energies_J(mass_kg, velocity_m_s)
    assert least == pytest.approx(turned_J, rel=1e-9)
    assert most == pytest.approx(0.5 * mass_kg * velocity_m_s**2, rel=1e-12)
