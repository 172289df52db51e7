"""Losses as figures: over the years for a rig, and dying away over the half swings for one verification."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from markupsafe import Markup

from notchbook.charts.energy_left import EnergyLeftChart, energy_left_chart
from notchbook.charts.losses_over_time import (
    HammerLosses,
    LossesOverTimeChart,
    LossPoint,
    losses_over_time_chart,
)
from notchbook.evaluation.energy_left import energy_left
from notchbook.wording.dates import day_words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from notchbook.handbook import Handbook
    from notchbook.model.procedure import Exercise
    from notchbook.model.rig import Rig
    from notchbook.model.verification import Verification
    from notchbook.pages.rig.pages import HammerLine


@dataclass(frozen=True, slots=True)
class EnergyLeftFigure:
    """How the energy of one hammer dies away, drawn and in words."""

    verification: Verification
    rig: str
    hammer: str
    svg: Markup
    half_swing_loss_pct: float
    """By the fit, of the energy that is left."""
    decay: float
    half_swings: int
    """Number of half swings up to the last reading."""


def over_time(handbook: Handbook, rig: Rig, hammers: Sequence[HammerLine]) -> Markup:
    """The chart of a rig's losses, hammer by hammer; empty where there are none, or nothing says what is allowed."""
    shown = []
    for line in hammers:
        points = []
        for each in reversed(handbook.evaluation.by_hammer.get((rig.id, line.hammer.id), ())):
            losses = handbook.evaluation.verifications[each.id].losses
            if losses is not None and line.asked is not None:
                points.append(LossPoint(each.date, 100.0 * losses.loss_pct / line.asked.loss_pct))
        if points:
            shown.append(HammerLosses(line.hammer.title, tuple(points)))
    if not shown:
        return Markup()
    chart = LossesOverTimeChart("losses-over-time", f"Losses of the hammers of {rig.title}", tuple(shown))
    return Markup(losses_over_time_chart(chart))  # noqa: S704  # the chart escapes its texts


def energy_left_figure(handbook: Handbook, verification: Verification, prefix: str) -> EnergyLeftFigure | None:
    """The figure of one verification; None without later swings, or with ones that cannot have been."""
    hammer = handbook.evaluation.hammers.get((verification.rig, verification.hammer))
    found = energy_left(hammer, verification.free_swings) if hammer is not None else None
    if hammer is None or found is None:
        return None
    title = f"Energy left, {hammer.title}, {day_words(verification.date)}"
    svg = Markup(energy_left_chart(EnergyLeftChart(prefix, title, found)))  # noqa: S704  # the chart escapes its texts
    rig = handbook.library.rigs[verification.rig].title
    return EnergyLeftFigure(
        verification, rig, hammer.title, svg, found.half_swing_loss_pct, found.decay, found.half_swings[-1]
    )


def energy_left_figures(handbook: Handbook, exercise: Exercise) -> list[EnergyLeftFigure]:
    """For an exercise without bars: the newest verification with later swings on each rig, of its method's hammers."""
    if exercise.specimen is not None:
        return []
    newest_first = sorted(handbook.library.verifications.values(), key=lambda each: (each.date, each.id), reverse=True)
    figures: dict[str, EnergyLeftFigure] = {}
    for each in newest_first:
        hammer = handbook.evaluation.hammers.get((each.rig, each.hammer))
        if each.rig in figures or hammer is None or hammer.method != exercise.method:
            continue
        figure = energy_left_figure(handbook, each, f"energy-left-{each.rig}")
        if figure is not None:
            figures[each.rig] = figure
    return [figures[rig] for rig in sorted(figures)]
