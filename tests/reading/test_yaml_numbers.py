"""Plain scalars against the core schema of YAML 1.2.2, written down here from its section 10.3.2."""

import math
import re
import sys
from decimal import Decimal

import pytest
import yaml
from hypothesis import assume, example, given
from hypothesis import strategies as st

from notchbook.reading.strict_yaml import parse
from small_handbook import TEST, as_yaml, files, opened, told

# YAML 1.2.2, 10.3.2, the table of tag resolution, in its order
NULL = re.compile(r"null|Null|NULL|~|")
TRUE = re.compile(r"true|True|TRUE")
FALSE = re.compile(r"false|False|FALSE")
DECIMAL = re.compile(r"[-+]?[0-9]+")
OCTAL = re.compile(r"0o[0-7]+")
HEXADECIMAL = re.compile(r"0x[0-9a-fA-F]+")
FLOAT = re.compile(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?")
INFINITE = re.compile(r"[-+]?(\.inf|\.Inf|\.INF)")
NOT_A_NUMBER = re.compile(r"\.nan|\.NaN|\.NAN")
REFUSED = object()
SMALLEST_POWER = -30


def expected(text):
    """The value of a plain scalar by the table; REFUSED for a number that is not finite or next to nothing."""
    if NULL.fullmatch(text):
        return None
    if TRUE.fullmatch(text) or FALSE.fullmatch(text):
        return bool(TRUE.fullmatch(text))
    if DECIMAL.fullmatch(text) or FLOAT.fullmatch(text):
        digits, _, exponent = text.lower().partition("e")
        if not Decimal(digits):
            return 0.0
        power = Decimal(digits).adjusted() + int(exponent or 0)
        # besides what YAML says, the data files hold no number that nobody can have measured
        in_range = SMALLEST_POWER <= power <= sys.float_info.max_10_exp
        return float(Decimal(text)) if in_range and math.isfinite(float(Decimal(text))) else REFUSED
    if OCTAL.fullmatch(text):
        return float(int(text[2:], 8))
    if HEXADECIMAL.fullmatch(text):
        return float(int(text[2:], 16))
    if INFINITE.fullmatch(text) or NOT_A_NUMBER.fullmatch(text):
        return REFUSED
    return text


def same(value, other):
    """Whether two values are the same in kind and size; whole and broken numbers are one kind here."""
    return kind_of(value) is kind_of(other) and value == other


def kind_of(value):
    return float if isinstance(value, int | float) and not isinstance(value, bool) else type(value)


PIECES = st.sampled_from(
    [
        *"0123456789+-.eE_xoXOabf~",
        ".inf",
        ".Inf",
        ".nan",
        "null",
        "NULL",
        "true",
        "True",
        "no",
        "NaN",
        "inf",
        "12",
        "99999",
    ]
)


@given(st.lists(PIECES, min_size=1, max_size=8).map("".join))
@example("1e999")
@example("1e-400")
@example("-0.000e-999")
@example("1e-31")
@example("0x")
@example("0o8")
@example("-0x1")
@example("+.5e-3")
@example(".")
@example("1.e3")
@example("-.INF")
@example("+.nan")
@example("12345678901234567890")
def test_a_plain_scalar_is_what_the_core_schema_says(text):
    assume(text not in {"-", "---"} and not text.startswith("--- "))
    data, flaws = parse(f"key: {text}\n")
    value = expected(text)
    if value is REFUSED:
        assert [(flaw.rule.id, flaw.line, flaw.column) for flaw in flaws] == [("number-finite", 1, 6)]
    else:
        assert flaws == []
        assert same(data["key"], value)


@pytest.mark.parametrize("quote", ["'", '"'])
@given(text=st.lists(PIECES, max_size=5).map("".join))
def test_a_quoted_scalar_is_text(quote, text):
    assert parse(f"key: {quote}{text}{quote}\n") == ({"key": text}, [])


@pytest.mark.parametrize("style", ["|-", ">-"])
def test_a_block_scalar_is_text(style):
    assert parse(f"key: {style}\n  12\n") == ({"key": "12"}, [])


@pytest.mark.parametrize(
    ("written", "value"),
    [
        ("1e3", 1000.0),  # text in YAML 1.1
        ("12:30", "12:30"),  # 750 in YAML 1.1
        ("010", 10),  # 8 in YAML 1.1
        ("no", "no"),  # false in YAML 1.1
        ("2026-09-14", "2026-09-14"),  # a date in YAML 1.1
        ("0x10", 16),
        ("0o17", 15),
        (".5", 0.5),
        ("1.", 1.0),
        ("+1", 1),
        ("-0.0", 0.0),
        ("1_000", "1_000"),  # 1000 in YAML 1.1
        ("1,5", "1,5"),
        ("Infinity", "Infinity"),
        ("NaN", "NaN"),
        ("yes", "yes"),
        ("0b1", "0b1"),
        ("=", "="),
        ("", None),
    ],
)
def test_scalars_that_the_versions_of_yaml_read_differently(written, value):
    data, flaws = parse(f"key: {written}\n")
    assert flaws == []
    assert same(data["key"], value)


def test_the_reader_differs_from_the_library_where_yaml_1_2_does():
    # PyYAML follows YAML 1.1: the same lines, read by its own resolver, show that the difference is real
    of_library = yaml.safe_load("{a: 12:30, b: no, c: 010}")
    assert of_library == {"a": 750, "b": False, "c": 8}


def test_minus_zero_keeps_its_sign():
    assert math.copysign(1.0, parse("key: -0.0\n")[0]["key"]) == -1.0


@pytest.mark.parametrize(
    "written", [".inf", "-.INF", "+.Inf", ".nan", ".NaN", "1e999", "-1e400", "9" * 400, "0x" + "f" * 300]
)
def test_a_number_that_is_not_finite_is_refused(written):
    data, (flaw,) = parse(f"a: 1\nkey:   {written}\n")
    assert (flaw.rule.id, flaw.line, flaw.column) == ("number-finite", 2, 8)
    assert data == {"a": 1, "key": None}
    assert len(flaw.message) < 100


@pytest.mark.parametrize("written", ["1" * 401, "1" * 5000, "0." + "1" * 5000, "-" + "0" * 5000])
def test_a_number_of_thousands_of_digits_is_refused(written):
    (flaw,) = parse(f"key: {written}\n")[1]
    assert flaw.rule.id == "number-finite"
    assert str(len(written)) in flaw.message


def test_a_long_integer_keeps_the_precision_of_a_double():
    # 2**53 + 1 is the first whole number that a double cannot hold
    assert parse("key: 9007199254740993\n")[0]["key"] == 9007199254740992
    assert parse("key: 999999999999999\n")[0]["key"] == 999999999999999


def test_a_refused_number_is_not_also_called_a_wrong_type(tmp_path):
    text = as_yaml(files()[TEST]).replace('"hours": 48', '"hours": .nan')
    assert [rule for rule, _, _ in told(opened(tmp_path, {TEST: text}), TEST)] == ["number-finite"]
