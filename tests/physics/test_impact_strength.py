"""Impact strength and the units of older tables, against published pairs, worked values and exact fractions."""

from fractions import Fraction
from pathlib import Path
from statistics import fmean

import numpy as np
import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from notchbook.physics import units
from notchbook.physics.gravity import STANDARD_GRAVITY_m_s2
from notchbook.physics.strength import impact_strength_kJ_m2

REFERENCE = yaml.safe_load((Path(__file__).parents[1] / "reference" / "pendulum_mechanics.yaml").read_text("utf-8"))
WORKED = REFERENCE["worked"]
PUBLISHED = REFERENCE["published_examples"]
CONVERSIONS = REFERENCE["unit_conversions"]
SIX_DIGITS = 5e-6  # relative: the reference prints six significant digits

FOOT_POUND = Fraction("0.45359237") * Fraction("9.80665") * Fraction("0.3048")
INCH = Fraction("0.0254")


def test_notched_bar_of_worked_case():
    # W11: the corrected energy of W09 over the area under the notch
    results = WORKED["W11"]["results"]
    strength = impact_strength_kJ_m2(WORKED["W09"]["results"]["K_J"], 4.02, 7.98)
    assert strength == pytest.approx(results["a_cN_kJ_per_m2"], rel=SIX_DIGITS)
    assert 1000.0 / impact_strength_kJ_m2(1.0, 4.02, 7.98) == pytest.approx(results["area_mm2"], rel=SIX_DIGITS)


def test_unnotched_bar_of_worked_case():
    # W12
    strength = impact_strength_kJ_m2(3.10, 3.98, 10.05)
    assert strength == pytest.approx(WORKED["W12"]["results"]["a_cU_kJ_per_m2"], rel=SIX_DIGITS)


MOULDED = PUBLISHED["moulded_plastics"]


@pytest.mark.parametrize(("plastic", "energy_J", "printed_J_m2"), MOULDED["rows"])
def test_strengths_of_a_student_report(plastic, energy_J, printed_J_m2):
    # eight bars, printed in J/m2 to two decimals
    strength = impact_strength_kJ_m2(energy_J, MOULDED["thickness_mm"], MOULDED["width_mm"])
    assert 1000.0 * strength == pytest.approx(printed_J_m2, abs=0.0051), plastic


@pytest.mark.parametrize(("plastic", "printed_mean_J_m2"), MOULDED["printed_means_J_m2"].items())
def test_means_of_a_student_report(plastic, printed_mean_J_m2):
    energies = np.array([energy for name, energy, _ in MOULDED["rows"] if name == plastic])
    strengths = impact_strength_kJ_m2(energies, MOULDED["thickness_mm"], MOULDED["width_mm"])
    # printed from rounded values: up to one unit of the last digit away
    assert 1000.0 * fmean(strengths) == pytest.approx(printed_mean_J_m2, abs=0.0101)


@pytest.mark.parametrize(
    ("constant", "exact"),
    [
        (units.J_PER_FT_LBF, FOOT_POUND),
        (units.J_PER_M_PER_FT_LBF_PER_IN, FOOT_POUND / INCH),
        (units.KJ_M2_PER_FT_LBF_PER_IN2, FOOT_POUND / INCH**2 / 1000),
        (units.KJ_M2_PER_KGF_CM_PER_CM2, Fraction("0.980665")),
        (units.J_PER_M_PER_KGF_CM_PER_CM, Fraction("9.80665")),
    ],
)
def test_constants_against_exact_fractions(constant, exact):
    # three roundings at most
    assert constant == pytest.approx(float(exact), rel=5e-16)


@pytest.mark.parametrize(
    ("constant", "key"),
    [
        (units.J_PER_FT_LBF, "ft_lbf_to_J"),
        (units.J_PER_M_PER_FT_LBF_PER_IN, "ft_lbf_per_in_to_J_per_m"),
        (units.KJ_M2_PER_FT_LBF_PER_IN2, "ft_lbf_per_in2_to_kJ_per_m2"),
        (units.KJ_M2_PER_KGF_CM_PER_CM2, "kgf_cm_per_cm2_to_kJ_per_m2"),
        (units.J_PER_M_PER_KGF_CM_PER_CM, "kgf_cm_per_cm_to_J_per_m"),
    ],
)
def test_constants_against_conversion_tables(constant, key):
    assert constant == pytest.approx(CONVERSIONS[key], rel=SIX_DIGITS)
    if key in CONVERSIONS["to_more_digits"]:
        assert constant == pytest.approx(CONVERSIONS["to_more_digits"][key], rel=3e-10)


