"""The forty digits against published values, so that what is compared with them rests on something."""

from decimal import Decimal

import pytest

import exact


def test_pi():
    # first 40 decimals, in every table of constants (memory)
    assert str(exact.pi()).startswith("3.1415926535897932384626433832795028841971")


@pytest.mark.parametrize(
    ("angle", "square"), [(0, "1"), (30, "0.75"), (45, "0.5"), (60, "0.25"), (90, "0"), (150, "0.75")]
)
def test_cosines_with_a_known_square(angle, square):
    assert abs(exact.cos_deg(Decimal(angle)) ** 2 - Decimal(square)) < Decimal("1e-40")
    assert abs(exact.sin_deg(Decimal(90 - angle)) - exact.cos_deg(Decimal(angle))) < Decimal("1e-40")
    if 0 < angle < 180:
        assert abs(exact.acos_deg(exact.cos_deg(Decimal(angle))) - angle) < Decimal("1e-38")


@pytest.mark.parametrize(
    ("freedom", "quantile"),
    # table of Student's t, 97.5 %: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2, three decimals
    [(1, 12.706), (2, 4.303), (3, 3.182), (4, 2.776), (5, 2.571), (8, 2.306), (9, 2.262), (10, 2.228), (29, 2.045)],
)
def test_quantiles_of_student_t(freedom, quantile):
    assert float(exact.student_t_95(freedom)) == pytest.approx(quantile, abs=5e-4)


def test_arithmetic_geometric_mean():
    # AGM(1, sqrt 2) = 1.19814 02347 35592 20744 (Gauss, 1799; OEIS A053003)
    assert str(exact.agm(Decimal(1), Decimal(2).sqrt())).startswith("1.1981402347355922074")
