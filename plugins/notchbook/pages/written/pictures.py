"""Charts, drawings and tables of single things, for any page that asks for one by name."""

from collections.abc import Callable

from markupsafe import Markup

from notchbook.charts.drawings.pendulum import pendulum_drawing
from notchbook.charts.drawings.swing import PendulumDrawing
from notchbook.facts.facts import Facts
from notchbook.pages.exercise.drawings import bar_figure, seat_figure
from notchbook.pages.material.comparison import by_material, by_test
from notchbook.pages.record.pages import bars_chart
from notchbook.pages.written.explaining_charts import chosen_tests, corrections, intervals


def figure(drawn: str) -> Markup:
    """A drawing as a figure of the page; empty where there is none."""
    if not drawn:
        return Markup()
    return Markup('<figure class="nb-chart" data-search-exclude>{}</figure>').format(Markup(drawn))  # noqa: S704


def _test_chart(facts: Facts, record_id: str, prefix: str) -> Markup:
    return figure(bars_chart(facts.record(record_id), prefix))


def _test_pendulum(facts: Facts, record_id: str, prefix: str) -> Markup:
    """The pendulum of a record: its free swing, and the mean rise after its bars."""
    line = facts.record(record_id)
    rig, hammer, losses = line.rig, line.hammer, line.losses
    rises = [each.rise_angle_deg for _, each in line.bars if each.counts and each.rise_angle_deg]
    if rig is None or hammer is None or losses is None or not rises:
        return Markup()
    drawing = PendulumDrawing.of(
        rig,
        hammer,
        free_rise_deg=losses.first_rise_deg,
        break_rise_deg=sum(rises) / len(rises),
        id_prefix=prefix,
        title=f"{hammer.title} before and after the blow",
    )
    return figure(pendulum_drawing(drawing))


def _hammer_pendulum(facts: Facts, hammer_id: str, prefix: str) -> Markup:
    rig, _, name = hammer_id.partition("/")
    line = facts.hammers[rig, name]
    drawing = PendulumDrawing.of(
        line.rig,
        line.hammer,
        free_rise_deg=line.losses.first_rise_deg if line.losses else None,
        break_rise_deg=None,
        id_prefix=prefix,
        title=f"{line.hammer.title} and its free swing",
    )
    return figure(pendulum_drawing(drawing))


def _specimen(facts: Facts, exercise_id: str, prefix: str) -> Markup:
    drawn = bar_figure(facts.exercises[exercise_id], prefix)
    return figure(drawn.svg if drawn else "")


def _support(facts: Facts, exercise_id: str, prefix: str) -> Markup:
    drawn = seat_figure(facts.exercises[exercise_id], prefix)
    return figure(drawn.svg if drawn else "")


def _exercise_results(facts: Facts, exercise_id: str, prefix: str) -> Markup:
    found = facts.exercises[exercise_id]
    charts = by_material(f"Results of {found.exercise.title}", found.records, prefix)
    return Markup().join(map(figure, charts))


def _material_results(facts: Facts, material_id: str, prefix: str) -> Markup:
    title = f"Results of {facts.materials[material_id].title}"
    return Markup().join(map(figure, by_test(title, facts.records_of_material(material_id), prefix)))


def _loss_chart(facts: Facts, verification_id: str, prefix: str) -> Markup:
    return figure(corrections(facts, verification_id, prefix))


def _interval_chart(facts: Facts, record_id: str, prefix: str) -> Markup:
    return figure(intervals(facts, record_id, prefix))


def _chosen_tests(facts: Facts, record_ids: str, prefix: str) -> Markup:
    return figure(chosen_tests(facts, record_ids, prefix))


PICTURES: dict[tuple[str, str], Callable[[Facts, str, str], Markup]] = {
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
"""By kind of thing and name of the picture; each takes the facts, an id and the start of the ids in the picture."""
