"""Losses as charts: those of a rig's hammers over the years, and the energy left after free half swings."""

import calendar
import datetime as dt
import math
from dataclasses import dataclass

from notchbook.charts import style
from notchbook.charts.legend import Entry, draw_legend
from notchbook.charts.outlines import Point
from notchbook.charts.scale import Scale, nice_ticks
from notchbook.charts.sheet import Sheet
from notchbook.charts.shown import Shown
from notchbook.charts.style import Look, Paint
from notchbook.charts.theory import axes_of, draw_axes
from notchbook.charts.words import estimated_width_px, shortened
from notchbook.evaluation.losses import EnergyLeft
from notchbook.wording.lists import counted
from notchbook.wording.numbers import minus, short_figures

_TITLE_PX = 24.0
_LABEL_PX = 18.0
_STRIP_PX = 34.0
_GAP_PX = 12.0
"""Between one strip and the name of the next."""
_EDGE_PX = 16.0
_LIMIT_PCT = 100.0
_MOST_TICKS = 8
_MARK = Look("disc", 8.0, Paint.COMPLETE)
_OVER = Look("diamond", 7.4, Paint.HINGE)


@dataclass(frozen=True, slots=True)
class LossPoint:
    """One verification."""

    date: dt.date
    share_pct: float
    """Indicator, bearing and air loss in percent of what the method allows that energy."""


@dataclass(frozen=True, slots=True)
class HammerLosses:
    """One hammer."""

    label: str
    points: tuple[LossPoint, ...]
    """By date, at least one."""


@dataclass(frozen=True, slots=True)
class LossesOverTimeChart(Shown):
    """What a chart of losses over time shows."""

    hammers: tuple[HammerLosses, ...]
    """From above to below, at least one."""
    repaired: tuple[dt.date, ...] = ()
    """Days on which something was done to the rig."""


def losses_over_time_chart(chart: LossesOverTimeChart) -> str:
    """A strip a hammer under one another, all with the same years and the same height for the same share, as SVG.

    The base line of a strip is 0, the dashed line the limit. A loss beyond it is a diamond.

    Raises:
        ValueError: There is no hammer or one without a point, or a share is not finite.
    """
    shares = [each.share_pct for hammer in chart.hammers for each in hammer.points]
    if not shares or not all(hammer.points for hammer in chart.hammers) or not all(map(math.isfinite, shares)):
        raise ValueError("a chart of losses needs hammers with one loss or more each, and finite numbers only")
    years = _years([*(each.date for hammer in chart.hammers for each in hammer.points), *chart.repaired])
    level = Scale(years, _EDGE_PX, style.WIDTH_PX - _EDGE_PX)
    lowest, highest = min(0.0, *shares), max(_LIMIT_PCT, *shares)
    sheet = Sheet(chart.id_prefix)
    sheet.text((0.0, style.FONT_PX), "Loss in % of what is allowed (dashed line)")
    top = _TITLE_PX
    for place, hammer in enumerate(chart.hammers):
        base = top + _LABEL_PX + _STRIP_PX
        upright = Scale((lowest, highest), base, base - _STRIP_PX)
        _draw_strip(sheet, hammer, level, upright, top, place)
        top = base + _GAP_PX
    base = top - _GAP_PX
    repaired = [[(x, _TITLE_PX), (x, base)] for x in (level.px(_in_years(day)) for day in chart.repaired)]
    sheet.line(*repaired, paint=Paint.HINGE, width_px=style.EDGE_WIDTH_PX, stroke="dotted", name="repaired")
    for year in years:
        sheet.line([(level.px(year), base), (level.px(year), base + 4.0)])
        sheet.text((level.px(year), base + style.LINE_PX), f"{year:.0f}", anchor="middle")
    return sheet.svg(base + style.LINE_PX + 8.0, chart.title, _losses_in_words(chart))


def _years(dates: list[dt.date]) -> tuple[float, ...]:
    """The first days of the years that take in all dates, or of some of them."""
    first, last = min(dates).year, max(dates).year + 1
    step = math.ceil((last - first) / _MOST_TICKS)
    return tuple(float(first + step * place) for place in range(math.ceil((last - first) / step) + 1))


