"""Points, lines and boxes on a drawing, in its own pixels: x to the right, y down, angles clockwise from the right."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass, field
from functools import partial
from typing import Self

from notchbook.charts.outlines import Point, short

Segment = tuple[Point, Point]

RIGHT, DOWN, LEFT, UP = 0.0, 90.0, 180.0, 270.0
_HALF_TURN_DEG = 180.0
_FLAT_STEP_DEG = 6.0
"""An arc is taken for a polyline with corners this far apart where it is kept clear of labels."""
coordinate = partial(short, decimals=2)
"""A coordinate to 0.01 px."""


def polar(centre: Point, radius: float, direction_deg: float) -> Point:
    """The point at that distance and direction from the centre."""
    angle = math.radians(direction_deg)
    return centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle)


def direction_deg(start: Point, end: Point) -> float:
    """Direction from one point to another."""
    return math.degrees(math.atan2(end[1] - start[1], end[0] - start[0]))


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle."""

    left: float
    top: float
    right: float
    bottom: float

    def grown(self, by_px: float) -> Box:
        """The box with a margin around it."""
        return Box(self.left - by_px, self.top - by_px, self.right + by_px, self.bottom + by_px)

    def moved(self, right: float, down: float) -> Box:
        """The box at another place."""
        return Box(self.left + right, self.top + down, self.right + right, self.bottom + down)

    def overlaps(self, other: Box) -> bool:
        """Whether the two share an area."""
        level = self.left < other.right and other.left < self.right
        return level and self.top < other.bottom and other.top < self.bottom

    @property
    def corners(self) -> tuple[Point, Point, Point, Point]:
        """The four corners, clockwise from the upper left."""
        return (self.left, self.top), (self.right, self.top), (self.right, self.bottom), (self.left, self.bottom)

    def nearest(self, point: Point) -> Point:
        """The point of the box that is nearest to a point outside it."""
        x, y = point
        return min(max(x, self.left), self.right), min(max(y, self.top), self.bottom)

    def crossed_by(self, segment: Segment) -> bool:
        """Whether any part of a segment lies inside, by cutting it at each edge in turn."""
        (x, y), (end_x, end_y) = segment
        # most segments of a drawing lie wholly on one side
        if (x <= self.left and end_x <= self.left) or (x >= self.right and end_x >= self.right):
            return False
        if (y <= self.top and end_y <= self.top) or (y >= self.bottom and end_y >= self.bottom):
            return False
        enters, leaves = 0.0, 1.0
        across, down = (x, end_x - x, self.left, self.right), (y, end_y - y, self.top, self.bottom)
        for position, change, low, high in (across, down):
            if change == 0.0:
                if not low < position < high:
                    return False
                continue
            first, last = sorted(((low - position) / change, (high - position) / change))
            enters, leaves = max(enters, first), min(leaves, last)
        return enters < leaves


@dataclass(slots=True)
class Trace:
    """A path of lines and arcs: as SVG data, and as the segments that it covers."""

    data: str = ""
    segments: list[Segment] = field(default_factory=list)
    _at: Point = (0.0, 0.0)
    _start: Point = (0.0, 0.0)

    def move(self, to: Point) -> Self:
        """Begins a stroke."""
        self.data += f"M{coordinate(to[0])} {coordinate(to[1])}"
        self._at = self._start = to
        return self

    def line(self, *points: Point) -> Self:
        """Straight on to each point."""
        for point in points:
            self.data += f"L{coordinate(point[0])} {coordinate(point[1])}"
            self.segments.append((self._at, point))
            self._at = point
        return self

    def arc(self, centre: Point, radius: float, from_deg: float, to_deg: float) -> Self:
        """An arc of less than a full turn, from where the stroke has come; clockwise where the angle grows."""
        end = polar(centre, radius, to_deg)
        large, clockwise = int(abs(to_deg - from_deg) > _HALF_TURN_DEG), int(to_deg > from_deg)
        size, (x, y) = coordinate(radius), map(coordinate, end)
        self.data += f"A{size} {size} 0 {large} {clockwise} {x} {y}"
        self.segments += arc_segments(centre, radius, from_deg, to_deg)
        self._at = end
        return self

    def close(self) -> Self:
        """Back to the beginning of the stroke."""
        self.data += "Z"
        self.segments.append((self._at, self._start))
        self._at = self._start
        return self


def arc_segments(centre: Point, radius: float, from_deg: float, to_deg: float) -> list[Segment]:
    """An arc as a polyline."""
    steps = max(1, math.ceil(abs(to_deg - from_deg) / _FLAT_STEP_DEG))
    turn = (to_deg - from_deg) / steps
    corners = [polar(centre, radius, from_deg + step * turn) for step in range(steps + 1)]
    return list(itertools.pairwise(corners))


def polyline(*points: Point, closed: bool = False) -> Trace:
    """Straight lines from point to point."""
    trace = Trace().move(points[0]).line(*points[1:])
    return trace.close() if closed else trace
