"""Plain scalars by the core schema of YAML 1.2.2 (10.3.2): dates, times and words stay text, numbers are finite."""

import functools
import math
import re
from typing import Any

_LONGEST_NUMBER = 400
SMALLEST_NUMBER = 1e-30
"""In no unit of the data files is anything smaller; the square of a smaller number may vanish and be divided by."""
_LONGEST_USUAL = 20
_LONGEST_EXACT = 15
"""Digits of an integer that a float keeps."""
# Of a strength or an energy, double precision knows no more.
_MOST_DECIMAL_PLACES = 15

_WORDS: dict[str, bool | None] = {
    "": None, "~": None, "null": None, "Null": None, "NULL": None,
    "true": True, "True": True, "TRUE": True, "false": False, "False": False, "FALSE": False,
}  # fmt: skip
_NUMBER_START = frozenset("+-.0123456789")
_INTEGER = re.compile(r"[-+]?[0-9]+\Z")
_BASED = re.compile(r"0o[0-7]+\Z|0x[0-9a-fA-F]+\Z")
_FLOAT = re.compile(r"[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?\Z")
_NOT_ZERO = re.compile(r"[-+]?[0.]*[1-9]")
_NOT_FINITE = re.compile(r"[-+]?\.(?:inf|Inf|INF)\Z|\.(?:nan|NaN|NAN)\Z")


class WrittenNumbers(dict[str, Any]):
    """A mapping that remembers how its numbers were written, because `4.10` says more than `4.1`.

    Its values are plain all the same: what checks them in compiled code knows no others.
    """

    __slots__ = ("written",)

    def __init__(self, values: dict[str, Any], written: dict[str, str]) -> None:
        super().__init__(values)
        self.written = written
        """By key; only of numbers that Python would write otherwise."""


class NumberError(ValueError):
    """A number that cannot be computed with."""


def plain_value(text: str) -> str | float | bool | None:
    """The value of a plain scalar; raises NumberError for a number that is not finite or of no usable length."""
    if text[:1] not in _NUMBER_START:
        return _WORDS.get(text, text)
    return _usual_number(text) if len(text) <= _LONGEST_USUAL else _number(text)


def _number(text: str) -> str | float:
    if len(text) > _LONGEST_NUMBER and (_INTEGER.match(text) or _FLOAT.match(text)):
        raise NumberError(f"the number has {len(text)} characters, more than {_LONGEST_NUMBER}")
    if _INTEGER.match(text):
        # An integer beyond a float's range would stop every formula it enters.
        return int(text) if len(text) <= _LONGEST_EXACT else _finite(float(text), text)
    if _FLOAT.match(text):
        return _finite(float(text), text)
    if _BASED.match(text):
        return _finite(float(int(text, 0)) if len(text) < _LONGEST_NUMBER // 2 else math.inf, text)
    if _NOT_FINITE.match(text):
        return _finite(math.inf, text)
    return text


# The dimensions and readings of bars are the same few thousand over and over.
_usual_number = functools.lru_cache(maxsize=10_000)(_number)


@functools.lru_cache(maxsize=10_000)
def is_written_otherwise(text: str) -> bool:
    """Whether Python would write the number of a plain scalar otherwise."""
    return repr(plain_value(text)) != text


def _finite(number: float, text: str) -> float:
    if not math.isfinite(number):
        raise NumberError(f"'{text[:40]}' is not a finite number")
    if abs(number) < SMALLEST_NUMBER and _NOT_ZERO.match(text):
        raise NumberError(f"'{text[:40]}' is smaller than anything that can be measured")
    return number


def decimal_places(values: dict[str, Any], key: str) -> int:
    """How many decimal places a number of a mapping was written with; an exponent shifts them."""
    number = values[key]
    text = values.written.get(key) if isinstance(values, WrittenNumbers) else None
    if text is None:
        text = repr(number)
    if not _FLOAT.match(text):
        return 0
    mantissa, _, exponent = text.lower().partition("e")
    _, _, decimals = mantissa.partition(".")
    return max(-_MOST_DECIMAL_PLACES, min(len(decimals) - int(exponent or 0), _MOST_DECIMAL_PLACES))
