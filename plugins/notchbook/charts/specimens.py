"""The strengths of single specimens in their order, with the means of their sets."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from notchbook.charts import style
from notchbook.charts.descriptions import describe_specimens
from notchbook.charts.kinds import look_of
from notchbook.charts.legend import Entry, bar_entries, draw_by_type, draw_legend
from notchbook.charts.scale import Scale, nice_ticks
from notchbook.charts.sheet import Sheet, Stroke
from notchbook.charts.shown import SetMark, SpecimensChart
from notchbook.charts.style import Paint
from notchbook.charts.words import estimated_width_px, shortened
from notchbook.model.quantity import IMPACT_STRENGTH
from notchbook.wording.lines import one_line
from notchbook.wording.numbers import short_figures

_TITLE_PX = 24.0
"""Height of the line that names the quantity."""
_RAIL_PX = 20.0
_PLOT_PX = 136.0
_TICK_GAP_PX = 6.0
_SET_GAP_PX = 8.0
_WIDEST_SET_LABEL_PX = 90.0
_LABEL_LINE_PX = 13.0
_RAISE_PX = 4.0
"""From the middle of a text down to its base line."""
_LONGEST_ID_PX = 62.0
_SHORT_ID_PX = 22.0
"""Ids up to here stay level, and only some of them are written where there is no room for all."""
_ID_GAP_PX = 5.0
_STROKES: tuple[Stroke, ...] = ("solid", "dashed", "dotted")


@dataclass(frozen=True, slots=True)
class _Frame:
    """Where things lie."""

    left: float
    right: float
    top: float
    """Upper edge of the plot, below the rail."""
    bottom: float
    pitch: float
    """Distance of neighbouring specimens."""

    def x(self, place: int) -> float:
        return self.left + (place + 0.5) * self.pitch


def specimens_chart(chart: SpecimensChart) -> str:
    """Strength over the specimens in their order, as SVG.

    Break types differ in shape and colour, excluded specimens are hollow and struck out, and those without a value
    stand on a rail above the plot. Each set has a line at its mean and a band over the 95 % interval of it.

    Raises:
        ValueError: There is no specimen, or a strength is not a finite number.
    """
    if not chart.specimens:
        raise ValueError("a chart of specimens needs at least one")
    values = [each.strength_kJ_m2 for each in chart.specimens if each.strength_kJ_m2 is not None]
    values += [each.mean_kJ_m2 for each in chart.sets]
    ticks = nice_ticks(values, [each.interval_kJ_m2 for each in chart.sets]) if values else None
    sheet = Sheet(chart.id_prefix)
    frame = _frame(chart, ticks)
    sheet.text((0.0, style.FONT_PX), f"{IMPACT_STRENGTH.title} in kJ/m²" if ticks else "No specimen gave a value")
    if ticks:
        scale = Scale(ticks, frame.bottom, frame.top)
        _draw_axis(sheet, frame, scale)
        _draw_sets(sheet, frame, scale, chart)
        placed = [(each, frame.x(place), each.strength_kJ_m2) for place, each in enumerate(chart.specimens)]
        points = [(each, (x, scale.px(value))) for each, x, value in placed if value is not None]
        draw_by_type(sheet, points, chart.kinds, "marks")
    _draw_rail(sheet, frame, chart)
    # of a long id the end is shown, where specimens of one batch differ
    ids = [shortened(one_line(each.id), _LONGEST_ID_PX, style.FONT_PX, keep_end=True) for each in chart.specimens]
    ids_px = _draw_ids(sheet, frame, ids)
    top = frame.bottom + ids_px
    sheet.text(((frame.left + frame.right) / 2.0, top + style.FONT_PX), "Specimen", anchor="middle")
    top += style.LINE_PX + 4.0
    height = top + draw_legend(sheet, _legend(chart), top)
    return sheet.svg(height, chart.title, describe_specimens(chart))


def _set_label(each: SetMark) -> str:
    text = f"{'/'.join(each.breaks)} {short_figures(each.mean_kJ_m2, style.FIGURES)}"
    return shortened(one_line(text), _WIDEST_SET_LABEL_PX, style.FONT_PX)


def _frame(chart: SpecimensChart, ticks: tuple[float, ...] | None) -> _Frame:
    """Room for the tick labels on the left and the labels of sets and rail on the right."""
    has_rail = any(each.strength_kJ_m2 is None for each in chart.specimens)
    right_labels = [_set_label(each) for each in chart.sets]
    if has_rail:
        right_labels.append(_rail_label(chart))
    widest = max((estimated_width_px(each, style.FONT_PX) for each in right_labels), default=0.0)
    right = style.WIDTH_PX - widest - (_SET_GAP_PX if right_labels else 0.0)
    left = 4.0
    if ticks:
        labels = Scale(ticks, 0.0, 1.0).labels()
        left = max(estimated_width_px(each, style.FONT_PX) for each in labels) + _TICK_GAP_PX
    top = _TITLE_PX + (_RAIL_PX if has_rail else 0.0)
    return _Frame(left, right, top, top + (_PLOT_PX if ticks else 0.0), (right - left) / len(chart.specimens))


def _draw_axis(sheet: Sheet, frame: _Frame, scale: Scale) -> None:
    levels = [scale.px(tick) for tick in scale.ticks]
    sheet.line(*([(frame.left, y), (frame.right, y)] for y in levels[1:]), opacity=style.GRID_OPACITY, name="grid")
    sheet.line([(frame.left, levels[0]), (frame.right, levels[0])])
    for y, label in zip(levels, scale.labels(), strict=True):
        sheet.text((frame.left - _TICK_GAP_PX, y + _RAISE_PX), label, anchor="end")


def _draw_sets(sheet: Sheet, frame: _Frame, scale: Scale, chart: SpecimensChart) -> None:
    for place, each in enumerate(chart.sets):
        paint, stroke = look_of(each.breaks[0], chart.kinds).paint, _STROKES[place % len(_STROKES)]
        if each.interval_kJ_m2 is not None:
            low, high = each.interval_kJ_m2
            corners = (frame.left, scale.px(scale.within(high))), (frame.right, scale.px(scale.within(low)))
            sheet.area(*corners, Paint.BAND, name=f"band-{place + 1}")
            edges = [scale.px(end) for end in (low, high) if scale.within(end) == end]
            sheet.line(
                *([(frame.left, y), (frame.right, y)] for y in edges),
                paint=paint,
                width_px=style.EDGE_WIDTH_PX,
                stroke="dotted",
            )
        y = scale.px(each.mean_kJ_m2)
        sheet.line(
            [(frame.left, y), (frame.right, y)],
            paint=paint,
            width_px=style.MEAN_WIDTH_PX,
            stroke=stroke,
            name=f"mean-{place + 1}",
        )
    levels = _apart([scale.px(each.mean_kJ_m2) for each in chart.sets])
    for y, each in zip(levels, chart.sets, strict=True):
        sheet.text((frame.right + _SET_GAP_PX, y + _RAISE_PX), _set_label(each))


def _apart(levels: Sequence[float]) -> list[float]:
    """The levels, moved down where two would be written over each other."""
    moved = list(levels)
    last = -math.inf
    for place in sorted(range(len(levels)), key=levels.__getitem__):
        moved[place] = last = max(levels[place], last + _LABEL_LINE_PX)
    return moved


def _rail_label(chart: SpecimensChart) -> str:
    kinds = [chart.kinds.get(each.break_type) for each in chart.specimens if each.strength_kJ_m2 is None]
    if chart.unbroken_words:
        return f"no break {chart.unbroken_words}"
    return "no break" if all(kind is not None and kind.role == "none" for kind in kinds) else "no value"


def _draw_rail(sheet: Sheet, frame: _Frame, chart: SpecimensChart) -> None:
    y = frame.top - _RAIL_PX + 6.0
    points = [(each, (frame.x(place), y)) for place, each in enumerate(chart.specimens) if each.strength_kJ_m2 is None]
    if points:
        sheet.line([(frame.left, y), (frame.right, y)], opacity=2.0 * style.GRID_OPACITY, stroke="dotted", name="rail")
        draw_by_type(sheet, points, chart.kinds, "rail")
        sheet.text((frame.right + _SET_GAP_PX, y + _RAISE_PX), _rail_label(chart))


def _draw_ids(sheet: Sheet, frame: _Frame, ids: Sequence[str]) -> float:
    """Ids level where they have room, else upright or, if short, only some; returns the height that they took."""
    widest = max(estimated_width_px(each, style.FONT_PX) for each in ids)
    upright = widest + _ID_GAP_PX > frame.pitch and widest > _SHORT_ID_PX
    needed = _LABEL_LINE_PX if upright else widest + _ID_GAP_PX
    step = max(1, math.ceil(needed / frame.pitch))
    for place in range(0, len(ids), step):
        x = frame.x(place)
        if upright:
            sheet.text((x + _RAISE_PX, frame.bottom + 7.0), ids[place], anchor="end", upwards=True)
        else:
            sheet.text((x, frame.bottom + style.LINE_PX), ids[place], anchor="middle")
    return widest + 9.0 if upright else style.LINE_PX + 4.0


def _legend(chart: SpecimensChart) -> list[Entry]:
    entries = bar_entries(chart.specimens, chart.kinds)
    if any(each.interval_kJ_m2 is not None for each in chart.sets):
        entries.append(Entry("band", "mean with its 95 % interval"))
    elif chart.sets:
        entries.append(Entry("line", "mean"))
    return entries
