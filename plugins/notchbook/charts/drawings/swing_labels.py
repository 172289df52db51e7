"""The labels of a swing: heights beside it, angles and the warning in it, none on another or on a line."""

import math
from collections.abc import Callable, Sequence
from functools import partial

from notchbook.charts import style
from notchbook.charts.drawings.board import RAISE_PX, Board
from notchbook.charts.drawings.dimensions import GAP_PX, angle_arc, arc_ends_deg, dimension_line, extension, leader
from notchbook.charts.drawings.geometry import DOWN, UP, Box, arc_segments, polar
from notchbook.charts.drawings.swing import HammerSize, PendulumDrawing, Swing
from notchbook.charts.outlines import Point
from notchbook.charts.style import Paint
from notchbook.charts.words import estimated_width_px

_BESIDE_PX = 6.0
"""From the swing circle to a dimension line."""
_HEIGHT_GAP_PX = 6.0
_OUTSIDE_PX = 8.0
_SIGHT_PX = 3.0
"""Between a leader and the labels that it passes."""
_SHARES = (0.5, 0.35, 0.65, 0.2, 0.8)
"""Places along an angle arc at which it may be labelled."""
_RIM_DEG = (-45.0, 45.0, -25.0, 25.0, -65.0, 65.0)
"""Places along the swing circle, from straight above, at which it may be labelled from outside."""
_NARROW_DEG = 30.0


def draw_heights(board: Board, swing: Swing, size: HammerSize, drawing: PendulumDrawing) -> None:
    """The height of release on the left, that of the rise on the right if there is one: after a break, else free."""
    rise = drawing.free_rise_deg if drawing.break_rise_deg is None else drawing.break_rise_deg
    sides = [("release-height", drawing.release_angle_deg, -1.0)]
    if rise:
        sides.append(("rise-height", rise, 1.0))
    lowest = swing.strike_at(0.0)
    away = (size.half_width + size.below) * swing.px_per_mm
    for name, angle, side in sides:
        x = swing.centre[0] + side * (swing.outer + _BESIDE_PX)
        level = swing.strike_at(-side * angle)
        extension(board, (lowest[0] + side * away, lowest[1]), (x, lowest[1]))
        extension(board, (level[0] + side * away, level[1]), (x, level[1]))
        dimension_line(board, (x, lowest[1]), (x, level[1]), name=name)
        text = f"h {drawing.height_text(angle)} mm"
        _label_height(board, text, x, (level[1], lowest[1]), side)


def _label_height(board: Board, text: str, x: float, ends: tuple[float, float], side: float) -> None:
    """Level beside the dimension line where there is room, else along it, above a short one."""
    top, bottom = ends
    width, middle = estimated_width_px(text, style.FONT_PX), (top + bottom) / 2.0
    room = x if side < 0.0 else style.WIDTH_PX - x
    if width + _HEIGHT_GAP_PX < room:
        board.text((x + side * _HEIGHT_GAP_PX, middle + RAISE_PX), text, anchor="end" if side < 0.0 else "start")
        return
    fits = bottom - top > width + 12.0
    beside = x - RAISE_PX if side < 0.0 else x + style.FONT_PX
    board.text((beside, middle if fits else top - 14.0), text, anchor="middle" if fits else "start", upwards=True)


def draw_angles(board: Board, swing: Swing, drawing: PendulumDrawing) -> None:
    """Labels where there is room for them, then the arcs, which the labels may cut."""
    arcs = [("alpha", f"α {drawing.release_angle_deg:.4g}°", drawing.release_angle_deg, 0.6)]
    if drawing.break_rise_deg is not None:
        arcs.append(("beta", f"β {drawing.break_rise_deg:.4g}°", -drawing.break_rise_deg, 0.42))
    if drawing.free_rise_deg is not None:
        arcs.append(("beta-free", f"β₁ {drawing.free_rise_deg:.4g}°", -drawing.free_rise_deg, 0.76))
    for _, _, angle, share in arcs:
        for start, end in arc_ends_deg(share * swing.radius, DOWN, DOWN + angle):
            board.lines += arc_segments(swing.centre, share * swing.radius, start, end)
    for _, text, angle, share in arcs:
        # first beside an angle that is too narrow to hold its label
        wide = abs(angle) > _NARROW_DEG
        shares = _SHARES if wide else (1.0 + _NARROW_DEG / max(abs(angle), 1.0), *_SHARES)
        anchors = [polar(swing.centre, share * swing.radius, DOWN + each * angle) for each in shares]
        side = math.copysign(1.0, -angle)
        _draw_label(board, swing, text, Paint.INK, anchors, anchors[-len(_SHARES) :], side)
    above = polar(swing.centre, 0.55 * swing.radius, UP)
    rim = [polar(swing.centre, swing.outer, UP + turn) for turn in _RIM_DEG]
    _draw_label(board, swing, "keep clear", Paint.WARN, [above], rim, 0.0)
    for name, _, angle, share in arcs:
        if angle:
            angle_arc(board, swing.centre, share * swing.radius, DOWN, DOWN + angle, name=name)


def _draw_label(
    board: Board,
    swing: Swing,
    text: str,
    paint: Paint,
    anchors: Sequence[Point],
    tips: Sequence[Point],
    side: float,
) -> None:
    """A label inside the swing circle, or else outside with a leader, if one can be drawn past the other labels.

    Args:
        board: Where it is drawn.
        swing: The swing.
        text: The label.
        paint: Its colour.
        anchors: Places near which it may stand inside, the best first.
        tips: Where a leader from outside may end, the best first.
        side: Above 0 for a label that must stay right of the rest position, below 0 for left, 0 for either.
    """
    centre = swing.centre

    def fits(box: Box) -> bool:
        if side and min(side * (box.left - centre[0]), side * (box.right - centre[0])) < 0.0:
            return False
        return all(math.dist(centre, corner) < swing.outer for corner in box.corners)

    def beside(box: Box) -> bool:
        away = math.dist(centre, box.nearest(centre)) > swing.outer + _OUTSIDE_PX
        return away and box.bottom < centre[1] + swing.outer

    def within_sight(tip: Point, box: Box) -> bool:
        view = tip, box.nearest(tip)
        return beside(box) and not any(label.grown(_SIGHT_PX).crossed_by(view) for label in board.labels)

    places: list[tuple[Point, Callable[[Box], bool], bool]] = [
        *((anchor, fits, False) for anchor in anchors),
        *((tip, partial(within_sight, tip), True) for tip in tips),
        (tips[0], beside, False),
    ]
    for near, within, is_led in places:
        box = board.room_for(text, near, within)
        if box is not None:
            board.text_in(box, text, paint)
            if is_led:
                leader(board, near, box.grown(GAP_PX).nearest(near))
            return
