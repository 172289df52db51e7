"""The loss correction against the angle of rise, in both forms that are in use."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from notchbook.charts import style
from notchbook.charts.legend import Entry, draw_legend
from notchbook.charts.scale import nice_ticks
from notchbook.charts.sheet import Sheet
from notchbook.charts.style import Look, Paint
from notchbook.charts.theory_axes import axes_of, draw_axes
from notchbook.wording.numbers import short_figures

if TYPE_CHECKING:
    from notchbook.charts.sheet import Stroke

_TICK_DEG = 30.0
_FIGURES = 3
_PLASTICS, _METALS = Look("o", 8.0, Paint.COMPLETE), Look("D", 6.8, Paint.HINGE)


@dataclass(frozen=True, slots=True)
class LossChart:
    """What a chart of the loss correction shows."""

    id_prefix: str
    """Starts every id in the SVG; no other chart on the page may have the same."""
    title: str
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
    sheet = Sheet()
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
    return sheet.svg(top + draw_legend(sheet, entries, top), chart.id_prefix, chart.title, _description(chart))


def _description(chart: LossChart) -> str:
    """Both corrections at both ends of the angles, and how far they are apart at the most."""
    first, last = chart.rise_deg[0], chart.rise_deg[-1]
    apart = max(abs(one - other) for one, other in zip(chart.plastics_J, chart.metals_J, strict=True))
    sentences = [f"Loss correction against the angle of rise, from {first:g}° to {last:g}°."]
    for name, losses in (("plastics", chart.plastics_J), ("metals", chart.metals_J)):
        start, end = short_figures(losses[0], _FIGURES), short_figures(losses[-1], _FIGURES)
        sentences.append(f"In the form of the {name} methods it goes from {start} J to {end} J.")
    sentences.append(f"The two are {short_figures(apart, _FIGURES)} J apart at the most.")
    return " ".join(sentences)
