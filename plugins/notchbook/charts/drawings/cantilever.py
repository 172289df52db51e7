"""A bar upright in a clamp, seen from the side."""

from __future__ import annotations

from typing import TYPE_CHECKING

from notchbook.charts import style
from notchbook.charts.drawings.board import CENTRE_LINE, OUTLINE, RAISE_PX, SPECIMEN, STEEL, Board
from notchbook.charts.drawings.dimensions import blow_arrow, dimension_line, extension, leader
from notchbook.charts.drawings.geometry import RIGHT, UP, Trace, polar, polyline
from notchbook.charts.drawings.nose import notch_nose
from notchbook.charts.drawings.sentences import describe_cantilever
from notchbook.charts.drawings.striker import ARC_BACK_PX, GAP_PX, draw_striker, striker_nose

if TYPE_CHECKING:
    from notchbook.charts.drawings.nose import Nose
    from notchbook.charts.drawings.support_values import SupportDrawing
    from notchbook.charts.drawings.values import Cantilever, Dimension, EdgeShape

_FACE_PX = 176.0
"""The face of the bar that is struck."""
_HIGHEST_PX = 230.0
_ABOVE_STRIKE_MM = 8.0
_LONGEST_STRIKER_PX = 46.0
_HALF_STRIKER_PX = 20.0
_NARROWEST_STRIKER_PX = 8.0
_NOTCH_LABEL_PX = 32.0
"""Room for the name of the notch between the striking edge and the clamp."""
_CAPTION_PX = 22.0
_LABELS_PX = 38.0
"""Rows for the radius of the edge and for the arrow of the blow."""
_JAW_EDGE_PX = 16.0
"""From the edge of the drawing to a jaw."""
_BELOW_BAR_PX = 8.0
_HEIGHT_BESIDE_PX = 42.0
"""From the bar to the dimension line of the height of strike."""


def draw_cantilever(drawing: SupportDrawing, clamp: Cantilever) -> str:
    """The bar in its clamp, the notch level with the clamp's top on the side of the striking edge."""
    board = Board(drawing.id_prefix)
    bar, height = drawing.bar, clamp.strike_height.value
    half = bar.length.value / 2.0
    scale = _HIGHEST_PX / (half + max(half, height + _ABOVE_STRIKE_MM))
    depth = (bar.thickness if drawing.direction == "flatwise" else bar.width).value * scale
    room = min(_HALF_STRIKER_PX, height * scale - _NOTCH_LABEL_PX)
    nose = striker_nose(
        drawing.striking_edge, (0.0, 0.0), RIGHT, scale, _LONGEST_STRIKER_PX, max(room, _NARROWEST_STRIKER_PX)
    )
    strike = _CAPTION_PX + max(_LABELS_PX + nose.half_opening, (half - height) * scale)
    top = strike + height * scale
    board.view("elevation", scale)
    board.text((0.0, style.FONT_PX), "Seen from the side", bold=True)
    nose = striker_nose(
        drawing.striking_edge,
        (_FACE_PX - GAP_PX, strike),
        RIGHT,
        scale,
        _LONGEST_STRIKER_PX,
        max(room, _NARROWEST_STRIKER_PX),
    )
    _draw_striker(board, drawing.striking_edge, nose)
    _draw_bar(board, drawing, scale, top, depth)
    bottom = top + half * scale + _BELOW_BAR_PX
    _draw_jaws(board, clamp.jaw_edge_radius, scale, (top, bottom), depth)
    _draw_height(board, clamp, (strike, top), _FACE_PX + depth)
    bottom += style.LINE_PX
    board.text((0.0, bottom), f"Bar struck {drawing.direction}. Dimensions in mm")
    return board.svg(bottom + 5.0, drawing.title, describe_cantilever(drawing, clamp))


