"""Losses as figures: over the years for a rig, and dying away over the half swings for a verification or a group."""

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
from notchbook.facts.swings import SwingsFacts
from notchbook.facts.verifications import VerificationFacts
from notchbook.model.procedure import Exercise
from notchbook.pages.exercise.drawings import Figure
from notchbook.wording.dates import day_words
from notchbook.wording.numbers import to_figures


def over_time(rig: RigFacts) -> Markup:
    """The chart of a rig's losses, hammer by hammer; empty where there are none, or nothing says what is allowed."""
    shown = []
    for line in rig.pendulums:
        points = [
            LossPoint(each.verification.date, 100.0 * each.losses.loss_pct / line.asked.loss_pct)
            for each in reversed(line.verifications)
            if each.losses is not None and line.asked is not None
        ]
        if points:
            shown.append(HammerLosses(line.hammer.title, tuple(points)))
    if not shown:
        return Markup()
    repaired = tuple(sorted({each.on for each in rig.rig.repairs}))
    chart = LossesOverTimeChart("losses-over-time", f"Losses of the hammers of {rig.rig.title}", tuple(shown), repaired)
    return Markup(losses_over_time_chart(chart))  # noqa: S704  # the chart escapes its texts


def energy_left_figure(case: VerificationFacts | SwingsFacts, prefix: str) -> Figure | None:
    """The figure of a verification or of a group; None without later swings, or with ones that cannot have been."""
    hammer, found = case.hammer, case.energy_left
    if case.rig is None or hammer is None or found is None:
        return None
    day = day_words(case.verification.date if isinstance(case, VerificationFacts) else case.record.date)
    title = f"Energy left, {hammer.title}, {day}"
    svg = Markup(energy_left_chart(EnergyLeftChart(prefix, title, found)))  # noqa: S704  # the chart escapes its texts
    share = to_figures(found.half_swing_loss_pct, 2)
    return Figure(
        svg,
        f"{hammer.title} on {case.rig.title}, {day}. By the exponential through the readings "
        f"each half swing takes {share} % of the energy that is left.",
    )


def energy_left_figures(facts: Facts, exercise: Exercise) -> list[Figure]:
    """For an exercise without bars: the newest verification with later swings on each rig, of its method's hammers."""
    if exercise.specimen is not None:
        return []
    figures: dict[str, Figure] = {}
    for each in facts.newest_verifications:
        rig = each.verification.rig
        if rig in figures or each.hammer is None or exercise.method not in each.hammer.methods:
            continue
        figure = energy_left_figure(each, f"energy-left-{rig}")
        if figure is not None:
            figures[rig] = figure
    return [figures[rig] for rig in sorted(figures)]
