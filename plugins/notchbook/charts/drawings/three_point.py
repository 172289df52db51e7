"""A bar on two supports, seen from above."""

from __future__ import annotations

from typing import TYPE_CHECKING

from notchbook.charts import style
from notchbook.charts.drawings.board import OUTLINE, RAISE_PX, SPECIMEN, STEEL, Board
from notchbook.charts.drawings.dimensions import blow_arrow, centre_line, dimension_line, extension, leader
from notchbook.charts.drawings.geometry import DOWN, UP, Trace, polar
from notchbook.charts.drawings.nose import notch_nose
from notchbook.charts.drawings.sentences import describe_three_point
from notchbook.charts.drawings.striker import ARC_BACK_PX, GAP_PX, draw_striker, striker_nose

if TYPE_CHECKING:
    from notchbook.charts.drawings.nose import Nose
    from notchbook.charts.drawings.support_values import SupportDrawing
    from notchbook.charts.drawings.values import Dimension, EdgeShape, ThreePoint

_MIDDLE_PX = style.WIDTH_PX / 2.0
_LONGEST_BAR_PX = 280.0
_WIDEST_SPAN_PX = 228.0
"""Leaves room for a word in each support."""
_STRIKER_TOP_PX = 22.0 + ARC_BACK_PX
_LONGEST_STRIKER_PX = 48.0
_HALF_STRIKER_PX = 40.0
_BLOCK_PX = 46.0
_BLOCK_EDGE_PX = 4.0
"""From the edge of the drawing to a support."""


def draw_three_point(drawing: SupportDrawing, support: ThreePoint) -> str:
    """The bar on its supports, the notch on the side away from the striking edge."""
    board = Board(drawing.id_prefix)
    bar, flat = drawing.bar, drawing.direction == "flatwise"
    scale = min(_LONGEST_BAR_PX / bar.length.value, _WIDEST_SPAN_PX / support.span.value)
    board.view("plan", scale)
    board.text((0.0, style.FONT_PX), "Seen from above", bold=True)
    back = striker_nose(drawing.striking_edge, (0.0, 0.0), DOWN, scale, _LONGEST_STRIKER_PX, _HALF_STRIKER_PX).reach
    nose = striker_nose(
        drawing.striking_edge, (_MIDDLE_PX, _STRIKER_TOP_PX + back), DOWN, scale, _LONGEST_STRIKER_PX, _HALF_STRIKER_PX
    )
    _draw_striker(board, drawing.striking_edge, nose)
    top = nose.tip[1] + GAP_PX
    bottom = top + (bar.thickness if flat else bar.width).value * scale
    _draw_bar(board, drawing, scale, top, bottom)
    level = _draw_supports(board, support, scale, bottom)
    board.text((0.0, level + style.LINE_PX), f"Bar struck {drawing.direction}. Dimensions in mm")
    return board.svg(level + style.LINE_PX + 5.0, drawing.title, describe_three_point(drawing, support))


def _draw_striker(board: Board, edge: EdgeShape, nose: Nose) -> None:
    draw_striker(board, edge, nose)
    top, side = nose.tip[1] - nose.reach, _MIDDLE_PX + nose.half_opening
    if edge.angle is not None:
        level = top - ARC_BACK_PX - 5.0
        board.text((_MIDDLE_PX, level), edge.angle.text, anchor="middle", widest_px=130.0)
    touched = polar(nose.centre, nose.radius, DOWN - 0.8 * nose.arc_deg)
    bend = touched[0] + 22.0, touched[1] - 16.0
    start = max(bend[0] + 6.0, side + 8.0)
    leader(board, touched, bend, (start, bend[1]))
    room = style.WIDTH_PX - start - 3.0
    board.text((start + 3.0, bend[1] - 2.0), "striking edge", widest_px=room)
    board.text((start + 3.0, bend[1] + 11.0), f"R {edge.radius.text}", widest_px=room)
    x = _MIDDLE_PX - nose.half_opening - 18.0
    blow_arrow(board, (x, top), (x, nose.tip[1] - 2.0))
    board.text((x - 9.0, top + nose.reach / 2.0), "blow", anchor="end")


def _draw_bar(board: Board, drawing: SupportDrawing, scale: float, top: float, bottom: float) -> None:
    half = drawing.bar.length.value / 2.0 * scale
    left, right = _MIDDLE_PX - half, _MIDDLE_PX + half
    outline = Trace().move((left, bottom))
    if drawing.notch is not None and drawing.direction == "edgewise":
        notch_nose(drawing.notch, drawing.bar, (_MIDDLE_PX, bottom), UP, scale).onto(outline)
        name = f"notch {drawing.notch.name}"
        board.text((_MIDDLE_PX, bottom + style.LINE_PX), name, anchor="middle", widest_px=90.0)
    outline.line((right, bottom), (right, top), (left, top)).close()
    board.path(outline, OUTLINE, SPECIMEN, name="bar")
    centre_line(board, (_MIDDLE_PX, top - 4.0), (_MIDDLE_PX, bottom + 4.0))


def _draw_supports(board: Board, support: ThreePoint, scale: float, face: float) -> float:
    """Blocks that the bar rests against, with the span; returns where they end below."""
    half = support.span.value / 2.0 * scale
    radius = 0.0 if support.edge_radius is None else support.edge_radius.value * scale
    end = face + max(_BLOCK_PX, radius + 8.0)
    for name, side in (("left-support", -1.0), ("right-support", 1.0)):
        contact = _MIDDLE_PX + side * half
        outer, inner = _MIDDLE_PX + side * (_MIDDLE_PX - _BLOCK_EDGE_PX), contact - side * radius
        block = Trace().move((outer, face)).line((contact, face))
        if radius:
            block.arc((contact, face + radius), radius, UP, UP - side * 90.0)
        block.line((inner, end), (outer, end)).close()
        board.path(block, OUTLINE, STEEL, name=name)
        text_at = outer - side * 4.0, face + 28.0
        board.text(text_at, "support", anchor="end" if side > 0.0 else "start")
    if support.edge_radius is not None:
        _draw_edge_radius(board, support.edge_radius, (_MIDDLE_PX + half, face + radius), radius)
    level = end + 17.0
    for x in (_MIDDLE_PX - half, _MIDDLE_PX + half):
        extension(board, (x, face), (x, level))
    dimension_line(board, (_MIDDLE_PX - half, level), (_MIDDLE_PX + half, level), name="span")
    text = f"span {support.span.text}"
    board.text((_MIDDLE_PX, level - RAISE_PX), text, anchor="middle", widest_px=2.0 * half - 4.0)
    return level + 5.0


def _draw_edge_radius(board: Board, edge: Dimension, centre: tuple[float, float], radius: float) -> None:
    """Written between the supports, below the name of the notch."""
    touched = polar(centre, radius, UP - 45.0)
    bend = touched[0] - 30.0, touched[1] + 30.0
    leader(board, touched, bend, (bend[0] - 5.0, bend[1]))
    board.text((bend[0] - 8.0, bend[1] + RAISE_PX), f"R {edge.text}", anchor="end", widest_px=bend[0] - 80.0)
