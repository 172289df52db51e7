"""How values and foreign text are set on a page."""

from __future__ import annotations

import math
import re
from typing import TYPE_CHECKING

from markupsafe import Markup, escape

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Sequence

# What HTML cannot hold, code points that are no characters, and what turns the direction of the text around it.
_NO_CHARACTERS = "".join(f"{chr(plane + 0xFFFE)}{chr(plane + 0xFFFF)}" for plane in range(0, 0x110000, 0x10000))
_UNSHOWABLE = re.compile(
    f"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069\ufdd0-\ufdef{_NO_CHARACTERS}]"
)
_SPACE = re.compile(r"\s+")
_MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip


def shown(value: str) -> Markup:
    """Foreign text as text and nothing else; markup of our own as it is."""
    return escape(value if isinstance(value, Markup) else one_line(value))


def finalized(value: object) -> object:
    """A value of a template before it is escaped: foreign text on one line; markup of our own and numbers as they are.

    Every value passes here, so that it asks for the type alone.
    """
    return one_line(value) if type(value) is str else value


def one_line(value: str) -> str:
    """Foreign text with its spaces as single ones and a mark for what cannot be shown; not yet escaped."""
    if value.isprintable() and "  " not in value:
        return value
    return _SPACE.sub(" ", _UNSHOWABLE.sub("\N{REPLACEMENT CHARACTER}", value))


def number(value: float | None, decimals: int) -> str:
    """A number to so many decimals, with a real minus; a dash where there is none."""
    if value is None or not math.isfinite(value):
        return "–"
    return f"{value:z.{decimals}f}".replace("-", "−")


def significant(value: float | None, figures: int) -> str:
    """A number to so many significant figures, trailing zeros kept, never in exponent form."""
    if value is None or not math.isfinite(value):
        return "–"
    if value == 0:
        return number(0.0, figures - 1)
    rounded = float(f"{value:.{figures}g}")
    decimals = figures - 1 - math.floor(math.log10(abs(rounded)))
    return number(rounded, max(decimals, 0))


def plain(value: float | None) -> str:
    """A number as it was written in a file."""
    return "–" if value is None else f"{value:.10g}".replace("-", "−")


def alike(values: Sequence[float]) -> list[str]:
    """Numbers as they were written in a file, all with as many decimals as the one that has most."""
    written = [plain(each) for each in values]
    decimals = max((len(each.partition(".")[2]) for each in written), default=0)
    return [number(each, decimals) for each in values]


def day(date: dt.date) -> str:
    """A date in words, such as 6 October 2026."""
    return f"{date.day} {_MONTHS[date.month - 1]} {date.year}"


def symbol(value: str) -> Markup:
    """A symbol with its index lowered: `a_cN`."""
    stem, _, index = (shown(part) for part in value.partition("_"))
    return Markup("<i>{}</i><sub>{}</sub>").format(stem, index) if index else Markup("<i>{}</i>").format(stem)


def counted(count: int, one: str, many: str = "") -> str:
    """A count with its noun: `1 bar`, `10 bars`."""
    return f"{count} {one if count == 1 else many or one + 's'}"
