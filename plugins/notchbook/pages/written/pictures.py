"""Charts, drawings and tables of single things, for any page that asks for one by name."""

from __future__ import annotations

from typing import TYPE_CHECKING

from markupsafe import Markup

from notchbook.charts.drawings.pendulum import PendulumDrawing, pendulum_drawing
from notchbook.pages.exercise.drawings import bar_figure, seat_figure
from notchbook.pages.material.comparison import by_material, by_test
from notchbook.pages.record.pages import bars_chart
from notchbook.pages.results import result_line, result_lines
from notchbook.pages.written.explaining_charts import chosen_tests, corrections, intervals

if TYPE_CHECKING:
    from collections.abc import Callable

    from notchbook.handbook import Handbook


def figure(drawn: str) -> Markup:
    """A drawing as a figure of the page; empty where there is none."""
    if not drawn:
        return Markup()
    return Markup('<figure class="nb-chart" data-search-exclude>{}</figure>').format(Markup(drawn))  # noqa: S704


def _test_chart(handbook: Handbook, record_id: str, prefix: str) -> Markup:
    return figure(bars_chart(result_line(handbook, handbook.library.records[record_id]), prefix))


def _test_pendulum(handbook: Handbook, record_id: str, prefix: str) -> Markup:
    """The pendulum of a record: its free swing, and the mean rise after its bars."""
    record, result = handbook.library.records[record_id], handbook.evaluation.records.get(record_id)
    hammer = handbook.evaluation.hammers.get((record.rig, record.hammer))
    if result is None or hammer is None or result.losses is None:
        return Markup()
    rises = [each.rise_angle_deg for each in result.specimens if each.excluded is None and each.rise_angle_deg]
    if not rises:
        return Markup()
    drawing = PendulumDrawing.of(
        handbook.library.rigs[record.rig],
        hammer,
        free_rise_deg=result.losses.first_rise_deg,
        break_rise_deg=sum(rises) / len(rises),
        id_prefix=prefix,
        title=f"{hammer.title} before and after the blow",
    )
    return figure(pendulum_drawing(drawing))


def _hammer_pendulum(handbook: Handbook, hammer_id: str, prefix: str) -> Markup:
    rig, _, name = hammer_id.partition("/")
    hammer = handbook.evaluation.hammers[rig, name]
    newest = next(iter(handbook.evaluation.by_hammer.get((rig, name), ())), None)
    found = handbook.evaluation.verifications.get(newest.id) if newest else None
    drawing = PendulumDrawing.of(
        handbook.library.rigs[rig],
        hammer,
        free_rise_deg=found.losses.first_rise_deg if found and found.losses else None,
        break_rise_deg=None,
        id_prefix=prefix,
        title=f"{hammer.title} and its free swing",
    )
    return figure(pendulum_drawing(drawing))


def _specimen(handbook: Handbook, exercise_id: str, prefix: str) -> Markup:
    exercise = handbook.library.exercises[exercise_id]
    drawn = bar_figure(exercise, handbook.library.methods.get(exercise.method), prefix)
    return figure(drawn.svg if drawn else "")


def _support(handbook: Handbook, exercise_id: str, prefix: str) -> Markup:
    exercise = handbook.library.exercises[exercise_id]
    drawn = seat_figure(exercise, handbook.library.methods.get(exercise.method), prefix)
    return figure(drawn.svg if drawn else "")


def _exercise_results(handbook: Handbook, exercise_id: str, prefix: str) -> Markup:
    lines = [line for line in result_lines(handbook) if line.record.exercise == exercise_id]
    title = f"Results of {handbook.library.exercises[exercise_id].title}"
    return Markup().join(figure(each) for each in by_material(title, lines, prefix))


def _material_results(handbook: Handbook, material_id: str, prefix: str) -> Markup:
    lines = [line for line in result_lines(handbook) if line.record.material == material_id]
    title = f"Results of {handbook.library.materials[material_id].title}"
    return Markup().join(figure(each) for each in by_test(title, lines, prefix))


def _loss_chart(handbook: Handbook, verification_id: str, prefix: str) -> Markup:
    return figure(corrections(handbook, verification_id, prefix))


def _interval_chart(handbook: Handbook, record_id: str, prefix: str) -> Markup:
    return figure(intervals(handbook, record_id, prefix))


def _chosen_tests(handbook: Handbook, record_ids: str, prefix: str) -> Markup:
    return figure(chosen_tests(handbook, record_ids, prefix))


PICTURES: dict[tuple[str, str], Callable[[Handbook, str, str], Markup]] = {
    ("test", "chart"): _test_chart,
    ("test", "pendulum drawing"): _test_pendulum,
    ("test", "interval chart"): _interval_chart,
    ("tests", "comparison chart"): _chosen_tests,
    ("hammer", "pendulum drawing"): _hammer_pendulum,
    ("verification", "loss chart"): _loss_chart,
    ("exercise", "specimen drawing"): _specimen,
    ("exercise", "support drawing"): _support,
    ("exercise", "results chart"): _exercise_results,
    ("material", "results chart"): _material_results,
}
"""By kind of thing and name of the picture; each takes the handbook, an id and the start of the ids in the picture."""
