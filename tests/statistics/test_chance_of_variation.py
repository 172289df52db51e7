"""How often a few bars seem to scatter little: against the closed form of chi-square and against drawn sets."""

import math

import numpy as np
import pytest

from notchbook.statistics.summary import chance_of_variation_below


def _closed(limit_pct: float, true_pct: float) -> float:
    """Chi-square with four degrees of freedom, ``1 - exp(-x/2) (1 + x/2)`` (Abramowitz and Stegun, 26.4.5)."""
    x = 4.0 * (limit_pct / true_pct) ** 2
    return 1.0 - math.exp(-x / 2.0) * (1.0 + x / 2.0)


@pytest.mark.parametrize(("limit_pct", "true_pct"), [(5.0, 8.0), (5.0, 5.0), (5.0, 2.0), (10.0, 12.0)])
def test_of_five_bars(limit_pct: float, true_pct: float) -> None:
    assert chance_of_variation_below(limit_pct, true_pct, 5) == pytest.approx(_closed(limit_pct, true_pct), rel=1e-12)


def test_five_bars_that_scatter_by_eight_percent_pass_in_eighteen_cases_of_a_hundred() -> None:
    sets = np.random.default_rng(8).normal(100.0, 8.0, (200_000, 5))
    variation_pct = 100.0 * sets.std(axis=1, ddof=1) / sets.mean(axis=1)
    drawn = float((variation_pct < 5.0).mean())
    # standard error of the share 0.0009; that the mean of five is not known moves it by as little
    assert chance_of_variation_below(5.0, 8.0, 5) == pytest.approx(drawn, abs=0.004)
    assert round(100.0 * chance_of_variation_below(5.0, 8.0, 5)) == 18
