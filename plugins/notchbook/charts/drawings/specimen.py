"""The bar of a method: side view and end view to scale, and its notch enlarged."""

from dataclasses import dataclass
from typing import Self

from notchbook.charts import style
from notchbook.charts.drawings.board import CENTRE_LINE, OUTLINE, RAISE_PX, SPECIMEN, THIN, Board
from notchbook.charts.drawings.dimensions import break_line, dimension_line, extension, leader
from notchbook.charts.drawings.geometry import DOWN, Trace, polar, polyline
from notchbook.charts.drawings.nose import Nose, draw_flank_angle, notch_nose
from notchbook.charts.drawings.support_values import describe_bar, describe_notch
from notchbook.charts.drawings.values import BarShape, NotchShape
from notchbook.charts.shown import Shown
from notchbook.model.method import Notch, SpecimenType

_LEFT_PX = 8.0
_SIDE_VIEW_PX = 220.0
_HIGHEST_PX = 60.0
"""Of the side view."""
_END_VIEW_LEFT_PX = 258.0
_WIDEST_END_VIEW_PX = 60.0
_BAR_TOP_PX = 38.0
_DIMENSION_PX = 22.0
"""From an outline to the dimension line that belongs to it."""
_DETAIL_MIDDLE_PX = 110.0
_HALF_DETAIL_PX = 82.0
_TALLEST_DETAIL_PX = 170.0
_WIDEST_OPENING_PX = 120.0
_ARC_ABOVE_PX = 14.0
"""From the face of the bar up to the arc between the flanks."""
_MAGNIFICATIONS = (20, 15, 12, 10, 8, 6, 5, 4, 3, 2)


@dataclass(frozen=True, slots=True)
class SpecimenDrawing(Shown):
    """What a drawing of a specimen shows."""

    bar: BarShape
    notch: NotchShape | None

    @classmethod
    def of(cls, specimen_type: SpecimenType, notch: Notch | None, *, id_prefix: str, title: str) -> Self:
        """The drawing of a method's specimen type, with or without one of its notches.

        Raises:
            ValueError: A dimension is not above 0, or the notch has no shape.
        """
        shape = None if notch is None else NotchShape.of(notch)
        return cls(id_prefix, title, BarShape.of(specimen_type), shape)


def specimen_drawing(drawing: SpecimenDrawing) -> str:
    """The bar with its dimensions, as SVG.

    Raises:
        ValueError: As much width would remain under the notch as the bar has, or more.
    """
    board = Board(drawing.id_prefix)
    bar, notch = drawing.bar, drawing.notch
    scale = min(
        _SIDE_VIEW_PX / bar.length.value, _HIGHEST_PX / bar.width.value, _WIDEST_END_VIEW_PX / bar.thickness.value
    )
    bottom = _draw_side_view(board, bar, notch, scale)
    _draw_end_view(board, bar, scale, bottom)
    bottom += style.LINE_PX
    words = describe_bar(bar)
    if notch is not None:
        times = _magnification(bar, notch, scale)
        bottom = _draw_detail(board, bar, notch, scale * times, bottom + 20.0, times)
        words += f" {describe_notch(notch, bar)} It is also drawn {times} times as large."
    bottom += style.LINE_PX
    board.text((0.0, bottom), "Dimensions in mm")
    return board.svg(bottom + 5.0, drawing.title, words)


def _draw_side_view(board: Board, bar: BarShape, notch: NotchShape | None, scale: float) -> float:
    """Length by width, the notch in the upper face; returns the level of its lowest dimension."""
    right, bottom = _LEFT_PX + bar.length.value * scale, _BAR_TOP_PX + bar.width.value * scale
    middle = (_LEFT_PX + right) / 2.0
    board.view("side-view", scale)
    board.text((0.0, style.FONT_PX), "Side view", bold=True)
    outline = Trace().move((_LEFT_PX, _BAR_TOP_PX))
    level = bottom + _DIMENSION_PX
    if notch is not None:
        profile = notch_nose(notch, bar, (middle, _BAR_TOP_PX), DOWN, scale)
        # seen along its direction, downwards, the profile runs from the right end to the left
        corners = profile.ends
        outline = Trace().move((right, _BAR_TOP_PX))
        profile.onto(outline).line((_LEFT_PX, _BAR_TOP_PX), (_LEFT_PX, bottom), (right, bottom)).close()
        around = 4.0 + max(profile.reach / 2.0, abs(corners[0][0] - middle))
        board.circle((middle, _BAR_TOP_PX + profile.reach / 2.0), around, THIN)
        level = max(level, _BAR_TOP_PX + profile.reach / 2.0 + around + _DIMENSION_PX)
        board.text((middle + around + 4.0, _BAR_TOP_PX - RAISE_PX), "X")
    else:
        outline.line((right, _BAR_TOP_PX), (right, bottom), (_LEFT_PX, bottom)).close()
    board.path(outline, OUTLINE, SPECIMEN, name="bar")
    board.path(polyline((middle, _BAR_TOP_PX - 5.0), (middle, bottom + 5.0)), CENTRE_LINE)
    for x in (_LEFT_PX, right):
        extension(board, (x, bottom), (x, level))
    dimension_line(board, (_LEFT_PX, level), (right, level), name="length")
    board.text(
        (middle, level - RAISE_PX), f"length {bar.length.text}", anchor="middle", widest_px=right - _LEFT_PX - 16.0
    )
    return level


