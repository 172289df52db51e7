"""Text and numbers as they stand in a chart."""

from __future__ import annotations

import functools
import math
import re
import unicodedata
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable

_BREAKS_A_LINE = re.compile("[\t\n\r\x85\u2028\u2029]+")
# What XML 1.0 does not allow or an HTML parser objects to, and the marks that turn the direction of all that follows.
_UNFIT = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069\ud800-\udfff\ufdd0-\ufdef\ufffe\uffff]"
)
_REPLACEMENT = "\ufffd"
_NARROW = frozenset(" !'()*,.:;I[]`fijlrt|·")
_WIDE = frozenset("%@GMOQWmw&—±×≥≤\ufffd")
# Plain fixed notation is used between these.
_SMALLEST_FIXED = 1e-4
_LARGEST_FIXED = 1e6
_NOT_IN_ID = re.compile("[^A-Za-z0-9-]")


def printable(text: str) -> str:
    """The text on one line, with U+FFFD for every character that may not stand in a page or would disturb it."""
    return _UNFIT.sub(_REPLACEMENT, _BREAKS_A_LINE.sub(" ", text)).strip()


def identifier(text: str) -> str:
    """The text as the start of an XML id; different texts give different ids."""
    plain = _NOT_IN_ID.sub(lambda found: f"_{ord(found[0]):x}_", text)
    return plain if plain[:1].isalpha() else f"c_{plain}"


def number(value: float, significant_figures: int) -> str:
    """A number to that many significant figures, trailing zeros kept, with a real minus."""
    scientific = f"{value:.{significant_figures - 1}e}"
    mantissa, exponent = scientific.split("e")
    if value and not _SMALLEST_FIXED <= abs(float(scientific)) < _LARGEST_FIXED:
        return minus(f"{mantissa} × 10^{int(exponent)}")
    places = significant_figures - 1 - int(exponent)
    return minus(f"{float(scientific):.{max(places, 0)}f}")


def minus(text: str) -> str:
    """The text with real minus signs in place of hyphens."""
    return text.replace("-", "−")


def listed(words: Iterable[str]) -> str:
    """The words as a list in a sentence: `a`, `a and b`, `a, b and c`."""
    *most, last = words
    return f"{', '.join(most)} and {last}" if most else last


def counted(count: int, noun: str) -> str:
    """A count with its noun in the right number."""
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"


@functools.lru_cache(maxsize=4096)
def estimated_width_px(text: str, font_size_px: float) -> float:
    """About how wide the text runs in a common sans-serif typeface; the page chooses the real one."""
    return font_size_px * math.fsum(map(_width_em, text))


def _width_em(character: str) -> float:
    if unicodedata.combining(character):
        return 0.0
    if unicodedata.east_asian_width(character) in "WF":
        return 1.0
    if character in _NARROW:
        return 0.33
    return 0.86 if character in _WIDE else 0.59


def shortened(text: str, width_px: float, font_size_px: float, *, keep_end: bool = False) -> str:
    """The text, cut at its end or else at its start with an ellipsis where it would run wider than that."""
    if estimated_width_px(text, font_size_px) <= width_px:
        return text
    kept, room = "", width_px - font_size_px
    for character in reversed(text) if keep_end else text:
        room -= font_size_px * _width_em(character)
        if room < 0:
            break
        kept += character
    return f"…{kept[::-1].lstrip()}" if keep_end else f"{kept.rstrip()}…"
