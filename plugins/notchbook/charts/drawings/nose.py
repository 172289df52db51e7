"""Two flanks that meet in a radius: the profile of a notch as well as that of a striking edge."""

import math
from dataclasses import dataclass

from notchbook.charts.drawings.board import DASHED, OUTLINE, STEEL, Board
from notchbook.charts.drawings.dimensions import angle_arc, break_line, extension
from notchbook.charts.drawings.geometry import Trace, polar, polyline
from notchbook.charts.drawings.values import BarShape, EdgeShape, NotchShape
from notchbook.charts.outlines import Point

_QUARTER_TURN_DEG = 90.0


@dataclass(frozen=True, slots=True)
class Nose:
    """A rounded tip with straight flanks that touch the radius without a corner, in pixels."""

    tip: Point
    towards_deg: float
    """Direction in which it points."""
    radius: float
    included_deg: float
    """Angle between the flanks, below 180 degrees."""
    reach: float
    """How far back from its tip it is drawn."""

    @property
    def centre(self) -> Point:
        """Centre of the radius."""
        return polar(self.tip, -self.radius, self.towards_deg)

    @property
    def apex(self) -> Point:
        """Where the flanks would meet; they must not be parallel."""
        beyond = self.radius / math.sin(math.radians(self.included_deg) / 2.0) - self.radius
        return polar(self.tip, beyond, self.towards_deg)

    @property
    def arc_deg(self) -> float:
        """How far the radius reaches to each side of the tip; less where the whole profile is shallower than that."""
        whole = _QUARTER_TURN_DEG - self.included_deg / 2.0
        share = min(1.0, max(-1.0, (self.radius - self.reach) / self.radius))
        return min(whole, math.degrees(math.acos(share)))

    @property
    def half_opening(self) -> float:
        """Half the distance between the flanks' ends."""
        arc = math.radians(self.arc_deg)
        along = max(0.0, self.reach - self.radius * (1.0 - math.cos(arc)))
        return self.radius * math.sin(arc) + along * math.tan(math.radians(self.included_deg) / 2.0)

    @property
    def ends(self) -> tuple[Point, Point]:
        """Ends of the flanks: the anticlockwise one, seen from behind, and the clockwise one."""
        back = polar(self.tip, -self.reach, self.towards_deg)
        side = self.towards_deg + _QUARTER_TURN_DEG
        return polar(back, -self.half_opening, side), polar(back, self.half_opening, side)

    def onto(self, trace: Trace) -> Trace:
        """Lengthens a trace by the profile, from the first of its ends to the second."""
        first, second = self.ends
        start, end = self.towards_deg - self.arc_deg, self.towards_deg + self.arc_deg
        trace.line(first, polar(self.centre, self.radius, start))
        return trace.arc(self.centre, self.radius, start, end).line(second)

    def profile(self) -> Trace:
        """The profile alone, open at the back."""
        return self.onto(Trace().move(self.ends[0]))

    def flank_direction_deg(self) -> tuple[float, float]:
        """Directions from the apex along the two flanks, the first end's first."""
        backwards = self.towards_deg + 2.0 * _QUARTER_TURN_DEG
        return backwards + self.included_deg / 2.0, backwards - self.included_deg / 2.0


def notch_nose(notch: NotchShape, bar: BarShape, face: Point, inwards_deg: float, px_per_mm: float) -> Nose:
    """The profile of a notch, cut from a face of the bar into that direction.

    Raises:
        ValueError: As much width would remain as the bar has, or more.
    """
    depth = notch.depth_mm(bar) * px_per_mm
    tip = polar(face, depth, inwards_deg)
    return Nose(tip, inwards_deg, notch.base_radius.value * px_per_mm, notch.angle.value, depth)


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
        draw_flank_angle(board, nose, nose.reach + math.dist(nose.apex, nose.tip) + ARC_BACK_PX, "striking-edge-angle")


def draw_flank_angle(board: Board, nose: Nose, radius: float, name: str) -> None:
    """The flanks carried on to an arc of that radius between them."""
    directions = nose.flank_direction_deg()
    for end, direction in zip(nose.ends, directions, strict=True):
        extension(board, end, polar(nose.apex, radius, direction))
    angle_arc(board, nose.apex, radius, directions[1], directions[0], name=name)
