"""One quantity against another between two straight axes: the loss correction over the rise, the interval over bars."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from notchbook.charts import style
from notchbook.charts.legend import Entry, draw_legend
from notchbook.charts.outlines import Point
from notchbook.charts.scale import Scale, nice_ticks, tick_labels
from notchbook.charts.sheet import Sheet, Stroke
from notchbook.charts.shown import Shown
from notchbook.charts.style import Look, Paint
from notchbook.charts.words import estimated_width_px
from notchbook.wording.numbers import short_figures

_TITLE_PX = 24.0
"""Height of the line that names the upright quantity."""
_PLOT_PX = 168.0
_TICK_GAP_PX = 6.0
_RIGHT_PX = 12.0
"""From the right end of the plot to the edge of the chart, for half of a tick label."""
_RAISE_PX = 4.0
"""From the middle of a text down to its base line."""
_AXIS_PX = 42.0
"""Height of the tick labels and the name of the level quantity below the plot."""


@dataclass(frozen=True, slots=True)
class Axes:
    """Both scales of a chart."""

    level: Scale
    upright: Scale

    @property
    def bottom_px(self) -> float:
        """Where what comes below the axes may begin."""
        return self.upright.first_px + _AXIS_PX

    def point(self, x: float, y: float) -> Point:
        """Where a pair of values lies."""
        return self.level.px(x), self.upright.px(y)

    def points(self, pairs: Iterable[tuple[float, float]]) -> list[Point]:
        """Where pairs of values lie."""
        return [self.point(x, y) for x, y in pairs]


def axes_of(level_ticks: Sequence[float], upright_ticks: Sequence[float]) -> Axes:
    """Axes that fill the width of a chart beside the numbers of the upright one."""
    left = max(estimated_width_px(each, style.FONT_PX) for each in tick_labels(upright_ticks)) + _TICK_GAP_PX
    return Axes(
        Scale(tuple(level_ticks), left, style.WIDTH_PX - _RIGHT_PX),
        Scale(tuple(upright_ticks), _TITLE_PX + _PLOT_PX, _TITLE_PX),
    )


def draw_axes(sheet: Sheet, axes: Axes, level_name: str, upright_name: str) -> None:
    """Level lines at the upright ticks, the level axis with its ticks, numbers and names."""
    left, right = axes.level.first_px, axes.level.last_px
    sheet.text((0.0, style.FONT_PX), upright_name)
    lines: list[list[Point]] = []
    for tick, label in zip(axes.upright.ticks, axes.upright.labels(), strict=True):
        y = axes.upright.px(tick)
        lines.append([(left, y), (right, y)])
        sheet.text((left - _TICK_GAP_PX, y + _RAISE_PX), label, anchor="end")
    sheet.line(*lines, opacity=style.GRID_OPACITY, name="grid")
    base = axes.upright.first_px
    strokes: list[list[Point]] = [[(left, base), (right, base)]]
    for tick, label in zip(axes.level.ticks, axes.level.labels(), strict=True):
        x = axes.level.px(tick)
        strokes.append([(x, base), (x, base + 4.0)])
        sheet.text((x, base + style.LINE_PX), label, anchor="middle")
    sheet.line(*strokes, name="axis")
    sheet.text(((left + right) / 2.0, base + style.LINE_PX + 18.0), level_name, anchor="middle")


_TICK_DEG = 30.0
_LOSS_FIGURES = 3
_PLASTICS, _METALS = Look("disc", 8.0, Paint.COMPLETE), Look("diamond", 6.8, Paint.HINGE)


@dataclass(frozen=True, slots=True)
class LossChart(Shown):
    """What a chart of the loss correction shows."""

    release_angle_deg: float
    rise_deg: tuple[float, ...]
    """Angles of rise, ascending, at least two."""
    plastics_J: tuple[float, ...]
    """Correction at each angle in the form of the plastics methods."""
    metals_J: tuple[float, ...]
    """The same in the form of the metals methods."""


def loss_chart(chart: LossChart) -> str:
    """Two lines over the angle of rise, with marks at both ends, as SVG.

    Raises:
        ValueError: There are fewer than two angles, not as many corrections, or a number is not finite.
    """
    values = [*chart.plastics_J, *chart.metals_J]
    if len(chart.rise_deg) < 2 or not len(chart.rise_deg) == len(chart.plastics_J) == len(chart.metals_J):
        raise ValueError("a chart of the loss correction needs two angles or more, each with both corrections")
    if not all(map(math.isfinite, [*values, *chart.rise_deg, chart.release_angle_deg])):
        raise ValueError("a chart of the loss correction needs finite numbers only")
    last = math.ceil(max(chart.release_angle_deg, chart.rise_deg[-1]) / _TICK_DEG)
    axes = axes_of([_TICK_DEG * step for step in range(last + 1)], nice_ticks([0.0, *values], []))
    sheet = Sheet(chart.id_prefix)
    draw_axes(sheet, axes, "Angle of rise in degrees", "Loss correction in J")
    lines: tuple[tuple[str, tuple[float, ...], Look, Stroke], ...] = (
        ("plastics", chart.plastics_J, _PLASTICS, "solid"),
        ("metals", chart.metals_J, _METALS, "dashed"),
    )
    for name, losses, look, stroke in lines:
        points = axes.points(zip(chart.rise_deg, losses, strict=True))
        sheet.line(points, paint=look.paint, width_px=style.MEAN_WIDTH_PX, stroke=stroke, name=name)
        sheet.marks([points[0], points[-1]], look, name=f"{name}-ends")
    top = axes.bottom_px
    entries = [Entry("mark", "plastics methods", _PLASTICS), Entry("mark", "metals methods", _METALS)]
    return sheet.svg(top + draw_legend(sheet, entries, top), chart.title, _losses_in_words(chart))


def _losses_in_words(chart: LossChart) -> str:
    """Both corrections at both ends of the angles, and how far they are apart at the most."""
    first, last = chart.rise_deg[0], chart.rise_deg[-1]
    apart = max(abs(one - other) for one, other in zip(chart.plastics_J, chart.metals_J, strict=True))
    sentences = [f"Loss correction against the angle of rise, from {first:g}° to {last:g}°."]
    for name, losses in (("plastics", chart.plastics_J), ("metals", chart.metals_J)):
        start, end = short_figures(losses[0], _LOSS_FIGURES), short_figures(losses[-1], _LOSS_FIGURES)
        sentences.append(f"In the form of the {name} methods it goes from {start} J to {end} J.")
    sentences.append(f"The two are {short_figures(apart, _LOSS_FIGURES)} J apart at the most.")
    return " ".join(sentences)


_FIRST_TICK = 2.0
_TICK_STEP = 2.0
_MOST_TICKS = 12
_WIDTH_FIGURES = 2
_OTHER, _OWN = Look("disc", 5.5, Paint.BAND), Look("disc", 9.0, Paint.COMPLETE)


@dataclass(frozen=True, slots=True)
class IntervalChart(Shown):
    """What a chart of intervals shows."""

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
    sheet = Sheet(chart.id_prefix)
    draw_axes(sheet, axes, "Number of bars n", "Half-width of the 95 % interval in kJ/m², from scatter alone")
    others = [(n, width) for n, width in widths.items() if n != chart.own_n]
    sheet.line(axes.points(widths.items()), paint=Paint.BAND, width_px=style.EDGE_WIDTH_PX, name="line")
    sheet.marks(axes.points(others), _OTHER, name="marks")
    entries = [Entry("mark", f"with s = {short_figures(chart.standard_deviation_kJ_m2, _WIDTH_FIGURES)} kJ/m²", _OTHER)]
    if chart.own_n in widths:
        x, y = axes.point(chart.own_n, widths[chart.own_n])
        sheet.line([(axes.level.first_px, y), (x, y), (x, axes.upright.first_px)], stroke="dotted", name="own-lines")
        sheet.marks([(x, y)], _OWN, name="own")
        entries.append(Entry("mark", f"this record, n = {chart.own_n}", _OWN))
    top = axes.bottom_px
    return sheet.svg(top + draw_legend(sheet, entries, top), chart.title, _widths_in_words(chart))


def _counts(most: int) -> list[float]:
    """Ticks from 2 on, wider apart for many specimens."""
    step = _TICK_STEP
    while _FIRST_TICK + (_MOST_TICKS - 1) * step < most:
        step *= 2.0
    return [_FIRST_TICK + step * place for place in range(max(math.ceil((most - _FIRST_TICK) / step), 1) + 1)]


def _widths_in_words(chart: IntervalChart) -> str:
    """Every width by its number."""
    scatter = short_figures(chart.standard_deviation_kJ_m2, _WIDTH_FIGURES)
    widths = chart.half_widths_kJ_m2
    listing = "; ".join(f"{n} bars {short_figures(width, _WIDTH_FIGURES)}" for n, width in widths.items())
    return (
        f"Half-width of the 95 % interval of the mean in kJ/m², from scatter alone, for a standard deviation of "
        f"{scatter} kJ/m². "
        f"The record has {chart.own_n} bars. {listing}."
    )
