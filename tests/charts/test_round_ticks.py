"""Ticks of a straight axis, held against those that matplotlib would choose."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from matplotlib.ticker import MaxNLocator

from notchbook.charts.scale import nice_ticks

VALUES = st.lists(st.floats(0.01, 1000.0), min_size=2, max_size=12)


# The ticks of matplotlib begin at a multiple of a larger number in ranges far from zero, and where the lowest value is
# below half of the highest our axis begins at zero. A range that ends at a tick but for the last bit of a binary
# fraction can have one tick more or less, so that the ranges are drawn once and for all.
def test_ticks_are_those_of_matplotlib():
    numbers = np.random.default_rng(1)
    for _ in range(500):
        high, share = 10.0 ** numbers.uniform(-3.0, 4.0), numbers.uniform(0.1, 0.49)
        low = high * (1.0 - share)
        expected = MaxNLocator(5, steps=[1, 2, 5, 10], min_n_ticks=2).tick_values(low, high)
        assert nice_ticks([low, high], []) == pytest.approx(expected.tolist(), rel=1e-9)


@given(VALUES)
def test_ticks_are_round_and_take_in_all_values(values):
    ticks = nice_ticks(values, [])
    assert ticks[0] <= min(values) * (1 + 1e-9)
    assert ticks[-1] >= max(values) * (1 - 1e-9)
    assert 2 <= len(ticks) <= 7
    assert all(len(f"{each:.9g}".strip("-0.").replace(".", "").rstrip("0")) <= 4 for each in ticks)
