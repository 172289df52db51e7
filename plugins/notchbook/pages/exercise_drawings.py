"""The drawings of an exercise: its bar, how the bar sits, and the pendulums that can strike it."""

from __future__ import annotations

from dataclasses import dataclass
from statistics import median
from typing import TYPE_CHECKING

from markupsafe import Markup

from notchbook.charts.drawings.pendulum import PendulumDrawing, pendulum_drawing
from notchbook.charts.drawings.specimen import SpecimenDrawing, specimen_drawing
from notchbook.charts.drawings.support import SupportDrawing, support_drawing
from notchbook.evaluation.lookup import rise_after_break_deg
from notchbook.pages import text
from notchbook.pages.exercise_hammers import own_bars

if TYPE_CHECKING:
    from collections.abc import Sequence

    from notchbook.model.method import Method
    from notchbook.model.procedure import Exercise
    from notchbook.pages.exercise_hammers import MaterialRow, RigHammers
    from notchbook.pages.results import ResultLine
    from notchbook.pages.rigs import HammerLine

_HALF = 0.5


@dataclass(frozen=True, slots=True)
class Figure:
    """A drawing with what stands under it."""

    svg: str
    caption: str


def bar_figures(exercise: Exercise, method: Method | None) -> list[Figure]:
    """The bar and how it sits; what the method's numbers do not allow to be drawn is left out."""
    chosen = exercise.specimen
    bar = method.specimen_type(chosen.type) if method is not None and chosen is not None else None
    if method is None or chosen is None or bar is None:
        return []
    notch = method.notch(chosen.notch)
    figures = []
    try:
        drawing = SpecimenDrawing.of(bar, notch, id_prefix="bar", title=f"Bar for {exercise.title}")
        caption = f"The bar, type {bar.id}, " + ("without a notch." if notch is None else f"with notch {notch.id}.")
        figures.append(Figure(Markup(specimen_drawing(drawing)), caption))  # noqa: S704  # the drawing escapes
    except ValueError:
        pass
    try:
        seat = SupportDrawing.of(
            method, bar, notch, chosen.direction, id_prefix="seat", title=f"How the bar sits for {exercise.title}"
        )
        place = "on its supports, seen from above" if method.support == "three-point" else "in the clamp, from the side"
        caption = f"The bar {place}, as {method.standard} asks for it; struck {chosen.direction}."
        figures.append(Figure(Markup(support_drawing(seat)), caption))  # noqa: S704  # the drawing escapes
    except ValueError:
        pass
    return figures


def pendulum_figures(
    exercise: Exercise, lines: Sequence[ResultLine], rigs: Sequence[RigHammers], rows: Sequence[MaterialRow]
) -> list[Figure]:
    """One drawing a rig, of the hammer that the exercise uses most there, else of its middle one.

    Arguments:
        exercise: what is to be done.
        lines: the records of the exercise.
        rigs: those with hammers of its method.
        rows: the materials with the hammers to take.
    """
    figures = []
    for each in rigs:
        line, used = _shown_hammer(each, lines)
        rise, whence = _break(exercise, line, lines, rows)
        free = line.losses.first_rise_deg if line.losses is not None else None
        named = f"{each.rig.title} with its {line.hammer.title}"
        try:
            drawing = PendulumDrawing.of(
                each.rig,
                line.hammer,
                free_rise_deg=free,
                break_rise_deg=rise,
                id_prefix=f"pendulum-{each.rig.id}",
                title=named,
            )
            svg = Markup(pendulum_drawing(drawing))  # noqa: S704  # the drawing escapes its texts
        except ValueError:
            continue
        caption = f"{named}{', the one most used for this exercise' if used else ''}. {_free_swing(line)}{whence}"
        figures.append(Figure(svg, caption))
    return figures


def _shown_hammer(rig: RigHammers, lines: Sequence[ResultLine]) -> tuple[HammerLine, bool]:
    """The hammer to draw, and whether it was used for the exercise."""
    used = [each.record.hammer for each in lines if each.record.rig == rig.rig.id]
    # of two that were used as often the larger one
    most = max(reversed(rig.lines), key=lambda each: used.count(each.hammer.id))
    if most.hammer.id in used:
        return most, True
    return rig.lines[len(rig.lines) // 2], False


def _free_swing(line: HammerLine) -> str:
    if line.newest is None or line.losses is None:
        return "It has not been verified, so that the rise of a free swing is not known. "
    return f"Free swing: verification of {text.day(line.newest.date)}. "


def _break(
    exercise: Exercise, line: HammerLine, lines: Sequence[ResultLine], rows: Sequence[MaterialRow]
) -> tuple[float | None, str]:
    """The rise after a typical break and where it comes from; none for an exercise without a specimen."""
    if exercise.specimen is None or line.method is None:
        return None, ""
    hammer = line.hammer
    rises = [
        bar.rise_angle_deg
        for each, bar in own_bars(lines)
        if (each.record.rig, each.record.hammer) == (hammer.rig, hammer.id) and bar.rise_angle_deg is not None
    ]
    if rises:
        return median(rises), f"Break: median of {text.counted(len(rises), 'own bar')} with this hammer."
    typical = [
        (row.expected.low_J + row.expected.high_J) / 2.0
        for row in rows
        if row.expected is not None
        and any(each.line.hammer is hammer and each.choice.reason != "outside" for each in row.choices)
    ]
    if typical:
        energy, whence = median(typical), "Break: middle of what is expected of the materials that ask for this hammer."
    else:
        energy, whence = _HALF * hammer.potential_energy_J, "Break: a bar that takes half of the hammer's energy."
    return rise_after_break_deg(hammer, line.losses, line.method.loss_correction, energy), whence
