"""How much of the pendulum's energy each specimen used, against the window that the method allows."""

import math
from collections.abc import Sequence

from notchbook.charts import style
from notchbook.charts.descriptions import describe_window
from notchbook.charts.legend import bar_entries, draw_by_type, draw_legend
from notchbook.charts.outlines import Point
from notchbook.charts.scale import Scale
from notchbook.charts.sheet import Sheet
from notchbook.charts.shown import WindowChart
from notchbook.charts.style import Paint
from notchbook.charts.words import estimated_width_px

_TICKS_PCT = (0.0, 20.0, 40.0, 60.0, 80.0, 100.0)
_EDGE_PX = 10.0
"""From the edge of the chart to the end of the axis, for half of a tick label."""
_TOP_PX = 38.0
"""Height of the quantity's name and of the window's label above the marks."""
_LEVEL_PX = 9.0
"""From one level of marks to the next, and the least distance of two marks on one level."""
_FEWEST_LEVELS = 3
_MOST_LEVELS = 14
"""Marks that find no room on these are drawn over others."""


def window_chart(chart: WindowChart) -> str:
    """Shares used along one axis from 0 to 100 %, the allowed window shaded, as SVG.

    Marks that would lie over each other are stacked; the height above the axis means nothing. A share beyond the axis
    has its mark at the end of it. Excluded specimens are hollow and struck out.

    Raises:
        ValueError: There is no specimen, or a number is not finite.
    """
    numbers = [each.used_pct for each in chart.specimens]
    if not numbers or not all(map(math.isfinite, [*numbers, chart.window.low_pct, chart.window.high_pct])):
        raise ValueError("a chart of energies used needs at least one specimen, and finite numbers only")
    scale = Scale(_TICKS_PCT, _EDGE_PX, style.WIDTH_PX - _EDGE_PX)
    places = [scale.px(scale.within(used)) for used in numbers]
    levels = _levels(places)
    bottom = _TOP_PX + _LEVEL_PX * (max([_FEWEST_LEVELS - 1, *levels]) + 1)
    sheet = Sheet(chart.id_prefix)
    sheet.text((0.0, style.FONT_PX), "Energy used in % of the pendulum's")
    _draw_window(sheet, scale, chart, bottom)
    _draw_axis(sheet, scale, bottom)
    heights = [bottom - _LEVEL_PX * (level + 0.6) for level in levels]
    draw_by_type(
        sheet, list(zip(chart.specimens, zip(places, heights, strict=True), strict=True)), chart.kinds, "marks"
    )
    top = bottom + style.LINE_PX + 6.0
    height = top + draw_legend(sheet, bar_entries(chart.specimens, chart.kinds), top)
    return sheet.svg(height, chart.title, describe_window(chart))


def _levels(places: Sequence[float]) -> list[int]:
    """The lowest level for each mark on which no earlier one stands in its way."""
    taken: list[list[float]] = [[] for _ in range(_MOST_LEVELS)]
    found = []
    for x in places:
        free = (level for level, others in enumerate(taken) if all(abs(x - other) >= _LEVEL_PX for other in others))
        level = next(free, _MOST_LEVELS - 1)
        taken[level].append(x)
        found.append(level)
    return found


def _draw_window(sheet: Sheet, scale: Scale, chart: WindowChart, bottom: float) -> None:
    left, right = (scale.px(scale.within(end)) for end in (chart.window.low_pct, chart.window.high_pct))
    top = _TOP_PX - 18.0
    sheet.area((left, top), (right, bottom), Paint.BAND, name="window")
    edges: list[list[Point]] = [[(x, top), (x, bottom)] for x in (left, right)]
    sheet.line(*edges, width_px=style.EDGE_WIDTH_PX, stroke="dotted", name="window-ends")
    text = f"allowed: {chart.window.low_pct:g} % to {chart.window.high_pct:g} %"
    half = estimated_width_px(text, style.FONT_PX) / 2.0
    middle = min(max((left + right) / 2.0, half), style.WIDTH_PX - half)
    sheet.text((middle, top + style.FONT_PX + 1.0), text, anchor="middle")


def _draw_axis(sheet: Sheet, scale: Scale, bottom: float) -> None:
    sheet.line([(scale.first_px, bottom), (scale.last_px, bottom)], name="axis")
    for tick, label in zip(scale.ticks, scale.labels(), strict=True):
        x = scale.px(tick)
        sheet.line([(x, bottom), (x, bottom + 4.0)])
        sheet.text((x, bottom + style.LINE_PX), label, anchor="middle")
