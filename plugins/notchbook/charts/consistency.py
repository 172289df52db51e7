"""How consistent the cells of a comparison are: h and k of each beside their limits."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from notchbook.charts import style
from notchbook.charts.legend import Entry, draw_legend
from notchbook.charts.scale import Scale
from notchbook.charts.sheet import Sheet
from notchbook.charts.shown import Shown
from notchbook.charts.style import Look, Paint
from notchbook.charts.words import estimated_width_px, shortened
from notchbook.wording.lines import one_line
from notchbook.wording.lists import counted
from notchbook.wording.numbers import to_decimals

MOST_ROWS = 40
"""More are not drawn; the chart says how many are left out."""
_INSIDE = Look("disc", 8.0, Paint.COMPLETE)
_OUTSIDE = Look("diamond", 7.4, Paint.HINGE)
_WIDEST_LABEL_PX = 110.0
_GAP_PX = 16.0
_EDGE_PX = 8.0
_ROW_PX = 18.0
_TOP_PX = 38.0
_ROOM = 1.12
"""An axis ends so many times further out than the furthest of limits and values."""
_LEAST_END = 1.0


@dataclass(frozen=True, slots=True)
class ConsistencyRow:
    """One cell."""

    label: str
    h: float | None
    k: float | None


@dataclass(frozen=True, slots=True)
class ConsistencyChart(Shown):
    """What a chart of h and k shows."""

    rows: tuple[ConsistencyRow, ...]
    """From above to below, at least one."""
    h_limits: tuple[float, ...]
    """Magnitudes that are exceeded by chance in one of twenty and in one of a hundred cells; empty without limits."""
    k_limits: tuple[float, ...]
    """The same of k."""


def consistency_chart(chart: ConsistencyChart) -> str:
    """Two panels with the same rows, h to both sides of 0 and k from 0 on, as SVG; beyond the first limit a diamond.

    The first limit is a dashed line, the second a solid one.

    Raises:
        ValueError: There is no row, or a number is not finite.
    """
    values = [each for row in chart.rows for each in (row.h, row.k) if each is not None]
    if not chart.rows or not all(map(math.isfinite, (*values, *chart.h_limits, *chart.k_limits))):
        raise ValueError("a chart of h and k needs a row and finite numbers only")
    rows = chart.rows[:MOST_ROWS]
    labels = [shortened(one_line(each.label), _WIDEST_LABEL_PX, style.FONT_PX) for each in rows]
    left = max(estimated_width_px(each, style.FONT_PX) for each in labels) + _EDGE_PX
    wide = (style.WIDTH_PX - left - _GAP_PX) / 2.0
    h_end, k_end = (
        _ROOM * max([_LEAST_END, *limits, *(abs(each) for each in found if each is not None)])
        for limits, found in (
            (chart.h_limits, [row.h for row in rows]),
            (chart.k_limits, [row.k for row in rows]),
        )
    )
    h_scale = Scale((-h_end, h_end), left, left + wide)
    k_scale = Scale((0.0, k_end), left + wide + _GAP_PX, style.WIDTH_PX - _EDGE_PX)
    sheet = Sheet(chart.id_prefix)
    heights = [_TOP_PX + (place + 0.5) * _ROW_PX for place in range(len(rows))]
    bottom = _TOP_PX + len(rows) * _ROW_PX + 2.0
    sheet.line(
        *([(scale.first_px, y), (scale.last_px, y)] for y in heights for scale in (h_scale, k_scale)),
        opacity=style.GRID_OPACITY, stroke="dotted",
    )  # fmt: skip
    both = tuple(sign * each for each in chart.h_limits for sign in (-1.0, 1.0))
    _panel(sheet, h_scale, "Mean: h", (0.0, *both), bottom, "h")
    _panel(sheet, k_scale, "Scatter: k", (0.0, *chart.k_limits), bottom, "k")
    for label, y in zip(labels, heights, strict=True):
        sheet.text((0.0, y + 4.0), label)
    _marks(sheet, h_scale, [row.h for row in rows], heights, chart.h_limits, "h")
    _marks(sheet, k_scale, [row.k for row in rows], heights, chart.k_limits, "k")
    left_out = len(chart.rows) - len(rows)
    if left_out:
        sheet.text((0.0, bottom + style.FONT_PX), f"and {counted(left_out, 'more group')}, not shown")
        bottom += style.LINE_PX
    height = bottom + 6.0 + draw_legend(sheet, _legend(chart), bottom + 6.0)
    return sheet.svg(height, chart.title, _in_words(chart, rows, left_out))


def _panel(sheet: Sheet, scale: Scale, title: str, places: Sequence[float], bottom: float, name: str) -> None:
    """Title, middle line and limits of one panel; of a limit that lies close to another only the first is labelled."""
    sheet.text(((scale.first_px + scale.last_px) / 2.0, style.FONT_PX), title, anchor="middle", bold=True)
    zero, *limits = places
    sheet.line([(scale.px(zero), _TOP_PX - 2.0), (scale.px(zero), bottom)], name=f"{name}-zero")
    half = len(limits) // 2
    for stroke, of_stroke, number in (("dashed", limits[:half], 1), ("solid", limits[half:], 2)):
        sheet.line(
            *([(scale.px(each), _TOP_PX - 2.0), (scale.px(each), bottom)] for each in of_stroke),
            paint=Paint.QUIET, stroke="dashed" if stroke == "dashed" else "solid", name=f"{name}-limit-{number}",
        )  # fmt: skip
    for each in (zero, *limits[:half]):
        sheet.text((scale.px(each), _TOP_PX - 7.0), to_decimals(each, 2) if each else "0", anchor="middle")


def _marks(
    sheet: Sheet,
    scale: Scale,
    values: Sequence[float | None],
    heights: Sequence[float],
    limits: Sequence[float],
    name: str,
) -> None:
    usual = limits[0] if limits else math.inf
    placed = [(each, (scale.px(each), y)) for each, y in zip(values, heights, strict=True) if each is not None]
    sheet.marks((point for each, point in placed if abs(each) <= usual), _INSIDE, name=f"{name}-inside")
    sheet.marks((point for each, point in placed if abs(each) > usual), _OUTSIDE, name=f"{name}-outside")


def _legend(chart: ConsistencyChart) -> list[Entry]:
    if not chart.h_limits and not chart.k_limits:
        return [Entry("mark", "no limits for so few groups", _INSIDE)]
    return [
        Entry("mark", "inside the dashed line", _INSIDE),
        Entry("mark", "outside: by chance 1 in 20", _OUTSIDE),
        Entry("line", "solid: by chance 1 in 100"),
    ]


def _in_words(chart: ConsistencyChart, rows: Sequence[ConsistencyRow], left_out: int) -> str:
    """Limits and rows in sentences."""

    def number(value: float | None) -> str:
        return "none" if value is None else to_decimals(value, 2)

    limits = [
        f"{name} beyond {number(found[0])} in one of twenty and beyond {number(found[1])} in one of a hundred"
        for name, found in (("h", chart.h_limits), ("k", chart.k_limits))
        if found
    ]
    sentences = [f"By chance {' and '.join(limits)}."] if limits else ["There are no limits for so few groups."]
    sentences += [f"{'; '.join(f'{each.label} h {number(each.h)}, k {number(each.k)}' for each in rows)}."]
    return " ".join(sentences + ([f"{counted(left_out, 'more group')} not shown."] if left_out else []))
