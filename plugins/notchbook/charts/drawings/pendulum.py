"""The pendulum to scale: released, at rest, and where it rises to."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Self

from notchbook.charts import style
from notchbook.charts.drawings.board import BOUNDARY, KEEP_CLEAR, OUTLINE, RAISE_PX, THIN, WARN, Board
from notchbook.charts.drawings.dimensions import GAP_PX, angle_arc, arc_ends_deg, dimension_line, extension, leader
from notchbook.charts.drawings.geometry import DOWN, UP, arc_segments, polar, polyline
from notchbook.charts.drawings.swing import (
    AT_REST,
    RELEASED,
    RISEN_AFTER_BREAK,
    RISEN_FREELY,
    HammerSize,
    Swing,
    draw_axis_and_bar,
    draw_position,
    draw_sense,
    draw_way,
)
from notchbook.charts.drawings.values import positive
from notchbook.charts.style import Paint
from notchbook.charts.words import estimated_width_px

if TYPE_CHECKING:
    from collections.abc import Sequence

    from notchbook.charts.drawings.board import Fill, Pen
    from notchbook.charts.drawings.geometry import Box, Point
    from notchbook.evaluation.hammers import SwungHammer
    from notchbook.model.rig import Rig

LONGEST_MM = 500.0
"""Striking lengths up to here are all drawn to the same scale; a longer one fills the drawing."""
_LONGEST_PX = 140.0
_CENTRE_PX = style.WIDTH_PX / 2.0
_HALF_TURN_DEG = 180.0
_TOP_PX = 3.0
_CLEARANCE_MM = 10.0
_BESIDE_PX = 6.0
"""From the swing circle to a dimension line."""
_SCALE_BAR_MM = 100.0
_SAMPLE_PX = 22.0
_HEIGHT_GAP_PX = 6.0
_OUTSIDE_PX = 8.0
_SIGHT_PX = 3.0
"""Between a leader and the labels that it passes."""
_SHARES = (0.5, 0.35, 0.65, 0.2, 0.8)
"""Places along an angle arc at which it may be labelled."""
_RIM_DEG = (-45.0, 45.0, -25.0, 25.0, -65.0, 65.0)
"""Places along the swing circle, from straight above, at which it may be labelled from outside."""
_NARROW_DEG = 30.0
_TENTH_FROM = 100.0
"""Heights below this many millimetres are given to a tenth."""


@dataclass(frozen=True, slots=True)
class PendulumDrawing:
    """What a drawing of a pendulum shows."""

    id_prefix: str
    """Starts every id in the SVG; no other drawing on the page may have the same."""
    title: str
    striking_length_mm: float
    release_angle_deg: float
    """Alpha, above 0 and below 180."""
    free_rise_deg: float | None
    """Beta 1, angle of rise of a free swing; None where none was measured."""
    break_rise_deg: float | None
    """Beta, angle of rise after a typical break; None where none is known."""

    def __post_init__(self) -> None:
        positive(self.striking_length_mm, "a striking length")
        positive(self.release_angle_deg, "a release angle")
        for angle in (self.release_angle_deg, self.free_rise_deg, self.break_rise_deg):
            if angle is not None and not 0.0 <= angle < _HALF_TURN_DEG:
                raise ValueError(f"a pendulum's angle lies between 0 and 180 degrees, not at {angle:g}")

    @classmethod
    def of(
        cls,
        rig: Rig,
        hammer: SwungHammer,
        *,
        free_rise_deg: float | None,
        break_rise_deg: float | None,
        id_prefix: str,
        title: str,
    ) -> Self:
        """The drawing of one hammer of a rig.

        Raises:
            ValueError: The striking length is not above 0, or an angle does not lie between 0 and 180 degrees.
        """
        return cls(id_prefix, title, rig.striking_length_mm, hammer.release_angle_deg, free_rise_deg, break_rise_deg)

    def height_mm(self, angle_deg: float) -> float:
        """How far the centre of strike is above its lowest place: ``L (1 - cos angle)``."""
        return self.striking_length_mm * (1.0 - math.cos(math.radians(angle_deg)))


def pendulum_drawing(drawing: PendulumDrawing) -> str:
    """The pendulum from the side, as SVG: released on the left, risen on the right."""
    board = Board(drawing.id_prefix)
    scale = _LONGEST_PX / max(LONGEST_MM, drawing.striking_length_mm)
    size = HammerSize.of(drawing.striking_length_mm)
    reach = math.hypot(drawing.striking_length_mm + size.below, size.half_width)
    outer = (reach + _CLEARANCE_MM) * scale
    swing = Swing((_CENTRE_PX, _TOP_PX + outer), drawing.striking_length_mm * scale, outer, scale)
    board.view("pendulum", scale)
    board.circle(swing.centre, outer, BOUNDARY, KEEP_CLEAR, name="keep-clear")
    if drawing.free_rise_deg is not None:
        draw_position(board, swing, size, -drawing.free_rise_deg, RISEN_FREELY, "free-rise")
    if drawing.break_rise_deg is not None:
        draw_position(board, swing, size, -drawing.break_rise_deg, RISEN_AFTER_BREAK, "break-rise")
    draw_position(board, swing, size, 0.0, AT_REST, "rest")
    draw_position(board, swing, size, drawing.release_angle_deg, RELEASED, "release")
    draw_axis_and_bar(board, swing)
    draw_sense(board, swing, drawing.release_angle_deg)
    _draw_heights(board, swing, size, drawing)
    _draw_angles(board, swing, drawing)
    rises = [each for each in (drawing.free_rise_deg, drawing.break_rise_deg) if each is not None]
    draw_way(board, swing, drawing.release_angle_deg, max(rises, default=drawing.release_angle_deg))
    bottom = _draw_scale_bar(board, swing)
    bottom = _draw_key(board, drawing, bottom + 8.0)
    return board.svg(bottom, drawing.title, _description(drawing))


def _draw_heights(board: Board, swing: Swing, size: HammerSize, drawing: PendulumDrawing) -> None:
    """The height of release on the left, that of the rise on the right: after a break, else of a free swing."""
    rise = drawing.free_rise_deg if drawing.break_rise_deg is None else drawing.break_rise_deg
    sides = [("release-height", drawing.release_angle_deg, -1.0)]
    if rise is not None:
        sides.append(("rise-height", rise, 1.0))
    lowest = swing.strike_at(0.0)
    away = (size.half_width + size.below) * swing.px_per_mm
    for name, angle, side in sides:
        x = _CENTRE_PX + side * (swing.outer + _BESIDE_PX)
        level = swing.strike_at(-side * angle)
        extension(board, (lowest[0] + side * away, lowest[1]), (x, lowest[1]))
        extension(board, (level[0] + side * away, level[1]), (x, level[1]))
        dimension_line(board, (x, lowest[1]), (x, level[1]), name=name)
        text = f"h {_height(drawing.height_mm(angle))} mm"
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


def _draw_angles(board: Board, swing: Swing, drawing: PendulumDrawing) -> None:
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
    _draw_label(board, swing, "keep clear", WARN, [above], rim, 0.0)
    for name, _, angle, share in arcs:
        angle_arc(board, swing.centre, share * swing.radius, DOWN, DOWN + angle, name=name)


def _draw_label(
    board: Board,
    swing: Swing,
    text: str,
    paint: Paint | str,
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

    for anchor in anchors:
        box = board.room_for(text, anchor, fits)
        if box is not None:
            board.text_in(box, text, paint)
            return

    def beside(box: Box) -> bool:
        away = math.dist(centre, box.nearest(centre)) > swing.outer + _OUTSIDE_PX
        return away and box.bottom < centre[1] + swing.outer

    for tip in tips:

        def within_sight(box: Box, tip: Point = tip) -> bool:
            view = tip, box.nearest(tip)
            return beside(box) and not any(label.grown(_SIGHT_PX).crossed_by(view) for label in board.labels)

        box = board.room_for(text, tip, within_sight)
        if box is not None:
            board.text_in(box, text, paint)
            leader(board, tip, box.grown(GAP_PX).nearest(tip))
            return
    box = board.room_for(text, tips[0], beside)
    if box is not None:
        board.text_in(box, text, paint)


def _draw_scale_bar(board: Board, swing: Swing) -> float:
    """A length to compare with, below the swing; returns where it ends."""
    y = swing.centre[1] + swing.outer + 10.0
    right = _SCALE_BAR_MM * swing.px_per_mm
    for x in (0.5, right + 0.5):
        board.path(polyline((x, y - 3.0), (x, y + 3.0)), THIN)
    board.path(polyline((0.5, y), (right + 0.5, y)), OUTLINE, name="scale-bar")
    board.text((right + 7.0, y + RAISE_PX), f"{_SCALE_BAR_MM:g} mm")
    return y + RAISE_PX


def _draw_key(board: Board, drawing: PendulumDrawing, top: float) -> float:
    """What each line means; returns where it ends."""
    entries: list[tuple[Pen, Fill | None, str]] = [
        (RELEASED.rod, RELEASED.fill, f"released: {_position(drawing, 'α', drawing.release_angle_deg)}"),
        (AT_REST.rod, None, "hanging at rest, striking edge at the bar"),
    ]
    for symbol, angle, look, words in (
        ("β", drawing.break_rise_deg, RISEN_AFTER_BREAK, "after a break"),
        ("β₁", drawing.free_rise_deg, RISEN_FREELY, "free swing"),
    ):
        if angle is not None:
            entries.append((look.rod, None, f"{words}: {_position(drawing, symbol, angle)}"))
    entries.append((BOUNDARY, KEEP_CLEAR, "keep clear from arming until it hangs still"))
    base = top
    for pen, fill, text in entries:
        base += style.LINE_PX
        middle = base - RAISE_PX
        corners = ((0.5, middle - 4.0), (_SAMPLE_PX, middle - 4.0), (_SAMPLE_PX, middle + 4.0), (0.5, middle + 4.0))
        if fill is None:
            board.path(polyline((0.5, middle), (_SAMPLE_PX, middle)), pen)
        else:
            board.path(polyline(*corners, closed=True), pen, fill)
        board.text((_SAMPLE_PX + 7.0, base), text)
    base += style.LINE_PX
    board.text((0.0, base), f"Striking length L {drawing.striking_length_mm:g} mm; rod and hammer simplified")
    return base + 5.0


def _position(drawing: PendulumDrawing, symbol: str, angle_deg: float) -> str:
    return f"{symbol} {angle_deg:.4g}°, {_height(drawing.height_mm(angle_deg))} mm above the bar"


def _height(height_mm: float) -> str:
    return f"{height_mm:.1f}" if height_mm < _TENTH_FROM else f"{height_mm:.0f}"


def _description(drawing: PendulumDrawing) -> str:
    sentences = [
        f"A pendulum seen from the side, drawn to scale, with a striking length of {drawing.striking_length_mm:g} mm.",
        f"It is released on the left at the angle {_position(drawing, 'alpha', drawing.release_angle_deg)}.",
        "At its lowest place the striking edge meets the bar.",
    ]
    if drawing.break_rise_deg is not None:
        sentences.append(
            f"After a typical break it rises on the right to {_position(drawing, 'beta', drawing.break_rise_deg)}."
        )
    if drawing.free_rise_deg is not None:
        sentences.append(f"A free swing without a bar rises to {_position(drawing, 'beta 1', drawing.free_rise_deg)}.")
    sentences.append("The whole circle of the swing is marked: keep clear.")
    return " ".join(sentences)
