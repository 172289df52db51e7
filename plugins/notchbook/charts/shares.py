"""What each source brings to the variance of a result, as horizontal bars."""

from dataclasses import dataclass

from notchbook.charts import style
from notchbook.charts.scale import Scale
from notchbook.charts.sheet import Sheet
from notchbook.charts.shown import Shown
from notchbook.charts.style import Paint
from notchbook.charts.words import estimated_width_px, shortened
from notchbook.wording.lines import one_line

_TICKS_PCT = (0.0, 25.0, 50.0, 75.0, 100.0)
_TOP_PX = 34.0
"""Height of the quantity's name and of the tick labels above the bars."""
_ROW_PX = 18.0
_BAR_PX = 9.0
_GAP_PX = 8.0
_WIDEST_NAME_PX = 150.0
_LEAST_PCT = 0.1
"""A smaller share is shown as smaller than this."""
_ROUNDING_PCT = 1e-6
"""The share of a single source may be this much over 100 %."""
_RAISE_PX = 0.36 * style.FONT_PX
"""From the middle of a row down to the base line of its text."""
_OPACITY = 0.8


@dataclass(frozen=True, slots=True)
class SharesChart(Shown):
    """What a chart of shares shows."""

    shares: tuple[tuple[str, float], ...]
    """Name of the source and its share of the variance in percent, from above to below; at least one."""


def shares_chart(chart: SharesChart) -> str:
    """A bar for each source along one axis from 0 to 100 %, its share in numbers at the right edge, as SVG.

    Raises:
        ValueError: There is no share, or one is not between 0 and 100 %.
    """
    if not chart.shares or not all(0.0 <= share <= 100.0 + _ROUNDING_PCT for _, share in chart.shares):
        raise ValueError("a chart of shares needs at least one, and each between 0 and 100 %")
    names = [shortened(one_line(name), _WIDEST_NAME_PX, style.FONT_PX) for name, _ in chart.shares]
    numbers = [_percent(share) for _, share in chart.shares]
    left = max(estimated_width_px(each, style.FONT_PX) for each in names) + _GAP_PX
    right = style.WIDTH_PX - max(estimated_width_px(each, style.FONT_PX) for each in numbers) - _GAP_PX
    scale = Scale(_TICKS_PCT, left, right)
    bottom = _TOP_PX + _ROW_PX * len(names)
    sheet = Sheet(chart.id_prefix)
    sheet.text((0.0, style.FONT_PX), "Share of the variance in %")
    _draw_axis(sheet, scale, bottom)
    for row, ((_, share), name, number) in enumerate(zip(chart.shares, names, numbers, strict=True)):
        middle = _TOP_PX + _ROW_PX * (row + 0.5)
        end = scale.px(scale.within(share))
        corners = ((left, middle - _BAR_PX / 2.0), (end, middle + _BAR_PX / 2.0))
        sheet.area(*corners, Paint.COMPLETE, opacity=_OPACITY, name=f"share-{row + 1}")
        sheet.text((0.0, middle + _RAISE_PX), name)
        sheet.text((style.WIDTH_PX, middle + _RAISE_PX), number, anchor="end")
    return sheet.svg(bottom + 4.0, chart.title, _description(chart))


def _draw_axis(sheet: Sheet, scale: Scale, bottom: float) -> None:
    """Grid and tick labels, and a stronger line at 0."""
    places = [scale.px(tick) for tick in scale.ticks]
    sheet.line(*([(x, _TOP_PX - 2.0), (x, bottom)] for x in places), opacity=style.GRID_OPACITY, name="grid")
    sheet.line([(places[0], _TOP_PX - 2.0), (places[0], bottom)], width_px=style.EDGE_WIDTH_PX, name="zero")
    for x, label in zip(places, scale.labels(), strict=True):
        sheet.text((x, _TOP_PX - 6.0), label, anchor="middle")


def _percent(share: float, below: str = "<") -> str:
    """A share with one decimal; a small one only as small."""
    return f"{below}{_LEAST_PCT:g}" if share < _LEAST_PCT else f"{share:.1f}"


def _description(chart: SharesChart) -> str:
    words = "; ".join(f"{name} {_percent(share, 'below ')}" for name, share in chart.shares)
    return f"Shares of the variance in percent: {words}."
