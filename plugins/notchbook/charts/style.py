"""One look for all charts: paints, shapes, sizes.

A chart names no colour of its own. It takes the page's text colour and the custom properties below, so that it follows
the page into the dark and onto paper; where a property is not set, the text colour stands in. Break types differ in
shape as well, so that a chart can be read in grey.
"""

from dataclasses import dataclass
from enum import Enum

from notchbook.charts.outlines import Shape
from notchbook.model.breaks import BreakRole

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
FIGURES = 3
"""Significant figures of strengths in a chart and its description."""


class Paint(Enum):
    """What a line or an area is painted with, as CSS."""

    INK = "currentColor"
    COMPLETE = "var(--nb-complete,currentColor)"
    HINGE = "var(--nb-hinge,currentColor)"
    PARTIAL = "var(--nb-partial,currentColor)"
    NONE = "var(--nb-none,currentColor)"
    BAND = "var(--nb-band,currentColor)"
    QUIET = "var(--nb-quiet,currentColor)"
    WARN = "var(--nb-warn,currentColor)"


@dataclass(frozen=True, slots=True)
class Look:
    """How the marks of a break type look."""

    shape: Shape
    size_px: float
    paint: Paint


_SHAPES: dict[BreakRole, tuple[Paint, dict[Shape, float]]] = {
    "complete": (Paint.COMPLETE, {"disc": 8.0}),
    "hinge": (Paint.HINGE, {"diamond": 6.8, "thin diamond": 11.0, "hexagon": 8.6}),
    "partial": (
        Paint.PARTIAL,
        {"triangle": 9.0, "triangle to the left": 9.0, "triangle to the right": 9.0, "star": 10.4, "pentagon": 9.0},
    ),
    "none": (Paint.NONE, {"square": 7.2, "slanting cross": 9.0, "cross": 9.0}),
}
LOOKS = {
    role: tuple(Look(shape, size_px, paint) for shape, size_px in shapes.items())
    for role, (paint, shapes) in _SHAPES.items()
}
"""Looks of break types by their role, one for each type of a role as far as there are."""
UNKNOWN = Look("triangle downwards", 9.0, Paint.INK)
"""A break type that the method does not have."""
PLAIN = Look("disc", 8.0, Paint.INK)
"""A mark that stands for any break type."""
STROKE_OUT = Look("stroke", 15.0, Paint.INK)
"""A slanting stroke through the mark of an excluded specimen."""
