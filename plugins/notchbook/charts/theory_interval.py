"""Half the width of the 95 % interval of a mean against the number of specimens, for a given scatter."""

from __future__ import annotations

import math
from dataclasses import dataclass

from notchbook.charts import style
from notchbook.charts.legend import Entry, draw_legend
from notchbook.charts.scale import nice_ticks
from notchbook.charts.sheet import Sheet
from notchbook.charts.style import Look, Paint
from notchbook.charts.theory_axes import Axes, axes_of, draw_axes
from notchbook.wording.numbers import short_figures

_FIRST_TICK = 2.0
_TICK_STEP = 2.0
_MOST_TICKS = 12
_FIGURES = 2
_OTHER, _OWN = Look("o", 5.5, Paint.BAND), Look("o", 9.0, Paint.COMPLETE)


@dataclass(frozen=True, slots=True)
class IntervalChart:
    """What a chart of intervals shows."""

    id_prefix: str
    """Starts every id in the SVG; no other chart on the page may have the same."""
    title: str
    half_widths_kJ_m2: dict[int, float]
    """Half of the interval's width by the number of specimens, ascending, at least one."""
    own_n: int
    """The number of specimens that the scatter is from."""
    standard_deviation_kJ_m2: float


def interval_chart(chart: IntervalChart) -> str:
    """A mark for each number of specimens, that of the record large, as SVG.

    Raises:
        ValueError: There is no number of specimens, or a width is not finite.
    """
    widths = chart.half_widths_kJ_m2
    if not widths or not all(map(math.isfinite, [*widths.values(), chart.standard_deviation_kJ_m2])):
        raise ValueError("a chart of intervals needs at least one number of specimens, and finite widths only")
    axes = axes_of(_counts(max(widths)), nice_ticks([0.0, *widths.values()], []))
    sheet = Sheet()
    draw_axes(sheet, axes, "Number of bars n", "Half-width of the 95 % interval in kJ/m²")
    others = [(n, width) for n, width in widths.items() if n != chart.own_n]
    sheet.line(axes.points(widths.items()), paint=Paint.BAND, width_px=style.EDGE_WIDTH_PX, name="line")
    sheet.marks(axes.points(others), _OTHER, name="marks")
    entries = [Entry("mark", f"with s = {short_figures(chart.standard_deviation_kJ_m2, _FIGURES)} kJ/m²", _OTHER)]
    if chart.own_n in widths:
        _draw_own(sheet, axes, chart.own_n, widths[chart.own_n])
        entries.append(Entry("mark", f"this record, n = {chart.own_n}", _OWN))
    top = axes.bottom_px
    return sheet.svg(top + draw_legend(sheet, entries, top), chart.id_prefix, chart.title, _description(chart))


def _counts(most: int) -> list[float]:
    """Ticks from 2 on, wider apart for many specimens."""
    step = _TICK_STEP
    while _FIRST_TICK + (_MOST_TICKS - 1) * step < most:
        step *= 2.0
    return [_FIRST_TICK + step * place for place in range(max(math.ceil((most - _FIRST_TICK) / step), 1) + 1)]


def _draw_own(sheet: Sheet, axes: Axes, n: int, width: float) -> None:
    x, y = axes.point(n, width)
    sheet.line([(axes.level.first_px, y), (x, y), (x, axes.upright.first_px)], stroke="dotted", name="own-lines")
    sheet.marks([(x, y)], _OWN, name="own")


def _description(chart: IntervalChart) -> str:
    """Every width by its number."""
    scatter = short_figures(chart.standard_deviation_kJ_m2, _FIGURES)
    listing = "; ".join(f"{n} bars {short_figures(width, _FIGURES)}" for n, width in chart.half_widths_kJ_m2.items())
    return (
        f"Half-width of the 95 % interval of the mean in kJ/m² for a standard deviation of {scatter} kJ/m². "
        f"The record has {chart.own_n} bars. {listing}."
    )
