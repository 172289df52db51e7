"""Lines and outlines as the data of an SVG path, with no more digits than they need."""

import math
from collections.abc import Sequence
from typing import Literal

Point = tuple[float, float]
Shape = Literal[
    "disc", "diamond", "thin diamond", "hexagon", "triangle", "triangle downwards", "triangle to the left",
    "triangle to the right", "star", "pentagon", "square", "cross", "slanting cross", "stroke",
]  # fmt: skip
"""What a mark looks like; the stroke is a slanting line."""
_POSITION_DECIMALS = 1
_SHAPE_DECIMALS = 2
_DIAGONAL = math.sqrt(0.5)
_ARM = 0.36
"""Half the width of the arms of a cross."""
_STAR = 0.382
"""Where the arms of a five-pointed star meet: cos 72° / cos 36°."""


def _around(number: int, *radii: float) -> tuple[Point, ...]:
    """So many corners at even angles clockwise from the top, at these distances from the middle in turn."""
    turns = (2.0 * math.pi * each / number for each in range(number))
    return tuple(
        (radii[each % len(radii)] * math.sin(turn), -radii[each % len(radii)] * math.cos(turn))
        for each, turn in enumerate(turns)
    )


_CROSS = (
    (-_ARM, -1.0), (_ARM, -1.0), (_ARM, -_ARM), (1.0, -_ARM), (1.0, _ARM), (_ARM, _ARM),
    (_ARM, 1.0), (-_ARM, 1.0), (-_ARM, _ARM), (-1.0, _ARM), (-1.0, -_ARM), (-_ARM, -_ARM),
)  # fmt: skip
# Corners of the shapes of size 2, x to the right and y down.
_CORNERS: dict[Shape, tuple[Point, ...]] = {
    "diamond": ((0.0, 2 * _DIAGONAL), (2 * _DIAGONAL, 0.0), (0.0, -2 * _DIAGONAL), (-2 * _DIAGONAL, 0.0)),
    "thin diamond": ((0.0, 1.0), (0.6, 0.0), (0.0, -1.0), (-0.6, 0.0)),
    "hexagon": _around(6, 1.0),
    "triangle": ((0.0, -1.0), (-1.0, 1.0), (1.0, 1.0)),
    "triangle downwards": ((0.0, 1.0), (1.0, -1.0), (-1.0, -1.0)),
    "triangle to the left": ((-1.0, 0.0), (1.0, 1.0), (1.0, -1.0)),
    "triangle to the right": ((1.0, 0.0), (-1.0, -1.0), (-1.0, 1.0)),
    "star": _around(10, 1.0, _STAR),
    "pentagon": _around(5, 1.0),
    "square": ((-1.0, 1.0), (1.0, 1.0), (1.0, -1.0), (-1.0, -1.0)),
    "cross": _CROSS,
    "slanting cross": tuple((_DIAGONAL * (x - y), _DIAGONAL * (x + y)) for x, y in _CROSS),
    "stroke": ((_DIAGONAL, -_DIAGONAL), (-_DIAGONAL, _DIAGONAL)),
}


def outline(shape: Shape, size_px: float) -> str:
    """The outline of a mark around the origin.

    Arguments:
        shape: of the mark.
        size_px: its height; of the diamond, its side; of the stroke, its length.
    """
    half = size_px / 2.0
    if shape == "disc":
        radius = short(half, _SHAPE_DECIMALS)
        arc = f"A{radius} {radius} 0 1 1"
        return f"M0 {radius}{arc} 0 -{radius}{arc} 0 {radius}Z"
    corners = [(half * x, half * y) for x, y in _CORNERS[shape]]
    return polyline(corners, decimals=_SHAPE_DECIMALS) + ("" if shape == "stroke" else "Z")


def polyline(points: Sequence[Point], *, decimals: int = _POSITION_DECIMALS) -> str:
    """A line through points; one that does not leave the point before it at these digits is left out."""
    (first_x, first_y), *others = points
    x, y = short(first_x, decimals), short(first_y, decimals)
    parts = [f"M{x} {y}"]
    for other in others:
        next_x, next_y = short(other[0], decimals), short(other[1], decimals)
        if next_y == y and next_x != x:
            parts.append(f"H{next_x}")
        elif next_x == x and next_y != y:
            parts.append(f"V{next_y}")
        elif next_x != x:
            parts.append(f"L{next_x} {next_y}")
        x, y = next_x, next_y
    return "".join(parts)


def short(value: float, decimals: int = _POSITION_DECIMALS) -> str:
    """A number with no more digits than it needs."""
    text = f"{value:.{decimals}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text
