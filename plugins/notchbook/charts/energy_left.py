"""Energy left in a freely swinging pendulum against the half swings it has made."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from notchbook.charts import style
from notchbook.charts.legend import Entry, draw_legend
from notchbook.charts.scale import nice_ticks
from notchbook.charts.sheet import Sheet
from notchbook.charts.style import Look, Paint
from notchbook.charts.theory import axes_of, draw_axes
from notchbook.wording.lists import counted
from notchbook.wording.numbers import short_figures

if TYPE_CHECKING:
    from notchbook.evaluation.losses import EnergyLeft

_MOST_TICKS = 6
_STEPS = 40
"""Straight pieces that the curve is drawn of."""
_FIGURES = 4
_READ = Look("disc", 8.0, Paint.COMPLETE)


@dataclass(frozen=True, slots=True)
class EnergyLeftChart:
    """What a chart of the energy left shows."""

    id_prefix: str
    """Starts every id in the SVG; no other chart on the page may have the same."""
    title: str
    found: EnergyLeft


def energy_left_chart(chart: EnergyLeftChart) -> str:
    """The readings as marks and the exponential through them as a line, in percent of the energy released, as SVG.

    Raises:
        ValueError: A number is not finite.
    """
    found = chart.found
    if not all(map(math.isfinite, [*found.left_pct, found.decay])):
        raise ValueError("a chart of the energy left needs finite numbers only")
    last = found.half_swings[-1]
    step = math.ceil(last / _MOST_TICKS)
    axes = axes_of([float(each) for each in range(0, last + step, step)], nice_ticks(found.left_pct, []))
    sheet = Sheet(chart.id_prefix)
    draw_axes(sheet, axes, "Half swings since the release", "Energy left in % of the energy released")
    curve = [(last * place / _STEPS, found.fitted_pct(last * place / _STEPS)) for place in range(_STEPS + 1)]
    within = [(x, axes.upright.within(y)) for x, y in curve]
    sheet.line(axes.points(within), paint=Paint.HINGE, width_px=style.MEAN_WIDTH_PX, stroke="dashed", name="fit")
    sheet.marks(axes.points(zip(found.half_swings, found.left_pct, strict=True)), _READ, name="readings")
    top = axes.bottom_px
    height = top + draw_legend(sheet, [Entry("mark", "release and readings, with the exponential", _READ)], top)
    return sheet.svg(height, chart.title, _description(found))


def _description(found: EnergyLeft) -> str:
    readings = zip(found.half_swings[1:], found.left_pct[1:], strict=True)
    said = "; ".join(f"after {counted(n, 'half swing')} {short_figures(pct, _FIGURES)} %" for n, pct in readings)
    return (
        f"Energy left in percent of the energy released: 100 % at the release; {said}. By the exponential through them "
        f"each half swing takes {short_figures(found.half_swing_loss_pct, 3)} % of what is left."
    )
