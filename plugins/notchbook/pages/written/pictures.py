"""Charts, drawings and tables of single things, for any page that asks for one by name."""

from collections.abc import Callable

import numpy as np

from notchbook.charts.drawings.pendulum import pendulum_drawing
from notchbook.charts.drawings.swing import PendulumDrawing
from notchbook.charts.theory import IntervalChart, LossChart, interval_chart, loss_chart
from notchbook.facts.facts import Facts
from notchbook.pages.exercise.drawings import Figure, bar_figure, seat_figure
from notchbook.pages.material.comparison import by_material, by_test, chosen_tests
from notchbook.pages.record.pages import bars_chart
from notchbook.wording.dates import day_words

_ANGLES = 31
_FEWEST, _MOST = 3, 20
"""Numbers of bars that are drawn; the interval of two is so wide that it would flatten the rest."""


def _corrections(facts: Facts, verification_id: str, prefix: str) -> str:
    """Both forms of the loss correction of a verification with later swings; empty without them."""
    case = facts.verifications[verification_id]
    losses = case.losses
    if losses is None or case.hammer is None:
        return ""
    rise_deg = np.linspace(0.0, losses.second_rise_deg, _ANGLES)
    plastics, metals = losses.in_test_J("plastics", rise_deg), losses.in_test_J("metals", rise_deg)
    if plastics is None or metals is None:
        return ""
    title = f"Loss correction of the {case.hammer.title}, {day_words(case.verification.date)}"
    values = (tuple(np.asarray(each).tolist()) for each in (rise_deg, plastics, metals))
    return loss_chart(LossChart(prefix, title, losses.release_angle_deg, *values))


def _intervals(facts: Facts, record_id: str, prefix: str) -> str:
    """How the interval of the record's largest set would narrow with more bars; empty without a scatter."""
    line = facts.record(record_id)
    found = line.sets[0] if line.sets else None
    deviation = found.result.summary.standard_deviation if found is not None else None
    if found is None or deviation is None:
        return ""
    numbers = range(_FEWEST, max(_MOST, found.n) + 1)
    title = f"Interval of the mean by the number of bars, {line.material_name}, {day_words(line.date)}"
    widths = {n: width for n in numbers if (width := found.half_width_kJ_m2(n)) is not None}
    return interval_chart(IntervalChart(prefix, title, widths, found.n, deviation))


def _test_pendulum(facts: Facts, record_id: str, prefix: str) -> str:
    """The pendulum of a record: its free swing, and the mean rise after its bars."""
    line = facts.record(record_id)
    rig, hammer, losses = line.rig, line.hammer, line.losses
    rises = [each.rise_angle_deg for _, each in line.bars if each.counts and each.rise_angle_deg]
    if rig is None or hammer is None or losses is None or not rises:
        return ""
    title, rise_deg = f"{hammer.title} before and after the blow", sum(rises) / len(rises)
    sizes = rig.striking_length_mm, hammer.release_angle_deg
    return pendulum_drawing(PendulumDrawing(prefix, title, *sizes, losses.first_rise_deg, rise_deg))


def _hammer_pendulum(facts: Facts, hammer_id: str, prefix: str) -> str:
    rig, _, name = hammer_id.partition("/")
    line = facts.hammers[rig, name]
    title, free_deg = f"{line.hammer.title} and its free swing", line.losses.first_rise_deg if line.losses else None
    sizes = line.rig.striking_length_mm, line.hammer.release_angle_deg
    return pendulum_drawing(PendulumDrawing(prefix, title, *sizes, free_deg, None))


def _svg(drawn: Figure | None) -> str:
    return drawn.svg if drawn else ""


def _exercise_results(facts: Facts, exercise_id: str, prefix: str) -> str:
    found = facts.exercises[exercise_id]
    return by_material(f"Results of {found.exercise.title}", found.records, prefix)


def _material_results(facts: Facts, material_id: str, prefix: str) -> str:
    return by_test(f"Results of {facts.materials[material_id].title}", facts.records_of_material(material_id), prefix)


PICTURES: dict[tuple[str, str], Callable[[Facts, str, str], str]] = {
    ("test", "chart"): lambda facts, each, prefix: bars_chart(facts.record(each), prefix),
    ("test", "pendulum drawing"): _test_pendulum,
    ("test", "interval chart"): _intervals,
    ("tests", "comparison chart"): chosen_tests,
    ("hammer", "pendulum drawing"): _hammer_pendulum,
    ("verification", "loss chart"): _corrections,
    ("exercise", "specimen drawing"): lambda facts, each, prefix: _svg(bar_figure(facts.exercises[each], prefix)),
    ("exercise", "support drawing"): lambda facts, each, prefix: _svg(seat_figure(facts.exercises[each], prefix)),
    ("exercise", "results chart"): _exercise_results,
    ("material", "results chart"): _material_results,
}
"""By kind of thing and name of the picture; each takes the facts, an id and the start of the ids in the picture, and
gives an SVG, empty where there is nothing to draw."""
