"""How a bar sits when it is struck: on two supports, seen from above, or upright in a clamp, seen from the side."""

from dataclasses import replace

from notchbook.charts import style
from notchbook.charts.drawings.board import CENTRE_LINE, OUTLINE, RAISE_PX, SPECIMEN, STEEL, Board
from notchbook.charts.drawings.dimensions import blow_arrow, dimension_line, extension, leader
from notchbook.charts.drawings.geometry import DOWN, RIGHT, UP, Trace, polar, polyline
from notchbook.charts.drawings.nose import ARC_BACK_PX, GAP_PX, Nose, draw_striker, notch_nose, striker_nose
from notchbook.charts.drawings.support_values import SupportDrawing, describe_support
from notchbook.charts.drawings.values import Cantilever, Dimension, EdgeShape, ThreePoint
from notchbook.charts.outlines import Point

_MIDDLE_PX = style.WIDTH_PX / 2.0
_LONGEST_BAR_PX = 280.0
_WIDEST_SPAN_PX = 228.0
"""Leaves room for a word in each support."""
_STRIKER_TOP_PX = 22.0 + ARC_BACK_PX
_STRIKER_ABOVE_PX, _HALF_STRIKER_ABOVE_PX = 48.0, 40.0
"""Longest and half of the widest striking edge, seen from above."""
_BLOCK_PX = 46.0
_BLOCK_EDGE_PX = 4.0
"""From the edge of the drawing to a support."""
_BESIDE_NOTCH_PX = 80.0
"""Where the radius of a support's edge may begin, left of the name of the notch."""

_FACE_PX = 176.0
"""The face of an upright bar that is struck."""
_HIGHEST_PX = 230.0
_ABOVE_STRIKE_MM = 8.0
_STRIKER_BESIDE_PX, _HALF_STRIKER_BESIDE_PX = 46.0, 20.0
"""Longest and half of the widest striking edge, seen from the side."""
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


def support_drawing(drawing: SupportDrawing) -> str:
    """The bar with its supports or clamp and the striking edge that arrives, as SVG.

    Raises:
        ValueError: As much width would remain under the notch as the bar has, or more.
    """
    board = Board(drawing.id_prefix)
    if isinstance(drawing.support, ThreePoint):
        end = _draw_plan(board, drawing, drawing.support) + style.LINE_PX
    else:
        end = _draw_side(board, drawing, drawing.support) + style.LINE_PX
    board.text((0.0, end), f"Bar struck {drawing.direction}. Dimensions in mm")
    return board.svg(end + 5.0, drawing.title, describe_support(drawing))


def _draw_plan(board: Board, drawing: SupportDrawing, support: ThreePoint) -> float:
    """The bar on its supports, the notch on the side away from the striking edge; returns where they end below."""
    scale = min(_LONGEST_BAR_PX / drawing.bar.length.value, _WIDEST_SPAN_PX / support.span.value)
    board.view("plan", scale)
    board.text((0.0, style.FONT_PX), "Seen from above", bold=True)
    edge = drawing.striking_edge
    nose = striker_nose(edge, (0.0, 0.0), DOWN, scale, _STRIKER_ABOVE_PX, _HALF_STRIKER_ABOVE_PX)
    _draw_striker_above(board, edge, replace(nose, tip=(_MIDDLE_PX, _STRIKER_TOP_PX + nose.reach)))
    top = _STRIKER_TOP_PX + nose.reach + GAP_PX
    bottom = top + drawing.depth.value * scale
    half = drawing.bar.length.value / 2.0 * scale
    left, right = _MIDDLE_PX - half, _MIDDLE_PX + half
    outline = Trace().move((left, bottom))
    if drawing.notch_seen is not None:
        notch_nose(drawing.notch_seen, drawing.bar, (_MIDDLE_PX, bottom), UP, scale).onto(outline)
        name = f"notch {drawing.notch_seen.name}"
        board.text((_MIDDLE_PX, bottom + style.LINE_PX), name, anchor="middle", widest_px=90.0)
    outline.line((right, bottom), (right, top), (left, top)).close()
    board.path(outline, OUTLINE, SPECIMEN, name="bar")
    board.path(polyline((_MIDDLE_PX, top - 4.0), (_MIDDLE_PX, bottom + 4.0)), CENTRE_LINE)
    return _draw_supports(board, support, scale, bottom)


def _draw_striker_above(board: Board, edge: EdgeShape, nose: Nose) -> None:
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


def _draw_supports(board: Board, support: ThreePoint, scale: float, face: float) -> float:
    """Blocks that the bar rests against, with the span; returns where they end below."""
    half = support.span.value / 2.0 * scale
    radius = 0.0 if support.edge_radius is None else support.edge_radius.value * scale
    end = face + max(_BLOCK_PX, radius + 8.0)
    for name, side in (("left-support", -1.0), ("right-support", 1.0)):
        outer = _MIDDLE_PX + side * (_MIDDLE_PX - _BLOCK_EDGE_PX)
        _draw_block(board, name, side, outer, (_MIDDLE_PX + side * half, face), radius, end)
        text_at = outer - side * 4.0, face + 28.0
        board.text(text_at, "support", anchor="end" if side > 0.0 else "start")
    if support.edge_radius is not None:
        centre = _MIDDLE_PX + half, face + radius
        _draw_edge_radius(board, support.edge_radius, centre, radius, -30.0, _BESIDE_NOTCH_PX)
    level = end + 17.0
    for x in (_MIDDLE_PX - half, _MIDDLE_PX + half):
        extension(board, (x, face), (x, level))
    dimension_line(board, (_MIDDLE_PX - half, level), (_MIDDLE_PX + half, level), name="span")
    text = f"span {support.span.text}"
    board.text((_MIDDLE_PX, level - RAISE_PX), text, anchor="middle", widest_px=2.0 * half - 4.0)
    return level + 5.0