def _draw_end_view(board: Board, bar: BarShape, scale: float, level: float) -> None:
    """Thickness by width, level with the side view, and so is its lowest dimension."""
    left, right = _END_VIEW_LEFT_PX, _END_VIEW_LEFT_PX + bar.thickness.value * scale
    bottom = _BAR_TOP_PX + bar.width.value * scale
    board.view("end-view", scale)
    board.text((style.WIDTH_PX, style.FONT_PX), "End view", anchor="end", bold=True)
    corners = ((left, _BAR_TOP_PX), (right, _BAR_TOP_PX), (right, bottom), (left, bottom))
    board.path(polyline(*corners, closed=True), OUTLINE, SPECIMEN, name="section")
    beside = right + 14.0
    for y in (_BAR_TOP_PX, bottom):
        extension(board, (right, y), (beside, y))
    dimension_line(board, (beside, _BAR_TOP_PX), (beside, bottom), name="width")
    board.text((style.WIDTH_PX, _BAR_TOP_PX - 9.0), f"width {bar.width.text}", anchor="end", widest_px=170.0)
    for x in (left, right):
        extension(board, (x, bottom), (x, level))
    dimension_line(board, (left, level), (right, level), name="thickness")
    text = f"thickness {bar.thickness.text}"
    board.text((style.WIDTH_PX, level + style.LINE_PX), text, anchor="end", widest_px=200.0)


def _magnification(bar: BarShape, notch: NotchShape, scale: float) -> int:
    """How many times larger than in the side view the notch can be drawn."""
    profile = notch_nose(notch, bar, (0.0, 0.0), DOWN, scale)
    tall, wide = bar.width.value * scale, 2.0 * profile.half_opening
    fitting = (
        each for each in _MAGNIFICATIONS if tall * each <= _TALLEST_DETAIL_PX and wide * each <= _WIDEST_OPENING_PX
    )
    return next(fitting, 1)


def _draw_detail(board: Board, bar: BarShape, notch: NotchShape, scale: float, caption: float, times: int) -> float:
    """The middle of the bar across its whole width; returns where the view ends below."""
    middle, top = _DETAIL_MIDDLE_PX, caption + 20.0 + style.LINE_PX + _ARC_ABOVE_PX
    bottom = top + bar.width.value * scale
    left, right = middle - _HALF_DETAIL_PX, middle + _HALF_DETAIL_PX
    profile = notch_nose(notch, bar, (middle, top), DOWN, scale)
    board.view("notch-view", scale)
    # name last: it may be cut off, the magnification may not
    board.text((0.0, caption), f"X, {times} times as large: notch {notch.name}", bold=True, widest_px=300.0)
    area = profile.onto(Trace().move((right, top))).line((left, top), (left, bottom), (right, bottom)).close()
    board.path(area, None, SPECIMEN, name="notched-part")
    board.path(profile.onto(Trace().move((right, top))).line((left, top)), OUTLINE, name="notch")
    board.path(polyline((left, bottom), (right, bottom)), OUTLINE)
    for x in (left, right):
        break_line(board, (x, top), (x, bottom))
    # parallel flanks have no arc between them
    if notch.angle.value > 0.0:
        draw_flank_angle(board, profile, profile.apex[1] - top + _ARC_ABOVE_PX, "angle")
    board.text((middle, top - _ARC_ABOVE_PX - 5.0), notch.angle.text, anchor="middle", widest_px=200.0)
    ends = _draw_base_radius(board, notch, profile, bottom)
    beside, base = right + 18.0, profile.tip[1]
    extension(board, profile.tip, (beside, base))
    extension(board, (right, bottom), (beside, bottom))
    dimension_line(board, (beside, base), (beside, bottom), name="remaining-width")
    halfway, room = (base + bottom) / 2.0, style.WIDTH_PX - beside - 7.0
    board.text((beside + 7.0, halfway - 3.0), "remaining width", widest_px=room)
    board.text((beside + 7.0, halfway + 11.0), notch.remaining_width.text, widest_px=room)
    return max(bottom, ends) + 6.0


def _draw_base_radius(board: Board, notch: NotchShape, profile: Nose, face: float) -> float:
    """Written in the bar, under the notch and to the left, or below a bar too shallow for it; returns where it ends."""
    touched = polar(profile.centre, profile.radius, 125.0)
    level = touched[1] + 28.0
    if level + style.LINE_PX > face:
        level = face + 6.0
    bend = touched[0] - 20.0, level
    leader(board, touched, bend)
    room = 2.0 * (bend[0] - (_DETAIL_MIDDLE_PX - _HALF_DETAIL_PX))
    text = f"R {notch.base_radius.text}"
    return board.text((bend[0], level + style.FONT_PX), text, anchor="middle", widest_px=room).bottom
