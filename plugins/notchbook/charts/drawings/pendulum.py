"""The pendulum to scale: released, at rest, and where it rises to."""

import math
from functools import lru_cache

from notchbook.charts import style
from notchbook.charts.drawings.board import BOUNDARY, CENTRE_LINE, KEEP_CLEAR, OUTLINE, RAISE_PX, THIN, Board, Fill, Pen
from notchbook.charts.drawings.dimensions import cut_arc, heads
from notchbook.charts.drawings.geometry import DOWN, polar, polyline
from notchbook.charts.drawings.swing import (
    AT_REST,
    RELEASED,
    RISEN_AFTER_BREAK,
    RISEN_FREELY,
    HammerSize,
    PendulumDrawing,
    Swing,
    draw_axis_and_bar,
    draw_position,
)
from notchbook.charts.drawings.swing_labels import draw_angles, draw_heights

LONGEST_MM = 500.0
"""Striking lengths up to here are all drawn to the same scale; a longer one fills the drawing."""
_LONGEST_PX = 140.0
_CENTRE_PX = style.WIDTH_PX / 2.0
_TOP_PX = 3.0
_CLEARANCE_MM = 10.0
_SCALE_BAR_MM = 100.0
_SAMPLE_PX = 22.0


@lru_cache(maxsize=64)  # a preview draws the same pendulums again
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
    # a head on the way of the centre of strike, between release and bar
    release_deg = DOWN + drawing.release_angle_deg
    halfway_deg = DOWN + drawing.release_angle_deg / 2.0
    heads(board, (polar(swing.centre, swing.radius, halfway_deg), halfway_deg - 90.0))
    draw_heights(board, swing, size, drawing)
    draw_angles(board, swing, drawing)
    rises = [each for each in (drawing.free_rise_deg, drawing.break_rise_deg) if each is not None]
    # the way itself up to the highest rise, drawn last: it has a gap at each label on it
    rise_deg = DOWN - max(rises, default=drawing.release_angle_deg)
    cut_arc(board, swing.centre, swing.radius, release_deg, rise_deg, CENTRE_LINE, name="way")
    bottom = _draw_scale_bar(board, swing)
    bottom = _draw_key(board, drawing, bottom + 8.0)
    return board.svg(bottom, drawing.title, _description(drawing))


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
    return f"{symbol} {angle_deg:.4g}°, {drawing.height_text(angle_deg)} mm above the bar"


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
