"""Quantiles and tails of Student's t, against published tables, closed forms and a reference library."""

import math
from pathlib import Path

import numpy as np
import pytest
import scipy.special
import yaml
from hypothesis import given
from hypothesis import strategies as st

from notchbook.statistics.quantiles import student_t_outside, student_t_quantile

REFERENCE = yaml.safe_load((Path(__file__).parents[1] / "reference" / "critical_values.yaml").read_text("utf-8"))


@pytest.mark.parametrize(("degrees", "tabled"), list(enumerate(REFERENCE["student_t_975"]["rows"], start=1)))
def test_quantile_against_the_published_table(degrees, tabled):
    # three decimals printed
    assert student_t_quantile(0.975, degrees) == pytest.approx(tabled, abs=0.00051)


@pytest.mark.parametrize("row", REFERENCE["student_t_two_sided"]["rows"])
def test_coverage_factors_of_jcgm_100(row):
    # two decimals printed, one at 235.8
    tolerance = 0.051 if row["k"] > 100 else 0.0051
    assert student_t_quantile((1.0 + row["p"]) / 2.0, row["df"]) == pytest.approx(row["k"], abs=tolerance)


def test_quantile_of_a_published_interval():
    # NIST/SEMATECH e-Handbook 1.3.5.2: t(0.975; 194) = 1.9723 (value from memory, four decimals)
    assert student_t_quantile(0.975, 194) == pytest.approx(1.9723, abs=5e-5)


@given(st.floats(0.001, 0.999))
def test_quantile_with_one_and_two_degrees_of_freedom(probability):
    # closed forms: Cauchy for one; (2p - 1) / sqrt(2 p (1 - p)) for two; Abramowitz and Stegun, 26.7.3 and 26.7.4
    assert student_t_quantile(probability, 1) == pytest.approx(
        math.tan(math.pi * (probability - 0.5)), rel=1e-13, abs=1e-15
    )
    expected = (2.0 * probability - 1.0) / math.sqrt(2.0 * probability * (1.0 - probability))
    assert student_t_quantile(probability, 2) == pytest.approx(expected, rel=1e-13, abs=1e-15)


@given(st.floats(0.5001, 0.9999), st.integers(1, 500))
def test_quantile_is_symmetric_and_falls_towards_the_normal_one(probability, degrees):
    quantile = student_t_quantile(probability, degrees)
    assert student_t_quantile(1.0 - probability, degrees) == pytest.approx(-quantile, rel=1e-8)
    assert student_t_quantile(probability, degrees + 1) < quantile


@pytest.mark.parametrize(
    ("probability", "degrees"), [(0.0, 5), (1.0, 5), (-0.1, 5), (math.nan, 5), (0.9, 0), (0.9, -1)]
)
def test_arguments_outside_their_range(probability, degrees):
    with pytest.raises(ValueError, match=r"probability|degrees of freedom"):
        student_t_quantile(probability, degrees)


@pytest.mark.parametrize(("degrees", "tabled"), list(enumerate(REFERENCE["student_t_975"]["rows"], start=1)))
def test_tail_against_the_published_table(degrees, tabled):
    # three decimals printed
    assert student_t_outside(tabled + 0.00051, degrees) < 0.05 < student_t_outside(tabled - 0.00051, degrees)


@given(st.floats(0.0, 100.0), st.integers(1, 1000))
def test_tail_against_scipy(t, degrees):
    # by the incomplete beta function (Abramowitz and Stegun, 26.7.1), from the side that keeps its digits: scipy's own
    # distribution does not near the middle
    square = t * t / degrees
    near = scipy.special.betainc(0.5, 0.5 * degrees, square / (1.0 + square))
    far = scipy.special.betainc(0.5 * degrees, 0.5, 1.0 / (1.0 + square))
    expected = far if square > 1.0 else 1.0 - near
    assert student_t_outside(t, degrees) == pytest.approx(expected, rel=1e-12, abs=1e-12)


def test_ends_of_the_tail():
    assert student_t_outside(0.0, 7) == 1.0
    assert student_t_outside(math.inf, 8) == pytest.approx(0.0, abs=1e-15)


@pytest.mark.parametrize("degrees", [0.5, 1.7, 3.3, 9.37, 30.2, 143.7, 1e6 - 1.0, 1e6 + 1.0])
def test_a_quantile_is_good_to_the_digits_that_a_machine_has(degrees):
    # the probability inside it by another way: the density integrated after Gauss and Legendre
    quantile = student_t_quantile(0.975, degrees)
    nodes, weights = np.polynomial.legendre.leggauss(400)
    angle = 0.5 * math.atan(quantile / math.sqrt(degrees)) * (nodes + 1.0)
    # t = sqrt(v) tan(x) makes the density one of cos(x)^(v - 1); its integral over all x is 1
    scale = math.exp(math.lgamma(0.5 * degrees + 0.5) - math.lgamma(0.5 * degrees)) / math.sqrt(math.pi)
    inside = scale * 0.5 * math.atan(quantile / math.sqrt(degrees)) * float(weights @ np.cos(angle) ** (degrees - 1.0))
    assert inside == pytest.approx(0.475, rel=1e-9 if degrees > 1e3 else 2e-13)