def _draw_striker(board: Board, edge: EdgeShape, nose: Nose) -> None:
    draw_striker(board, edge, nose)
    x, y = nose.tip
    touched = polar(nose.centre, nose.radius, RIGHT - 0.8 * nose.arc_deg)
    level = y - nose.half_opening - 10.0
    bend = touched[0] - 1.0, level - RAISE_PX
    leader(board, touched, bend, (bend[0] - 7.0, bend[1]))
    text = f"striking edge R {edge.radius.text}"
    board.text((bend[0] - 10.0, level), text, anchor="end", widest_px=bend[0] - 12.0)
    arrow = level - 18.0
    blow_arrow(board, (x - _LONGEST_STRIKER_PX, arrow), (x, arrow))
    board.text((x - _LONGEST_STRIKER_PX - 7.0, arrow + RAISE_PX), "blow", anchor="end")
    if edge.angle is not None:
        right = x - nose.reach - ARC_BACK_PX - 6.0
        board.text((right, y + RAISE_PX), edge.angle.text, anchor="end", widest_px=right)


def _draw_bar(board: Board, drawing: SupportDrawing, scale: float, clamp_top: float, depth: float) -> None:
    half = drawing.bar.length.value / 2.0 * scale
    top, bottom, back = clamp_top - half, clamp_top + half, _FACE_PX + depth
    outline = Trace().move((_FACE_PX, top))
    if drawing.notch is not None and drawing.direction == "edgewise":
        notch_nose(drawing.notch, drawing.bar, (_FACE_PX, clamp_top), RIGHT, scale).onto(outline)
    outline.line((_FACE_PX, bottom), (back, bottom), (back, top)).close()
    board.path(outline, OUTLINE, SPECIMEN, name="bar")
    if drawing.notch is not None and drawing.direction == "edgewise":
        at = _FACE_PX - 20.0, clamp_top - 12.0
        leader(board, (_FACE_PX + 1.0, clamp_top - 1.0), (at[0] + 2.0, at[1] - RAISE_PX))
        board.text((at[0] - 1.0, at[1]), f"notch {drawing.notch.name}", anchor="end", widest_px=at[0] - 2.0)


def _draw_jaws(
    board: Board, edge: Dimension | None, scale: float, top_and_bottom: tuple[float, float], depth: float
) -> None:
    """The two jaws, each with its rounded upper edge at the bar."""
    top, bottom = top_and_bottom
    radius = 0.0 if edge is None else edge.value * scale
    for name, face, outer, side in (
        ("front-jaw", _FACE_PX, _JAW_EDGE_PX, -1.0),
        ("back-jaw", _FACE_PX + depth, style.WIDTH_PX - _JAW_EDGE_PX, 1.0),
    ):
        jaw = Trace().move((outer, top)).line((face + side * radius, top))
        if radius:
            jaw.arc((face + side * radius, top + radius), radius, UP, UP - side * 90.0)
        jaw.line((face, bottom), (outer, bottom)).close()
        board.path(jaw, OUTLINE, STEEL, name=name)
        board.text(((face + outer) / 2.0, (top + bottom) / 2.0 + style.LINE_PX), "clamp", anchor="middle")
    if edge is not None:
        centre = _FACE_PX + depth + radius, top + radius
        touched = polar(centre, radius, UP - 45.0)
        bend = touched[0] + 20.0, touched[1] + 20.0
        leader(board, touched, bend, (bend[0] + 5.0, bend[1]))
        room = style.WIDTH_PX - _JAW_EDGE_PX - bend[0] - 12.0
        board.text((bend[0] + 8.0, bend[1] + RAISE_PX), f"R {edge.text}", widest_px=room)


def _draw_height(board: Board, clamp: Cantilever, strike_and_top: tuple[float, float], back: float) -> None:
    strike, top = strike_and_top
    x = back + _HEIGHT_BESIDE_PX
    board.path(polyline((_FACE_PX - GAP_PX + 2.0, strike), (back, strike)), CENTRE_LINE)
    extension(board, (back, strike), (x, strike))
    dimension_line(board, (x, strike), (x, top), name="strike-height")
    lower = min((strike + top) / 2.0 + style.FONT_PX, top - 6.0)
    room = style.WIDTH_PX - x - 7.0
    board.text((x + 7.0, lower - 14.0), "strike height", widest_px=room)
    board.text((x + 7.0, lower), clamp.strike_height.text, widest_px=room)
