"""The control chart of a rig's everyday material."""

from dataclasses import dataclass

from markupsafe import Markup

from notchbook.charts.control import ControlChart, ControlPoint, ControlTime, control_chart
from notchbook.facts.hammers import RigFacts
from notchbook.facts.watch import WatchFacts
from notchbook.model.procedure import Material

_FEWEST_SHOWN = 3
"""Fewer records make no chart."""


@dataclass(frozen=True, slots=True)
class WatchSection:
    """What the page of a rig says of its watch."""

    svg: Markup
    caption: str
    told: list[str]
    """Sentences below the chart."""


def watch_section(rig: RigFacts, materials: dict[str, Material]) -> WatchSection | None:
    """The section of a rig; None with fewer than three records of its everyday material."""
    if rig.watch is None or len(rig.watch.points) < _FEWEST_SHOWN:
        return None
    found, chosen = WatchFacts(rig.watch), rig.watch.choice.material
    symbol = materials[chosen].symbol if chosen in materials else chosen
    title = f"Control chart of {symbol} on {rig.rig.title}"
    svg = Markup(control_chart(_chart(rig, found, title)))  # noqa: S704  # the chart escapes its texts
    caption = (
        f"{symbol} {found.of_what}. Limits are three standard deviations by the mean range from one record to the next "
        "(ISO 7870-2:2013), and begin anew after a repair."
    )
    return WatchSection(svg, caption, found.told)


def _chart(rig: RigFacts, found: WatchFacts, title: str) -> ControlChart:
    watch, times = found.watch, []
    for time, chart in zip(watch.times, watch.charts, strict=True):
        points = (
            ControlPoint(each.record.date, value, each.record.id in found.signals)
            for each, value in zip(time, chart.values, strict=True)
        )
        limits = (chart.lower, chart.upper) if chart.lower is not None and chart.upper is not None else None
        times.append(ControlTime(tuple(points), chart.centre, limits, chart.highest_range))
    hammers = {each.record.hammer for each in watch.points}
    of_hammers = (line.verifications for line in rig.pendulums if line.hammer.id in hammers)
    verified = {each.verification.date for listed in of_hammers for each in listed}
    return ControlChart(
        "watch",
        title,
        f"{found.quantity.title} in {found.quantity.unit}",
        tuple(times),
        tuple(sorted(verified)),
        tuple(sorted({each.on for each in watch.repairs})),
    )
