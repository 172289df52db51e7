"""Text as it stands in a chart."""

import functools
import math
import re
import unicodedata

_NARROW = frozenset(" !'()*,.:;I[]`fijlrt|·")
_WIDE = frozenset("%@GMOQWmw&—±×≥≤\ufffd")
_NOT_IN_ID = re.compile("[^A-Za-z0-9-]")


def identifier(text: str) -> str:
    """The text as the start of an XML id; different texts give different ids."""
    plain = _NOT_IN_ID.sub(lambda found: f"_{ord(found[0]):x}_", text)
    return plain if plain[:1].isalpha() else f"c_{plain}"


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