def _in_years(date: dt.date) -> float:
    return date.year + (date.timetuple().tm_yday - 1) / (366.0 if calendar.isleap(date.year) else 365.0)


def _draw_strip(sheet: Sheet, hammer: HammerLosses, level: Scale, upright: Scale, top: float, place: int) -> None:
    left, right = level.first_px, level.last_px
    newest = f"{_share(hammer.points[-1])} %"
    room = style.WIDTH_PX - estimated_width_px(newest, style.FONT_PX) - _GAP_PX
    sheet.text((0.0, top + style.FONT_PX), shortened(hammer.label, room, style.FONT_PX), bold=True)
    sheet.text((style.WIDTH_PX, top + style.FONT_PX), newest, anchor="end")
    zero, limit = upright.px(0.0), upright.px(_LIMIT_PCT)
    sheet.line([(left, zero), (right, zero)], name=f"zero-{place}")
    sheet.line([(left, limit), (right, limit)], width_px=style.EDGE_WIDTH_PX, stroke="dashed", name=f"limit-{place}")
    points: list[tuple[LossPoint, Point]] = [
        (each, (level.px(_in_years(each.date)), upright.px(each.share_pct))) for each in hammer.points
    ]
    if len(points) > 1:
        sheet.line([at for _, at in points], paint=_MARK.paint, width_px=style.MEAN_WIDTH_PX, name=f"line-{place}")
    sheet.marks([at for each, at in points if each.share_pct <= _LIMIT_PCT], _MARK, name=f"losses-{place}")
    sheet.marks([at for each, at in points if each.share_pct > _LIMIT_PCT], _OVER, name=f"over-{place}")


def _share(point: LossPoint) -> str:
    return minus(f"{point.share_pct:.0f}")


def _losses_in_words(chart: LossesOverTimeChart) -> str:
    sentences = ["Indicator, bearing and air loss in percent of what the method allows that energy."]
    for hammer in chart.hammers:
        listed = "; ".join(f"{each.date.isoformat()} {_share(each)} %" for each in hammer.points)
        sentences.append(f"{hammer.label}: {listed}.")
    if chart.repaired:
        sentences.append(f"Repaired {', '.join(each.isoformat() for each in chart.repaired)}.")
    return " ".join(sentences)


_MOST_NUMBERS = 6
_STEPS = 40
"""Straight pieces that the curve is drawn of."""
_FIGURES = 4


@dataclass(frozen=True, slots=True)
class EnergyLeftChart(Shown):
    """What a chart of the energy left shows."""

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
    step = math.ceil(last / _MOST_NUMBERS)
    axes = axes_of([float(each) for each in range(0, last + step, step)], nice_ticks(found.left_pct, []))
    sheet = Sheet(chart.id_prefix)
    draw_axes(sheet, axes, "Half swings since the release", "Energy left in % of the energy released")
    curve = [(last * place / _STEPS, found.fitted_pct(last * place / _STEPS)) for place in range(_STEPS + 1)]
    within = [(x, axes.upright.within(y)) for x, y in curve]
    sheet.line(axes.points(within), paint=Paint.HINGE, width_px=style.MEAN_WIDTH_PX, stroke="dashed", name="fit")
    sheet.marks(axes.points(zip(found.half_swings, found.left_pct, strict=True)), _MARK, name="readings")
    top = axes.bottom_px
    height = top + draw_legend(sheet, [Entry("mark", "release and readings, with the exponential", _MARK)], top)
    return sheet.svg(height, chart.title, _energies_in_words(found))


def _energies_in_words(found: EnergyLeft) -> str:
    readings = zip(found.half_swings[1:], found.left_pct[1:], strict=True)
    said = "; ".join(f"after {counted(n, 'half swing')} {short_figures(pct, _FIGURES)} %" for n, pct in readings)
    return (
        f"Energy left in percent of the energy released: 100 % at the release; {said}. By the exponential through them "
        f"each half swing takes {short_figures(found.half_swing_loss_pct, 3)} % of what is left."
    )
