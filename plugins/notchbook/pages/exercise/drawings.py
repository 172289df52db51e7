"""The drawings of an exercise: its bar, how the bar sits, and the pendulums that can strike it."""

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from markupsafe import Markup

from notchbook.charts.drawings.pendulum import pendulum_drawing
from notchbook.charts.drawings.specimen import SpecimenDrawing, specimen_drawing
from notchbook.charts.drawings.support import support_drawing
from notchbook.charts.drawings.support_values import SupportDrawing
from notchbook.charts.drawings.swing import PendulumDrawing
from notchbook.facts.exercises import ExerciseFacts
from notchbook.facts.hammers import HammerFacts, RigFacts
from notchbook.facts.records import RecordFacts
from notchbook.wording.dates import day_words
from notchbook.wording.lists import counted


@dataclass(frozen=True, slots=True)
class Figure:
    """A drawing with what stands under it."""

    svg: str
    caption: str


def bar_figures(exercise: ExerciseFacts) -> list[Figure]:
    """The bar and how it sits; what the method's numbers do not allow to be drawn is left out."""
    return [each for each in (bar_figure(exercise, "bar"), seat_figure(exercise, "seat")) if each]


def bar_figure(exercise: ExerciseFacts, prefix: str) -> Figure | None:
    """The bar with its notch; None where there is none or it cannot be drawn."""
    bar, notch = exercise.specimen_type, exercise.notch
    if bar is None:
        return None
    try:
        drawing = SpecimenDrawing.of(bar, notch, id_prefix=prefix, title=f"Bar for {exercise.exercise.title}")
        drawn = Markup(specimen_drawing(drawing))  # noqa: S704  # the drawing escapes its texts
    except ValueError:
        return None
    return Figure(
        drawn, f"The bar, type {bar.id}, " + ("without a notch." if notch is None else f"with notch {notch.id}.")
    )


def seat_figure(exercise: ExerciseFacts, prefix: str) -> Figure | None:
    """How the bar sits under the blow; None where there is no bar or it cannot be drawn."""
    asked, bar, notch, chosen = exercise.method, exercise.specimen_type, exercise.notch, exercise.exercise.specimen
    if asked is None or chosen is None or bar is None:
        return None
    direction = chosen.direction
    title = f"How the bar sits for {exercise.exercise.title}"
    try:
        drawing = SupportDrawing.of(asked, bar, notch, direction, prefix, title)
        drawn = Markup(support_drawing(drawing))  # noqa: S704  # the drawing escapes its texts
    except ValueError:
        return None
    place = "on its supports, seen from above" if asked.support == "three-point" else "in the clamp, from the side"
    return Figure(drawn, f"The bar {place}, as {asked.standard} asks for it; struck {direction}.")


def pendulum_figures(exercise: ExerciseFacts) -> list[Figure]:
    """One drawing a rig, of the hammer that the exercise uses most there, else of its middle one."""
    figures = []
    for each in exercise.rigs:
        line, used = _shown_hammer(each, exercise.records)
        rise, whence = _break(exercise, line)
        free = line.losses.first_rise_deg if line.losses is not None else None
        named = f"{each.rig.title} with its {line.hammer.title}"
        try:
            sizes = each.rig.striking_length_mm, line.hammer.release_angle_deg
            drawing = PendulumDrawing(f"pendulum-{each.rig.id}", named, *sizes, free, rise)
            svg = Markup(pendulum_drawing(drawing))  # noqa: S704  # the drawing escapes its texts
        except ValueError:
            continue
        caption = f"{named}{', the one most used for this exercise' if used else ''}. {_free_swing(line)}{whence}"
        figures.append(Figure(svg, caption))
    return figures


def _shown_hammer(rig: RigFacts, lines: Sequence[RecordFacts]) -> tuple[HammerFacts, bool]:
    """The hammer to draw, and whether it was used for the exercise."""
    used = [each.record.hammer for each in lines if each.record.rig == rig.rig.id]
    # of two that were used as often the larger one
    most = max(reversed(rig.hammers), key=lambda each: used.count(each.hammer.id))
    if most.hammer.id in used:
        return most, True
    return rig.hammers[len(rig.hammers) // 2], False


def _free_swing(line: HammerFacts) -> str:
    if line.shown is None or line.losses is None:
        return "It has not been verified, so that the rise of a free swing is not known. "
    return f"Free swing: verification of {day_words(line.shown.verification.date)}. "


def _break(exercise: ExerciseFacts, line: HammerFacts) -> tuple[float | None, str]:
    """The rise after a typical break and where it comes from; none for an exercise without a specimen."""
    if exercise.exercise.specimen is None or line.method is None:
        return None, ""
    hammer = line.hammer
    rises = [
        bar.rise_angle_deg
        for each, bar in exercise.own_bars
        if (each.record.rig, each.record.hammer) == (hammer.rig, hammer.id) and bar.rise_angle_deg is not None
    ]
    if rises:
        return median(rises), f"Break: median of {counted(len(rises), 'own bar')} with this hammer."
    typical = [
        (row.expected.low_J + row.expected.high_J) / 2.0
        for row in exercise.material_rows
        if row.expected is not None
        and any(each.line.hammer is hammer and each.choice.reason != "outside" for each in row.choices)
    ]
    if typical:
        energy, whence = median(typical), "Break: middle of what is expected of the materials that ask for this hammer."
    else:
        energy, whence = hammer.potential_energy_J / 2.0, "Break: a bar that takes half of the hammer's energy."
    return line.rise_after_break_deg(energy), whence
