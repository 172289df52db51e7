"""Pages of the exercises, and their index."""

import hashlib
from collections.abc import Iterator
from typing import Any

from notchbook.facts.exercises import ExerciseFacts
from notchbook.facts.facts import Facts
from notchbook.facts.hammers import HammerFacts
from notchbook.model.procedure import Exercise
from notchbook.model.rig import Rig
from notchbook.pages.comparison.pages import links_to
from notchbook.pages.exercise.drawings import bar_figures, pendulum_figures
from notchbook.pages.exercise.worksheet import worksheet
from notchbook.pages.material.comparison import by_material
from notchbook.pages.page import OF_MANY_RECORDS, Page, page_uri
from notchbook.pages.rig.losses import energy_left_figures
from notchbook.pages.sheets.bench_sheet import bench_sheet
from notchbook.pages.sheets.lookups import sheet_name

INDEX = "exercises/index.md"
FOLDER = "exercises"
_MOST_LINES = 20
"""Results that a page lists: it is read on a phone, and the years go on."""


def exercise_pages(facts: Facts) -> Iterator[Page]:
    """One page an exercise."""
    for exercise_id, each in facts.exercises.items():
        title, path = each.exercise.title, facts.document("exercise", exercise_id).path
        uri, values = page_uri(FOLDER, exercise_id), _values(facts, each)
        yield Page(uri, "exercise.html.j2", title, values, path, boost=OF_MANY_RECORDS)


def _values(facts: Facts, each: ExerciseFacts) -> dict[str, Any]:
    """What the template needs."""
    exercise, method = each.exercise, each.method
    return {
        "exercise": exercise,
        "method": method,
        "facts": each,
        "steps_version": _steps_version(exercise),
        "bar_figures": bar_figures(each),
        "pendulum_figures": pendulum_figures(each),
        "energy_left": energy_left_figures(facts, exercise),
        "swings": facts.swings_of("exercise", exercise.id),
        "lookups": _lookup_tables(each),
        "worksheet": worksheet(facts, each),
        "day": facts.day,
        "bench": bench_sheet(exercise, method, each.rigs),
        "most_lines": _MOST_LINES,
        "compared": links_to(facts, "exercise", exercise.id),
        "chart": by_material(f"Results of {exercise.title}", each.records),
    }


def _lookup_tables(exercise: ExerciseFacts) -> list[tuple[Rig, list[dict[str, Any]]]]:
    """A look-up table for every hammer and the page with all of its divisions, by rig; none without a section."""
    section = exercise.section
    if section is None:
        return []

    def of(line: HammerFacts) -> dict[str, Any]:
        return {"line": line, "table": line.lookup(section, exercise.own_readings(line)), "sheet": sheet_name(line)}

    return [(each.rig, list(map(of, each.hammers))) for each in exercise.rigs]


def _steps_version(exercise: Exercise) -> str:
    """A short name for the steps as they are worded: ticks that were set for others do not count for these."""
    parts = (exercise.prepare, exercise.steps, exercise.finish)
    words = repr([[(step.do, step.look_for, step.hazard) for step in part] for part in parts])
    return hashlib.sha256(words.encode()).hexdigest()[:12]


def exercises_index(facts: Facts) -> Page:
    """The list of exercises."""
    exercises = [each.exercise for each in facts.exercises.values()]
    return Page(INDEX, "exercises.html.j2", "Exercises", {"exercises": exercises, "methods": facts.methods})
