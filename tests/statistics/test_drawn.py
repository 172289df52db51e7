"""Drawn values against the examples of JCGM 101:2008 and against distributions that are known."""

import numpy as np
import pytest
from scipy import stats

from notchbook.statistics.drawn import Drawn, errors, numerical_tolerance, summarise_draws

DRAWS = 400_000


def drawn(model, inputs, seed=20261127):
    random = np.random.default_rng(seed)
    return summarise_draws(model(*(value + errors(random, form, u, DRAWS) for value, u, form in inputs)))


def rectangle(low, high):
    return (low + high) / 2, (high - low) / 12**0.5, "rectangular"


@pytest.mark.parametrize(
    ("inputs", "standard", "end", "tolerance"),
    [
        # JCGM 101:2008, 9.2, Y = X1 + X2 + X3 + X4: Tables 2 and 3, quoted from a public program; Table 4, from memory.
        # Tolerance: four standard errors of a quantile of so many draws.
        ([(0, 1, "normal")] * 4, 2.0, 3.92, 0.035),
        ([(0, 1, "rectangular")] * 4, 2.0, 3.88, 0.035),
        ([(0, 1, "rectangular")] * 3 + [(0, 10, "rectangular")], 10.1, 17.0, 0.06),
    ],
)
def test_additive_model_of_jcgm_101(inputs, standard, end, tolerance):
    found = drawn(lambda *each: sum(each), inputs)
    assert found.mean == pytest.approx(0, abs=5 * standard / DRAWS**0.5)
    assert found.standard == pytest.approx(standard, rel=0.01)
    assert (found.low, found.high) == (pytest.approx(-end, abs=tolerance), pytest.approx(end, abs=tolerance))


def test_the_wide_rectangle_of_jcgm_101_is_none_for_the_first_order():
    # 9.2.4, from memory: by the first order 0 -+ 19.9, by draws 0 -+ 17.0
    found = drawn(lambda *each: sum(each), [(0, 1, "rectangular")] * 3 + [(0, 10, "rectangular")])
    assert found.apart(0.0, 1.96 * 103**0.5) == pytest.approx(2.9, abs=0.1)
    normal = drawn(lambda *each: sum(each), [(0, 1, "normal")] * 4)
    assert normal.apart(0.0, 3.92) <= numerical_tolerance(2.0)


def test_mass_calibration_of_jcgm_101():
    # 9.3, Table 6: inputs as a public program quotes them, results from memory: 1.2341 with 0.0754, 1.0834 to 1.3825 mg
    inputs = [
        (100_000.0, 0.050, "normal"), (1.234, 0.020, "normal"), rectangle(1.10, 1.30), rectangle(7000, 9000),
        rectangle(7950, 8050),
    ]  # fmt: skip

    def model(mass, more, air, weight, other):
        return (mass + more) * (1 + (air - 1.2) * (1 / weight - 1 / other)) - 100_000

    found = drawn(model, inputs)
    assert found.mean == pytest.approx(1.2341, abs=1e-3)
    assert found.standard == pytest.approx(0.0754, abs=5e-4)
    assert found.low == pytest.approx(1.0834, abs=2e-3)
    assert found.high == pytest.approx(1.3825, abs=2e-3)
    # the first order, 1.234 with 0.0539, is not the same
    assert found.apart(1.234, 1.96 * 0.0539) > numerical_tolerance(0.0539)


@pytest.mark.parametrize(
    ("form", "distribution"),
    [
        ("normal", stats.norm(scale=0.3)),
        ("rectangular", stats.uniform(-0.3 * 3**0.5, 0.6 * 3**0.5)),
        ("triangular", stats.triang(0.5, -0.3 * 6**0.5, 0.6 * 6**0.5)),
    ],
)
def test_errors_are_of_their_distribution(form, distribution):
    values = errors(np.random.default_rng(5), form, 0.3, 20_000)
    assert values.std() == pytest.approx(0.3, rel=0.02)
    assert stats.kstest(values, distribution.cdf).pvalue > 0.001


@pytest.mark.parametrize(
    ("standard", "tolerance"),
    # JCGM 101:2008, 7.9.2, two figures of the uncertainty: 0.035 g has the tolerance 0.000 5 g (from memory)
    [(0.035, 0.0005), (2.0, 0.05), (0.0961, 0.0005), (0.0996, 0.005), (0.0994, 0.0005), (650.0, 5.0)],
)
def test_numerical_tolerance(standard, tolerance):
    assert numerical_tolerance(standard) == pytest.approx(tolerance, rel=1e-12)


def test_the_end_that_is_further_off_counts():
    found = Drawn(10.0, 0.03, 9.945, 10.06)
    assert found.apart(10.0, 0.055) == pytest.approx(0.005)
    assert found.apart(10.0, 0.062) == pytest.approx(0.007)
