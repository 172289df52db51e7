"""One look for all charts: paints, shapes, sizes.

A chart names no colour of its own. It takes the page's text colour and the custom properties below, so that it follows
the page into the dark and onto paper; where a property is not set, the text colour stands in. Break types differ in
shape as well, so that a chart can be read in grey.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from notchbook.charts.outlines import Shape

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

BREAK_WORDS = {"C": "complete", "H": "hinge", "P": "partial", "N": "none"}
"""The usual break types in words; a method may bring others."""


class Paint(Enum):
    """What a line or an area is painted with, as CSS."""

    INK = "currentColor"
    COMPLETE = "var(--nb-complete,currentColor)"
    HINGE = "var(--nb-hinge,currentColor)"
    PARTIAL = "var(--nb-partial,currentColor)"
    NONE = "var(--nb-none,currentColor)"
    BAND = "var(--nb-band,currentColor)"


@dataclass(frozen=True, slots=True)
class Look:
    """How the marks of a break type look."""

    shape: Shape
    size_px: float
    paint: Paint


_LOOKS = {
    "C": Look("disc", 8.0, Paint.COMPLETE),
    "H": Look("diamond", 6.8, Paint.HINGE),
    "P": Look("triangle", 9.0, Paint.PARTIAL),
    "N": Look("square", 7.2, Paint.NONE),
}
_OTHER = Look("triangle downwards", 9.0, Paint.INK)
PLAIN = Look("disc", 8.0, Paint.INK)
"""A mark that stands for any break type."""
STROKE_OUT = Look("stroke", 15.0, Paint.INK)
"""A slanting stroke through the mark of an excluded specimen."""


def look_of(break_type: str) -> Look:
    """The look of a break type by its letter; all but the usual four share one."""
    return _LOOKS.get(break_type, _OTHER)
