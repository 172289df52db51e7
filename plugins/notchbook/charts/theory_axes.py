"""Two straight axes with their numbers and names: the frame of a chart of one quantity against another."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from notchbook.charts import style
from notchbook.charts.scale import Scale, tick_labels
from notchbook.charts.words import estimated_width_px

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from notchbook.charts.outlines import Point
    from notchbook.charts.sheet import Sheet

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
