"""One look for all charts: paints, shapes, sizes.

A chart names no colour of its own. It takes the page's text colour and the custom properties below, so that it follows
the page into the dark and onto paper; where a property is not set, the text colour stands in. Break types differ in
shape as well, so that a chart can be read in grey.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from notchbook.model.method import BreakRole

WIDTH_PX = 340.0
"""Width of every chart's own coordinates: about a phone's text column, so that the text keeps its size there."""
MAX_WIDTH = "30em"
"""A chart grows with its column up to this width; beyond it the text would be larger than the page's."""
FONT_PX = 11.0
LINE_PX = 16.0
"""Height of a line of text."""
MARK_STROKE_PX = 1.4
MEAN_WIDTH_PX = 1.6
EDGE_WIDTH_PX = 0.9
GRID_WIDTH_PX = 0.8
GRID_OPACITY = 0.22
BAND_OPACITY = 0.2


class Paint(Enum):
    """What a line or an area is painted with, as CSS."""

    INK = "currentColor"
    COMPLETE = "var(--nb-complete,currentColor)"
    HINGE = "var(--nb-hinge,currentColor)"
    PARTIAL = "var(--nb-partial,currentColor)"
    NONE = "var(--nb-none,currentColor)"
    BAND = "var(--nb-band,currentColor)"

    def rgba(self, opacity: float = 1.0) -> tuple[float, float, float, float]:
        """A stand-in that can be drawn with; `paint_of` knows it again."""
        return 0.0, 0.0, _PAINTS.index(self) / 255.0, opacity


_PAINTS = tuple(Paint)


def paint_of(rgba: tuple[float, ...]) -> Paint:
    """The paint that a colour stands in for.

    Raises:
        IndexError: The colour stands for none.
    """
    return _PAINTS[round(sum(rgba[:3]) * 255.0)]


@dataclass(frozen=True, slots=True)
class Look:
    """How the marks of a break type look."""

    marker: str | tuple[int, Literal[0, 1, 2], int]
    """Marker in matplotlib's notation."""
    size_px: float
    paint: Paint


LOOKS: dict[BreakRole, tuple[Look, ...]] = {
    "complete": (Look("o", 8.0, Paint.COMPLETE),),
    "hinge": (Look("D", 6.8, Paint.HINGE), Look("d", 9.0, Paint.HINGE), Look("H", 8.6, Paint.HINGE)),
    "partial": tuple(Look(marker, 9.0, Paint.PARTIAL) for marker in "^<>*p"),
    "none": (Look("s", 7.2, Paint.NONE), Look("X", 8.6, Paint.NONE), Look("P", 8.6, Paint.NONE)),
}
"""Looks of break types by their role, one for each type of a role as far as there are."""
UNKNOWN = Look("v", 9.0, Paint.INK)
"""A break type that the method does not have."""
PLAIN = Look("o", 8.0, Paint.INK)
"""A mark that stands for any break type."""
STROKE_OUT = Look((2, 2, -45), 15.0, Paint.INK)
"""A slanting stroke through the mark of an excluded specimen."""
