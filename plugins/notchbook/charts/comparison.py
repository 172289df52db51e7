"""Results of several records on one axis, a row each."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from notchbook.charts import style
from notchbook.charts.descriptions import describe_comparison
from notchbook.charts.kinds import BreakKind, look_of
from notchbook.charts.legend import Entry, break_entries, draw_legend, whisker
from notchbook.charts.outlines import Point
from notchbook.charts.scale import Scale, decade_ticks, nice_ticks
from notchbook.charts.sheet import Sheet
from notchbook.charts.shown import ComparisonChart, ComparisonGroup, ComparisonRow
from notchbook.charts.style import Paint
from notchbook.charts.words import estimated_width_px, identifier, shortened
from notchbook.model.quantity import IMPACT_STRENGTH
from notchbook.wording.lines import one_line
from notchbook.wording.lists import counted
from notchbook.wording.numbers import short_figures

MOST_ROWS = 40
"""More are not drawn; the chart says how many are left out."""
_WIDEST_LABEL_PX = 132.0
_WIDEST_RESULT_PX = 84.0
_WIDEST_HEADING_PX = 320.0
_NO_VALUE_PX = 5.0
"""From the right edge of the plot to the mark of a result without a value."""
_HOLLOW_PX = 4.5
"""Half the width that an interval leaves free for a hollow mark."""
_GAP_PX = 9.0
_ROW_PX = 18.0
_HEADING_PX = 22.0
_AXIS_PX = 34.0
"""Height of the quantity's name and the tick labels above the rows."""
_MANY_ROWS = 14
"""From here on the tick labels stand below the rows as well."""
_RAISE_PX = 4.0
"""From the middle of a text down to its base line."""


def comparison_chart(chart: ComparisonChart) -> str:
    """Mean and 95 % interval of each result on one axis, as SVG; the height grows with the rows, `MOST_ROWS` at most.

    A result without a value has its mark at the right edge of the plot; one that departs from the procedure is hollow
    and starred.

    Raises:
        ValueError: There is no row, a number is not finite, or a mean on a logarithmic axis is not greater than 0.
    """
    groups = _first_rows(chart.groups)
    shown = replace(chart, groups=groups)
    rows = [row for group in groups for row in group.rows]
    if not rows:
        raise ValueError("a chart of results needs at least one")
    means = [row.mean_kJ_m2 for row in rows if row.mean_kJ_m2 is not None]
    find_ticks = decade_ticks if chart.logarithmic else nice_ticks
    ticks = find_ticks(means, [row.interval_kJ_m2 for row in rows]) if means else None
    sheet = Sheet(chart.id_prefix)
    left, right = _columns(rows)
    scale = Scale(ticks, left, right, chart.logarithmic) if ticks else None
    places = _places(groups)
    bottom = places[-1][1] + _ROW_PX / 2.0 + 2.0
    axis = f"{IMPACT_STRENGTH.title} in kJ/m²{', logarithmic axis' if chart.logarithmic else ''}"
    title = axis if scale else "No result has a value"
    sheet.text((0.0, style.FONT_PX), title)
    placed_rows = [(item, y) for item, y in places if isinstance(item, ComparisonRow)]
    # a faint line from each label to its result
    guides = ([(left, y), (right, y)] for _, y in placed_rows)
    sheet.line(*guides, opacity=style.GRID_OPACITY, stroke="dotted")
    if scale:
        if chart.middle_kJ_m2 is not None:
            x = scale.px(scale.within(chart.middle_kJ_m2))
            sheet.line([(x, _AXIS_PX - 2.0), (x, bottom)], stroke="dashed", width_px=style.MEAN_WIDTH_PX, name="middle")
        bottom = _draw_axis(sheet, scale, bottom, len(rows))
    _draw_results(sheet, right - _NO_VALUE_PX, scale, placed_rows, chart.kinds)
    for item, y in places:
        if isinstance(item, str):
            sheet.text((0.0, y + _RAISE_PX), shortened(one_line(item), _WIDEST_HEADING_PX, style.FONT_PX), bold=True)
        else:
            sheet.text((0.0, y + _RAISE_PX), _label(item))
            sheet.text((right + _GAP_PX, y + _RAISE_PX), _result(item))
    left_out = sum(len(group.rows) for group in chart.groups) - len(rows)
    if left_out:
        sheet.text((0.0, bottom + style.FONT_PX), f"and {counted(left_out, 'more result')}, not shown")
        bottom += style.LINE_PX
    height = bottom + 4.0 + draw_legend(sheet, _legend(rows, chart), bottom + 4.0)
    return sheet.svg(height, chart.title, describe_comparison(shown, left_out))


