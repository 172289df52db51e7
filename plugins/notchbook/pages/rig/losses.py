"""Losses as figures: over the years for a rig, and dying away over the half swings for one verification."""

from dataclasses import dataclass

from markupsafe import Markup

from notchbook.charts.losses import (
    EnergyLeftChart,
    HammerLosses,
    LossesOverTimeChart,
    LossPoint,
    energy_left_chart,
    losses_over_time_chart,
)
from notchbook.facts.facts import Facts
from notchbook.facts.hammers import RigFacts
from notchbook.facts.verifications import VerificationFacts
from notchbook.model.procedure import Exercise
from notchbook.model.verification import Verification
from notchbook.wording.dates import day_words


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


def over_time(rig: RigFacts) -> Markup:
    """The chart of a rig's losses, hammer by hammer; empty where there are none, or nothing says what is allowed."""
    shown = []
    for line in rig.hammers:
        points = [
            LossPoint(each.verification.date, 100.0 * each.losses.loss_pct / line.asked.loss_pct)
            for each in reversed(line.verifications)
            if each.losses is not None and line.asked is not None
        ]
        if points:
            shown.append(HammerLosses(line.hammer.title, tuple(points)))
    if not shown:
        return Markup()
    chart = LossesOverTimeChart("losses-over-time", f"Losses of the hammers of {rig.rig.title}", tuple(shown))
    return Markup(losses_over_time_chart(chart))  # noqa: S704  # the chart escapes its texts


def energy_left_figure(case: VerificationFacts, prefix: str) -> EnergyLeftFigure | None:
    """The figure of one verification; None without later swings, or with ones that cannot have been."""
    verification, hammer, found = case.verification, case.hammer, case.energy_left
    if case.rig is None or hammer is None or found is None:
        return None
    title = f"Energy left, {hammer.title}, {day_words(verification.date)}"
    svg = Markup(energy_left_chart(EnergyLeftChart(prefix, title, found)))  # noqa: S704  # the chart escapes its texts
    return EnergyLeftFigure(
        verification, case.rig.title, hammer.title, svg, found.half_swing_loss_pct, found.decay, found.half_swings[-1]
    )


def energy_left_figures(facts: Facts, exercise: Exercise) -> list[EnergyLeftFigure]:
    """For an exercise without bars: the newest verification with later swings on each rig, of its method's hammers."""
    if exercise.specimen is not None:
        return []
    figures: dict[str, EnergyLeftFigure] = {}
    for each in facts.newest_verifications:
        rig = each.verification.rig
        if rig in figures or each.hammer is None or each.hammer.method != exercise.method:
            continue
        figure = energy_left_figure(each, f"energy-left-{rig}")
        if figure is not None:
            figures[rig] = figure
    return [figures[rig] for rig in sorted(figures)]
