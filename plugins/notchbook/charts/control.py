"""A control chart: means of records in their order with limits, and the ranges from one to the next."""

import datetime as dt
import math
from collections.abc import Sequence
from dataclasses import dataclass

from notchbook.charts import style
from notchbook.charts.legend import Entry, draw_legend
from notchbook.charts.scale import Scale, nice_ticks, tick_labels
from notchbook.charts.sheet import Sheet
from notchbook.charts.shown import Shown
from notchbook.charts.style import Look, Paint
from notchbook.charts.words import estimated_width_px
from notchbook.wording.lists import counted
from notchbook.wording.numbers import short_figures

MOST_POINTS = 40
"""The newest are drawn; the chart says how many are left out."""
_TITLE_PX = 24.0
_VALUES_PX = 120.0
_RANGES_PX = 54.0
_GAP_PX = 30.0
"""Between the panels, for the name of the lower one."""
_EVENTS_PX = 14.0
_RIGHT_PX = 8.0
_TICK_GAP_PX = 6.0
_RAISE_PX = 4.0
_USUAL = Look("disc", 7.0, Paint.COMPLETE)
_SIGNAL = Look("diamond", 7.4, Paint.HINGE)
_VERIFIED = Look("triangle", 7.4, Paint.INK)
_RANGE = Look("disc", 4.6, Paint.INK)


@dataclass(frozen=True, slots=True)
class ControlPoint:
    """One record."""

    date: dt.date
    value: float
    is_signal: bool


@dataclass(frozen=True, slots=True)
class ControlTime:
    """The records between two repairs, with the limits that hold for them."""

    points: tuple[ControlPoint, ...]
    """In their order, at least one."""
    centre: float
    limits: tuple[float, float] | None
    """None for a single record."""
    highest_range: float | None
    """Limit of the ranges."""


@dataclass(frozen=True, slots=True)
class ControlChart(Shown):
    """What a control chart shows."""

    quantity: str
    """Of the values, with the unit."""
    times: tuple[ControlTime, ...]
    """One after the other, at least one."""
    verified: tuple[dt.date, ...]
    repaired: tuple[dt.date, ...]


@dataclass(frozen=True, slots=True)
class _Placed:
    """A chart's points side by side in their order."""

    points: Sequence[ControlPoint]
    left_px: float
    step_px: float

    def x(self, place: float) -> float:
        """The middle of a point's place."""
        return self.left_px + (place + 0.5) * self.step_px

    def before(self, day: dt.date) -> float | None:
        """Left of the first point of that day or later; None where it is before the first point or after the last."""
        place = sum(each.date < day for each in self.points)
        return self.left_px + place * self.step_px if 0 < place < len(self.points) else None


def control_chart(chart: ControlChart) -> str:
    """Two panels over the same records as SVG: values with centre line and limits, ranges with theirs.

    Records stand side by side in their order with the year at its first one; a triangle stands where the pendulum was
    verified, a dotted line where it was repaired. A signal is a diamond.

    Raises:
        ValueError: There is no point, or a number is not finite.
    """
    points = [each for time in chart.times for each in time.points]
    ends = [end for time in chart.times for end in (time.centre, *(time.limits or ()), time.highest_range or 0.0)]
    if not points or not all(map(math.isfinite, [*(each.value for each in points), *ends])):
        raise ValueError("a control chart needs a record or more, and finite numbers only")
    left_out = max(len(points) - MOST_POINTS, 0)
    limits = [time.limits for time in chart.times]
    ticks = nice_ticks([each.value for each in points], limits)
    ranges = _ranges(chart.times)
    range_ticks = nice_ticks([0.0, *(each for each in ranges if each is not None), *_highest(chart.times)], [])
    widest = max(estimated_width_px(each, style.FONT_PX) for each in (*tick_labels(ticks), *tick_labels(range_ticks)))
    left = widest + _TICK_GAP_PX
    shown = points[left_out:]
    placed = _Placed(shown, left, (style.WIDTH_PX - _RIGHT_PX - left) / len(shown))
    values = Scale(ticks, _TITLE_PX + _VALUES_PX, _TITLE_PX)
    base = values.first_px + _EVENTS_PX + _GAP_PX + _RANGES_PX
    lower = Scale((range_ticks[0], range_ticks[-1]), base, base - _RANGES_PX)
    sheet = Sheet(chart.id_prefix)
    _draw_frame(sheet, values, placed, chart.quantity)
    _draw_frame(sheet, lower, placed, "Range from one record to the next")
    _draw_limits(sheet, chart.times, values, lower, placed, left_out)
    _draw_events(sheet, chart, values, lower, placed)
    line = [(placed.x(place), values.px(each.value)) for place, each in enumerate(shown)]
    sheet.line(line, opacity=0.5, name="order")
    for look, is_signal, name in ((_USUAL, False, "records"), (_SIGNAL, True, "signals")):
        sheet.marks((at for at, each in zip(line, shown, strict=True) if each.is_signal == is_signal), look, name=name)
    drawn = [(placed.x(place), lower.px(each)) for place, each in enumerate(ranges[left_out:]) if each is not None]
    sheet.marks(drawn, _RANGE, name="ranges")
    _draw_years(sheet, placed, base)
    top = base + style.LINE_PX + 10.0
    if left_out:
        sheet.text((0.0, top + style.FONT_PX - 4.0), f"{counted(left_out, 'earlier record')} not drawn")
        top += style.LINE_PX
    return sheet.svg(top + draw_legend(sheet, _legend(chart), top), chart.title, _in_words(chart))


