"""The striking edge on its way to the bar."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from notchbook.charts.drawings.board import DASHED, OUTLINE, STEEL
from notchbook.charts.drawings.dimensions import angle_arc, break_line, extension
from notchbook.charts.drawings.geometry import Trace, polar, polyline
from notchbook.charts.drawings.nose import Nose

if TYPE_CHECKING:
    from notchbook.charts.drawings.board import Board
    from notchbook.charts.drawings.geometry import Point
    from notchbook.charts.drawings.values import EdgeShape

UNSTATED_DEG = 60.0
"""Angle between the flanks, then dashed, where none is stated."""
GAP_PX = 7.0
"""From the edge to the bar that it is about to strike."""
ARC_BACK_PX = 13.0
"""From the back of the edge to the arc between its flanks."""


def striker_nose(
    edge: EdgeShape, tip: Point, towards_deg: float, px_per_mm: float, longest_px: float, widest_half_px: float
) -> Nose:
    """The profile of a striking edge, as long as it may be before it gets too wide; its whole radius at least."""
    included = UNSTATED_DEG if edge.angle is None else edge.angle.value
    radius, half = edge.radius.value * px_per_mm, math.radians(included) / 2.0
    round_part, spare = radius * (1.0 - math.sin(half)), widest_half_px - radius * math.cos(half)
    straight = longest_px if half == 0.0 else max(0.0, spare) / math.tan(half)
    return Nose(tip, towards_deg, radius, included, max(round_part + 2.0, min(longest_px, round_part + straight)))


def draw_striker(board: Board, edge: EdgeShape, nose: Nose) -> None:
    """The edge, cut off at its back, and the arc between its flanks; flanks of no stated angle are dashed."""
    first, second = nose.ends
    start, end = nose.towards_deg - nose.arc_deg, nose.towards_deg + nose.arc_deg
    board.path(nose.profile().close(), None, STEEL)
    if edge.angle is None:
        tangents = polar(nose.centre, nose.radius, start), polar(nose.centre, nose.radius, end)
        board.path(Trace().move(tangents[0]).arc(nose.centre, nose.radius, start, end), OUTLINE, name="striking-edge")
        board.path(polyline(first, tangents[0]), DASHED)
        board.path(polyline(second, tangents[1]), DASHED)
    else:
        board.path(nose.profile(), OUTLINE, name="striking-edge")
    break_line(board, first, second)
    if edge.angle is not None and edge.angle.value > 0.0:
        radius = nose.reach + math.dist(nose.apex, nose.tip) + ARC_BACK_PX
        directions = nose.flank_direction_deg()
        for flank, direction in zip(nose.ends, directions, strict=True):
            extension(board, flank, polar(nose.apex, radius, direction))
        angle_arc(board, nose.apex, radius, directions[1], directions[0], name="striking-edge-angle")