def _first_rows(groups: Sequence[ComparisonGroup]) -> tuple[ComparisonGroup, ...]:
    """The groups with as many rows as are drawn; groups without any are left out."""
    room, found = MOST_ROWS, []
    for group in groups:
        if rows := group.rows[:room]:
            found.append(replace(group, rows=rows))
        room -= len(rows)
    return tuple(found)


def _places(groups: Sequence[ComparisonGroup]) -> list[tuple[str | ComparisonRow, float]]:
    """Headings and rows with the height of their middle."""
    y, found = _AXIS_PX, list[tuple[str | ComparisonRow, float]]()
    for group in groups:
        if group.heading:
            found.append((group.heading, y + _HEADING_PX / 2.0 + 2.0))
            y += _HEADING_PX
        for row in group.rows:
            found.append((row, y + _ROW_PX / 2.0))
            y += _ROW_PX
    return found


def _result(row: ComparisonRow) -> str:
    value = [] if row.mean_kJ_m2 is None else [short_figures(row.mean_kJ_m2, style.FIGURES)]
    share = [f"({row.share})"] if row.share else []
    text = " ".join([*value, "/".join(row.breaks), *share, *(["*"] if row.deviates else [])])
    return shortened(one_line(text), _WIDEST_RESULT_PX, style.FONT_PX)


def _label(row: ComparisonRow) -> str:
    return shortened(one_line(row.label), _WIDEST_LABEL_PX, style.FONT_PX)


def _columns(rows: Sequence[ComparisonRow]) -> tuple[float, float]:
    """Left and right edge of the plot between the labels and the results."""
    labels = max(estimated_width_px(_label(row), style.FONT_PX) for row in rows)
    results = max(estimated_width_px(_result(row), style.FONT_PX) for row in rows)
    return labels + _GAP_PX, style.WIDTH_PX - results - _GAP_PX


def _draw_axis(sheet: Sheet, scale: Scale, bottom: float, rows: int) -> float:
    """Grid and tick labels; returns where the axis ends below."""
    positions = [scale.px(tick) for tick in scale.ticks]
    sheet.line(*([(x, _AXIS_PX - 2.0), (x, bottom)] for x in positions), opacity=style.GRID_OPACITY, name="grid")
    heights = [_AXIS_PX - 7.0, *([bottom + style.FONT_PX + 2.0] if rows >= _MANY_ROWS else [])]
    for height in heights:
        for x, label in zip(positions, scale.labels(), strict=True):
            sheet.text((x, height), label, anchor="middle")
    return bottom + (style.LINE_PX if len(heights) > 1 else 0.0)


def _draw_results(
    sheet: Sheet,
    no_value_px: float,
    scale: Scale | None,
    rows: Sequence[tuple[ComparisonRow, float]],
    kinds: Mapping[str, BreakKind],
) -> None:
    """Intervals of one paint together, then marks of one look together on top of them."""
    intervals: dict[Paint, list[list[Point]]] = {}
    marks: dict[tuple[str, bool], list[Point]] = {}
    for row, y in rows:
        x = no_value_px
        if scale is not None and row.mean_kJ_m2 is not None:
            x = scale.px(row.mean_kJ_m2)
            if row.interval_kJ_m2 is not None:
                low, high = row.interval_kJ_m2
                strokes = whisker(
                    (scale.px(scale.within(low)), scale.within(low) != low),
                    (scale.px(scale.within(high)), scale.within(high) != high),
                    y,
                    gap=(x - _HOLLOW_PX, x + _HOLLOW_PX) if row.deviates else None,
                )
                intervals.setdefault(look_of(row.breaks[0], kinds).paint, []).extend(strokes)
        marks.setdefault((row.breaks[0], row.deviates), []).append((x, y))
    for paint, strokes in intervals.items():
        sheet.line(*strokes, paint=paint, width_px=style.MEAN_WIDTH_PX, name=f"intervals-{paint.name.lower()}")
    for (letter, deviates), points in marks.items():
        name = f"marks-{identifier(letter)}{'-deviating' if deviates else ''}"
        sheet.marks(points, look_of(letter, kinds), hollow=deviates, name=name)


def _legend(rows: Sequence[ComparisonRow], chart: ComparisonChart) -> list[Entry]:
    entries = break_entries((letter for row in rows for letter in row.breaks), chart.kinds)
    if any(row.deviates for row in rows):
        entries.append(Entry("hollow", "* departs from the procedure"))
    if any(row.interval_kJ_m2 is not None for row in rows):
        entries.append(Entry("interval", "mean with its 95 % interval"))
    if chart.middle_kJ_m2 is not None:
        entries.append(Entry("line", "dashed: mean of all bars"))
    return entries