def _ranges(times: Sequence[ControlTime]) -> list[float | None]:
    """From the record before to each; none for the first one after a repair."""
    found: list[float | None] = []
    for time in times:
        for place, each in enumerate(time.points):
            found.append(abs(each.value - time.points[place - 1].value) if place else None)
    return found


def _highest(times: Sequence[ControlTime]) -> list[float]:
    return [each.highest_range for each in times if each.highest_range is not None]


def _draw_frame(sheet: Sheet, upright: Scale, placed: _Placed, name: str) -> None:
    left, right = placed.left_px, style.WIDTH_PX - _RIGHT_PX
    sheet.text((0.0, upright.last_px - _TITLE_PX + style.FONT_PX), name)
    for tick, label in zip(upright.ticks, upright.labels(), strict=True):
        sheet.line([(left, upright.px(tick)), (right, upright.px(tick))], opacity=style.GRID_OPACITY)
        sheet.text((left - _TICK_GAP_PX, upright.px(tick) + _RAISE_PX), label, anchor="end")


def _draw_limits(
    sheet: Sheet, times: Sequence[ControlTime], values: Scale, lower: Scale, placed: _Placed, left_out: int
) -> None:
    """Centre line and limits, each over the records that they hold for."""
    end = -left_out
    for number, time in enumerate(times):
        begin, end = end, end + len(time.points)
        if end <= 0:
            continue
        left = placed.left_px + max(begin, 0) * placed.step_px
        right = placed.left_px + end * placed.step_px

        def level(scale: Scale, value: float, left: float = left, right: float = right) -> list[tuple[float, float]]:
            y = scale.px(scale.within(value))
            return [(left, y), (right, y)]

        sheet.line(level(values, time.centre), width_px=style.MEAN_WIDTH_PX, name=f"centre-{number}")
        if time.limits is not None:
            lines = [level(values, each) for each in time.limits]
            sheet.line(*lines, width_px=style.EDGE_WIDTH_PX, stroke="dashed", name=f"limits-{number}")
        if time.highest_range is not None:
            highest = level(lower, time.highest_range)
            sheet.line(highest, width_px=style.EDGE_WIDTH_PX, stroke="dashed", name=f"range-limit-{number}")


def _draw_events(sheet: Sheet, chart: ControlChart, values: Scale, lower: Scale, placed: _Placed) -> None:
    verified = {x for day in chart.verified if (x := placed.before(day)) is not None}
    repaired = {x for day in chart.repaired if (x := placed.before(day)) is not None}
    sheet.marks([(x, values.first_px + _EVENTS_PX / 2.0 + 2.0) for x in sorted(verified)], _VERIFIED, name="verified")
    strokes = [[(x, scale.first_px), (x, scale.last_px)] for x in sorted(repaired) for scale in (values, lower)]
    sheet.line(*strokes, paint=Paint.HINGE, width_px=style.MEAN_WIDTH_PX, stroke="dotted", name="repaired")


def _draw_years(sheet: Sheet, placed: _Placed, base: float) -> None:
    """The year below its first record, where there is room behind the one before."""
    free = 0.0
    for place, each in enumerate(placed.points):
        if place and placed.points[place - 1].date.year == each.date.year:
            continue
        x, width = placed.left_px + place * placed.step_px, estimated_width_px("2000", style.FONT_PX)
        sheet.line([(x, base), (x, base + 4.0)])
        if x >= free and x + width <= style.WIDTH_PX:
            sheet.text((x, base + style.LINE_PX), str(each.date.year))
            free = x + width + _TICK_GAP_PX


def _legend(chart: ControlChart) -> list[Entry]:
    entries = [Entry("mark", "mean of a record", _USUAL)]
    if any(each.is_signal for time in chart.times for each in time.points):
        entries.append(Entry("mark", "signal", _SIGNAL))
    entries.append(Entry("line", "centre line; limits dashed"))
    if chart.verified:
        entries.append(Entry("mark", "verified", _VERIFIED))
    if chart.repaired:
        entries.append(Entry("line", "dotted: repaired"))
    return entries


def _in_words(chart: ControlChart) -> str:
    """Limits and values in sentences."""
    sentences = [f"{chart.quantity} of records in their order."]
    for time in chart.times:
        said = f"Centre line {short_figures(time.centre, style.FIGURES)}"
        if time.limits is not None:
            said += f", limits {' and '.join(short_figures(each, style.FIGURES) for each in time.limits)}"
        listed = "; ".join(
            f"{each.date.isoformat()} {short_figures(each.value, style.FIGURES)}" + ", a signal" * each.is_signal
            for each in time.points
        )
        sentences.append(f"{said}: {listed}.")
    for what, days in (("Verified", chart.verified), ("Repaired", chart.repaired)):
        if days:
            sentences.append(f"{what} {', '.join(each.isoformat() for each in days)}.")
    return " ".join(sentences)