def test_constants_of_worked_case():
    # W14
    results = WORKED["W14"]["results"]
    assert pytest.approx(results["ft_lbf_J"], rel=SIX_DIGITS) == units.J_PER_FT_LBF
    assert pytest.approx(results["ft_lbf_per_in_J_per_m"], rel=SIX_DIGITS) == units.J_PER_M_PER_FT_LBF_PER_IN
    assert pytest.approx(results["ft_lbf_per_in2_kJ_per_m2"], rel=SIX_DIGITS) == units.KJ_M2_PER_FT_LBF_PER_IN2
    assert pytest.approx(results["kgf_cm_per_cm2_kJ_per_m2"], rel=SIX_DIGITS) == units.KJ_M2_PER_KGF_CM_PER_CM2
    assert pytest.approx(results["kgf_cm_per_cm_J_per_m"], rel=SIX_DIGITS) == units.J_PER_M_PER_KGF_CM_PER_CM


@pytest.mark.parametrize(("ft_lbf_per_in", "printed_J_m"), PUBLISHED["data_sheet_pairs"]["rows"])
def test_pairs_printed_in_data_sheets(ft_lbf_per_in, printed_J_m):
    # printed to whole joules per metre, the last to one decimal; half a unit of the last printed digit
    tolerance = 0.5 if float(printed_J_m).is_integer() else 0.05
    assert ft_lbf_per_in * units.J_PER_M_PER_FT_LBF_PER_IN == pytest.approx(printed_J_m, abs=tolerance)


def test_foot_pounds_of_a_published_question():
    # physics question thread, 2011; both numbers to six digits
    case = PUBLISHED["release_at_50_deg"]
    assert case["result_ft_lbf"] * units.J_PER_FT_LBF == pytest.approx(case["result_J"], rel=SIX_DIGITS)


def test_rounded_gravity_against_the_standard_value():
    # X02
    results = WORKED["X02"]["results"]
    assert 9.81 / STANDARD_GRAVITY_m_s2 == pytest.approx(results["ratio"], abs=5e-6)
    assert 100.0 * (9.81 / STANDARD_GRAVITY_m_s2 - 1.0) == pytest.approx(results["percent"], rel=SIX_DIGITS)


def test_strength_against_the_uncertainties_package():
    quantities = ufloat(0.774, 0.004), ufloat(4.02, 0.01), ufloat(7.98, 0.02)
    energy, thickness, width = quantities
    propagated = energy / (thickness * width) * 1000
    nominal = [each.n for each in quantities]
    assert impact_strength_kJ_m2(*nominal) == pytest.approx(propagated.n, rel=1e-15)
    for position, quantity in enumerate(quantities):
        above, below = list(nominal), list(nominal)
        above[position] += 1e-4
        below[position] -= 1e-4
        slope = (impact_strength_kJ_m2(*above) - impact_strength_kJ_m2(*below)) / 2e-4
        # the difference quotient of 1/x errs by (step/x)^2, 6e-10 at 4 mm
        assert slope == pytest.approx(propagated.derivatives[quantity], rel=1e-8)


@given(st.floats(0.001, 50.0), st.floats(1.0, 20.0), st.floats(1.0, 20.0), st.floats(0.01, 100.0))
def test_strength_scales_with_energy_and_inversely_with_area(energy, thickness, width, factor):
    strength = impact_strength_kJ_m2(energy, thickness, width)
    assert impact_strength_kJ_m2(factor * energy, thickness, width) == pytest.approx(factor * strength, rel=1e-14)
    assert impact_strength_kJ_m2(energy, factor * thickness, width) == pytest.approx(strength / factor, rel=1e-14)
    assert impact_strength_kJ_m2(energy, width, thickness) == strength
    assert strength * thickness * width / 1000.0 == pytest.approx(energy, rel=1e-14)