def _draw_side(board: Board, drawing: SupportDrawing, clamp: Cantilever) -> float:
    """The bar in its clamp, the notch level with the clamp's top on the side of the striking edge.

    Returns:
        Where the clamp ends below.
    """
    height, half = clamp.strike_height.value, drawing.bar.length.value / 2.0
    scale = _HIGHEST_PX / (half + max(half, height + _ABOVE_STRIKE_MM))
    depth = drawing.depth.value * scale
    room = max(min(_HALF_STRIKER_BESIDE_PX, height * scale - _NOTCH_LABEL_PX), _NARROWEST_STRIKER_PX)
    nose = striker_nose(drawing.striking_edge, (0.0, 0.0), RIGHT, scale, _STRIKER_BESIDE_PX, room)
    strike = _CAPTION_PX + max(_LABELS_PX + nose.half_opening, (half - height) * scale)
    top = strike + height * scale
    board.view("elevation", scale)
    board.text((0.0, style.FONT_PX), "Seen from the side", bold=True)
    _draw_striker_beside(board, drawing.striking_edge, replace(nose, tip=(_FACE_PX - GAP_PX, strike)))
    _draw_upright_bar(board, drawing, scale, top, half * scale)
    bottom = top + half * scale + _BELOW_BAR_PX
    _draw_jaws(board, clamp.jaw_edge_radius, scale, (top, bottom), depth)
    _draw_height(board, clamp, (strike, top), _FACE_PX + depth)
    return bottom


def _draw_striker_beside(board: Board, edge: EdgeShape, nose: Nose) -> None:
    draw_striker(board, edge, nose)
    x, y = nose.tip
    touched = polar(nose.centre, nose.radius, RIGHT - 0.8 * nose.arc_deg)
    level = y - nose.half_opening - 10.0
    bend = touched[0] - 1.0, level - RAISE_PX
    leader(board, touched, bend, (bend[0] - 7.0, bend[1]))
    text = f"striking edge R {edge.radius.text}"
    board.text((bend[0] - 10.0, level), text, anchor="end", widest_px=bend[0] - 12.0)
    arrow = level - 18.0
    blow_arrow(board, (x - _STRIKER_BESIDE_PX, arrow), (x, arrow))
    board.text((x - _STRIKER_BESIDE_PX - 7.0, arrow + RAISE_PX), "blow", anchor="end")
    if edge.angle is not None:
        right = x - nose.reach - ARC_BACK_PX - 6.0
        board.text((right, y + RAISE_PX), edge.angle.text, anchor="end", widest_px=right)


def _draw_upright_bar(board: Board, drawing: SupportDrawing, scale: float, clamp_top: float, half: float) -> None:
    top, bottom, back = clamp_top - half, clamp_top + half, _FACE_PX + drawing.depth.value * scale
    outline = Trace().move((_FACE_PX, top))
    if drawing.notch_seen is not None:
        notch_nose(drawing.notch_seen, drawing.bar, (_FACE_PX, clamp_top), RIGHT, scale).onto(outline)
    outline.line((_FACE_PX, bottom), (back, bottom), (back, top)).close()
    board.path(outline, OUTLINE, SPECIMEN, name="bar")
    if drawing.notch_seen is not None:
        at = _FACE_PX - 20.0, clamp_top - 12.0
        leader(board, (_FACE_PX + 1.0, clamp_top - 1.0), (at[0] + 2.0, at[1] - RAISE_PX))
        board.text((at[0] - 1.0, at[1]), f"notch {drawing.notch_seen.name}", anchor="end", widest_px=at[0] - 2.0)


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
        _draw_block(board, name, side, outer, (face + side * radius, top), radius, bottom)
        board.text(((face + outer) / 2.0, (top + bottom) / 2.0 + style.LINE_PX), "clamp", anchor="middle")
    if edge is not None:
        centre = _FACE_PX + depth + radius, top + radius
        _draw_edge_radius(board, edge, centre, radius, 20.0, style.WIDTH_PX - _JAW_EDGE_PX - 12.0)


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


def _draw_block(
    board: Board, name: str, side: float, outer: float, contact: Point, radius: float, bottom: float
) -> None:
    """A support or a jaw, its upper edge level from outside to the contact and rounded from there on."""
    x, top = contact
    block = Trace().move((outer, top)).line(contact)
    if radius:
        block.arc((x, top + radius), radius, UP, UP - side * 90.0)
    block.line((x - side * radius, bottom), (outer, bottom)).close()
    board.path(block, OUTLINE, STEEL, name=name)


def _draw_edge_radius(board: Board, edge: Dimension, centre: Point, radius: float, aside: float, limit: float) -> None:
    """The radius of a support's or jaw's edge, written so far aside of it and no farther than the limit."""
    side = -1.0 if aside < 0.0 else 1.0
    touched = polar(centre, radius, UP - 45.0)
    bend = touched[0] + aside, touched[1] + abs(aside)
    leader(board, touched, bend, (bend[0] + 5.0 * side, bend[1]))
    at, room = (bend[0] + 8.0 * side, bend[1] + RAISE_PX), side * (limit - bend[0])
    board.text(at, f"R {edge.text}", anchor="end" if aside < 0.0 else "start", widest_px=room)
