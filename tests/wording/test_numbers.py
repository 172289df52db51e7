"""Numbers as people read them, held against decimal arithmetic."""

import math
import re
from decimal import ROUND_HALF_EVEN, Decimal

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from notchbook.wording.numbers import alike, interval_ends, number, plain, short_figures, to_decimals, to_figures

NUMBERS = st.floats(min_value=1e-6, max_value=1e9) | st.floats(min_value=-1e9, max_value=-1e-6)


def _value(shown: str) -> Decimal:
    return Decimal(shown.replace("−", "-"))


@given(NUMBERS, st.integers(1, 6))
@example(9.995, 3)
@example(0.0999996, 3)
@example(99.95, 3)
@example(12345.0, 2)
def test_significant_figures(value: float, figures: int) -> None:
    shown = to_figures(value, figures)
    exact = Decimal(value)
    unit = Decimal(1).scaleb(exact.adjusted() - figures + 1)
    # reference: decimal arithmetic on the binary fraction as it is
    rounded = exact.quantize(unit, ROUND_HALF_EVEN)
    assert _value(shown) == rounded
    assert re.fullmatch(r"−?[0-9]+(\.[0-9]+)?", shown), "fixed notation with a real minus"
    if "." in shown:
        assert len(shown.lstrip("−0.").replace(".", "")) == figures, "trailing zeros are kept"


@pytest.mark.parametrize(
    ("value", "figures", "shown"),
    [
        (4.04, 2, "4.0"), (66.7, 2, "67"), (123.4, 2, "120"), (0.12345, 3, "0.123"), (0.0996, 2, "0.10"),
        (-2.5, 3, "−2.50"), (0.0, 3, "0.00"), (None, 3, "–"), (math.nan, 3, "–"), (math.inf, 3, "–"),
    ],
)  # fmt: skip
def test_significant_figures_of(value: float | None, figures: int, shown: str) -> None:
    assert to_figures(value, figures) == shown


@given(NUMBERS | st.just(0.0), st.integers(0, 6))
def test_decimals(value: float, decimals: int) -> None:
    shown = to_decimals(value, decimals)
    assert _value(shown) == Decimal(value).quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_EVEN)
    assert len(shown.partition(".")[2]) == decimals


@pytest.mark.parametrize("value", [None, math.nan, math.inf, -math.inf])
def test_no_number_is_a_dash(value: float | None) -> None:
    assert to_decimals(value, 2) == to_figures(value, 2) == "–"


@pytest.mark.parametrize("value", [-0.0, -0.004, -1e-12])
def test_zero_has_no_sign(value: float) -> None:
    assert to_decimals(value, 2) == "0.00"


@pytest.mark.parametrize(
    ("value", "shown"),
    [(10.0, "10"), (390, "390"), (0.2, "0.2"), (9.8137, "9.8137"), (-1.5, "−1.5"), (0.1 + 0.2, "0.3"), (None, "–")],
)
def test_number_as_written(value: float | None, shown: str) -> None:
    assert plain(value) == shown


@given(st.decimals(min_value=-9999, max_value=9999, places=4))
def test_number_of_a_file_comes_back(written: Decimal) -> None:
    assert _value(plain(float(written))) == written


@pytest.mark.parametrize(
    ("values", "shown"),
    [
        ((48.1, 48.12, 48.08), ["48.10", "48.12", "48.08"]),
        ((48.0, 49.0), ["48", "49"]),
        ((-0.5, 12.0), ["−0.5", "12.0"]),
        ((), []),
    ],
)
def test_numbers_side_by_side_have_as_many_decimals(values: tuple[float, ...], shown: list[str]) -> None:
    assert alike(values) == shown


@pytest.mark.parametrize(
    ("value", "figures", "text"),
    [
        (14.2, 3, "14.2"),
        (14.0, 3, "14.0"),
        (9.996, 3, "10.0"),
        (105.4, 3, "105"),
        (1234.0, 3, "1230"),
        (0.0123, 2, "0.012"),
        (-0.5, 2, "−0.50"),
        (0.0, 3, "0.00"),
        (14.2, 2, "14"),
        (2.5e9, 3, "2.50 × 10^9"),
        (-1e-7, 2, "−1.0 × 10^−7"),
    ],
)
def test_short_figures(value: float, figures: int, text: str) -> None:
    assert short_figures(value, figures) == text


@pytest.mark.parametrize(
    ("value", "shown"), [(62.0, "62"), (4.1234567, "4.12346"), (-0.5, "−0.5"), (1e7, "1e+07"), (1e-7, "1e−07")]
)
def test_number_in_a_sentence(value: float, shown: str) -> None:
    assert number(value) == shown


@pytest.mark.parametrize(
    ("low", "high", "shown"),
    [
        # half of the width to two figures says the decimals of both ends (JCGM 100:2008, 7.2.6)
        (3.7886, 4.1094, ("3.79", "4.11")),
        (9.4306, 10.279, ("9.43", "10.28")),
        (99.46, 110.72, ("99.5", "110.7")),
        (-4.1, 48.2, ("−4", "48")),
        (3.0, 3.0, ("3.00", "3.00")),
        (2e9, 3e9, ("2.00 × 10^9", "3.00 × 10^9")),
    ],
)
def test_both_ends_of_an_interval_have_the_same_decimals(low: float, high: float, shown: tuple[str, str]) -> None:
    assert interval_ends(low, high) == shown
