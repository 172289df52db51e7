"""How far the digits of a number reach that somebody gave."""

import pytest

from notchbook.answers.digits import given


@pytest.mark.parametrize(
    ("text", "value", "decimals"),
    [
        ("3.89", 3.89, 2), ("3,90", 3.9, 2), (" 12 ", 12.0, 0), ("-25.65", -25.65, 2), ("\N{MINUS SIGN}1.5", -1.5, 1),
        (".5", 0.5, 1), ("5.", 5.0, 0), ("3.9e3", 3900.0, -2), ("1E-3", 0.001, 3),
    ],
)  # fmt: skip
def test_digits_are_those_that_were_written(text: str, value: float, decimals: int) -> None:
    found = given(text)
    assert found is not None
    assert (found.value, found.decimals) == (value, decimals)


@pytest.mark.parametrize("text", ["", "four", "1.2.3", "1 000", "0x1f", "1e9999", "1e-999", "NaN", "inf", "3.9 kJ"])
def test_what_is_no_number_is_none(text: str) -> None:
    assert given(text) is None


@pytest.mark.parametrize(
    ("text", "agreeing", "other"),
    [
        ("3.9", [3.85, 3.9499], [3.8499, 3.951]),
        ("3.90", [3.895, 3.9049], [3.894, 3.906]),
        ("12", [11.5, 12.49], [12.6]),
    ],
)
def test_a_number_agrees_to_the_digits_given(text: str, agreeing: list[float], other: list[float]) -> None:
    found = given(text)
    assert found is not None
    assert all(found.is_rounded(each) for each in agreeing)
    assert not any(found.is_rounded(each) for each in other)


def test_a_number_agrees_to_the_figures_that_the_method_reports() -> None:
    # ISO 179-1, 10: the mean to two significant figures
    found = given("150")
    assert found is not None
    assert found.is_rounded(147.2, 2)
    assert not found.is_rounded(147.2)


def test_a_number_that_was_cut_off_is_known() -> None:
    found = given("3.88")
    assert found is not None
    assert found.is_cut_off(3.8899)
    assert not found.is_cut_off(3.8701)
    assert not found.is_rounded(3.8899)
