"""Dimension lines, angle arcs and leaders, thin and with small arrowheads."""

import itertools
import math

from notchbook.charts.drawings.board import OUTLINE, SOLID, THIN, Board, Fill, Pen
from notchbook.charts.drawings.geometry import Trace, direction_deg, polar, polyline
from notchbook.charts.outlines import Point
from notchbook.charts.style import Paint

_HEAD_PX = 6.0
_HALF_HEAD_DEG = 15.0
_OUTSIDE_PX = 11.0
"""Length of each arrow of a dimension too short to hold both heads."""
_SHORTEST_PX = 16.0
GAP_PX = 2.0
"""Between an outline and the extension line that starts from it."""
_BEYOND_PX = 3.0
"""How far an extension line runs past the dimension line."""
_CUT_STEP_DEG = 2.0
_HEADS = Fill(Paint.QUIET, 1.0)
_BLOW_HEAD_PX = 10.0
_BLOW_HALF_HEAD_DEG = 20.0


def dimension_line(board: Board, start: Point, end: Point, *, name: str | None = None) -> None:
    """A line with a head at each end; heads that do not fit between the ends point at them from outside."""
    away, length = direction_deg(start, end), math.dist(start, end)
    if length >= _SHORTEST_PX:
        board.path(polyline(start, end), THIN, name=name)
        heads(board, (start, away + 180.0), (end, away))
        return
    trace = polyline(polar(start, -_OUTSIDE_PX, away), start, end, polar(end, _OUTSIDE_PX, away))
    board.path(trace, THIN, name=name)
    heads(board, (start, away), (end, away + 180.0))


def extension(board: Board, outline: Point, dimension: Point) -> None:
    """The line that carries an end of a dimension out to its dimension line."""
    away = direction_deg(outline, dimension)
    board.path(polyline(polar(outline, GAP_PX, away), polar(dimension, _BEYOND_PX, away)), THIN)


def angle_arc(
    board: Board, centre: Point, radius: float, from_deg: float, to_deg: float, *, name: str | None = None
) -> None:
    """An arc with a head at each end, from outside where they do not fit between; labels that lie on it cut it."""
    length = math.radians(abs(to_deg - from_deg)) * radius
    turn = math.copysign(1.0, to_deg - from_deg)
    beyond = 0.0 if length >= _SHORTEST_PX else math.degrees(_OUTSIDE_PX / radius) * turn
    start, end = from_deg - beyond, to_deg + beyond
    cut_arc(board, centre, radius, start, end, THIN, name=name)
    # A head lies along the chord that it covers, not along the tangent at its tip, so that it stays on the arc.
    lean = math.degrees(_HEAD_PX / radius) / 2.0
    outwards = 90.0 * turn if beyond == 0.0 else -90.0 * turn
    lean = math.copysign(lean, outwards)
    heads(
        board,
        (polar(centre, radius, from_deg), from_deg - outwards + lean),
        (polar(centre, radius, to_deg), to_deg + outwards - lean),
    )


def arc_ends_deg(radius: float, from_deg: float, to_deg: float) -> list[tuple[float, float]]:
    """The parts of an `angle_arc` that its heads take, as angles."""
    inside = math.radians(abs(to_deg - from_deg)) * radius >= _SHORTEST_PX
    length = math.copysign(math.degrees((_HEAD_PX if inside else _OUTSIDE_PX) / radius), to_deg - from_deg)
    turn = length if inside else -length
    return [(from_deg, from_deg + turn), (to_deg, to_deg - turn)]


def cut_arc(
    board: Board, centre: Point, radius: float, from_deg: float, to_deg: float, pen: Pen, *, name: str | None = None
) -> None:
    """An arc with a gap wherever a label lies."""
    trace = Trace()
    for first, last in _free_parts(board, centre, radius, from_deg, to_deg):
        trace.move(polar(centre, radius, first)).arc(centre, radius, first, last)
    board.path(trace, pen, name=name)


def leader(board: Board, tip: Point, *points: Point) -> None:
    """A line that ends with a head at what it names."""
    board.path(polyline(*reversed(points), tip), THIN)
    heads(board, (tip, direction_deg(points[0], tip)))


def break_line(board: Board, start: Point, end: Point) -> None:
    """A thin line with a zigzag in the middle, where a part goes on but is not drawn."""
    along, length = direction_deg(start, end), math.dist(start, end)
    middle = [
        polar(polar(start, length / 2.0 + offset, along), aside, along + 90.0)
        for offset, aside in ((-6.0, 0.0), (-2.0, -4.0), (2.0, 4.0), (6.0, 0.0))
    ]
    board.path(polyline(polar(start, -4.0, along), *middle, polar(end, 4.0, along)), THIN)


def blow_arrow(board: Board, start: Point, tip: Point) -> None:
    """A bold arrow in the direction of the blow."""
    along = direction_deg(start, tip)
    board.path(polyline(start, polar(tip, -_BLOW_HEAD_PX / 2.0, along)), OUTLINE, name="blow")
    board.path(_head(tip, along, _BLOW_HEAD_PX, _BLOW_HALF_HEAD_DEG), None, SOLID)


def _free_parts(
    board: Board, centre: Point, radius: float, from_deg: float, to_deg: float
) -> list[tuple[float, float]]:
    """The parts of an arc, as angles, that no label lies on."""
    steps = max(1, math.ceil(abs(to_deg - from_deg) / _CUT_STEP_DEG))
    angles = [from_deg + (to_deg - from_deg) * step / steps for step in range(steps + 1)]
    rooms = [each.grown(GAP_PX) for each in board.labels]
    parts: list[tuple[float, float]] = []
    for first, last in itertools.pairwise(angles):
        piece = polar(centre, radius, first), polar(centre, radius, last)
        if any(room.crossed_by(piece) for room in rooms):
            continue
        if parts and parts[-1][1] == first:
            parts[-1] = parts[-1][0], last
        else:
            parts.append((first, last))
    return parts


def heads(board: Board, *heads: tuple[Point, float]) -> None:
    """Filled heads, each with its tip and the direction in which it points, as one element."""
    shapes = [_head(tip, towards, _HEAD_PX, _HALF_HEAD_DEG) for tip, towards in heads]
    board.path(Trace("".join(each.data for each in shapes)), None, _HEADS)
    board.lines += [segment for each in shapes for segment in each.segments]


def _head(tip: Point, towards_deg: float, length: float, half_deg: float) -> Trace:
    side = length / math.cos(math.radians(half_deg))
    corners = (polar(tip, side, towards_deg + 180.0 + turn) for turn in (-half_deg, half_deg))
    return polyline(tip, *corners, closed=True)
