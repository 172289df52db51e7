"""Pages of the exercises, and their index."""

from __future__ import annotations

import hashlib
from typing import TYPE_CHECKING, Any

from notchbook.evaluation.section import nominal_section
from notchbook.pages.exercise.drawings import bar_figures, pendulum_figures
from notchbook.pages.exercise.hammers import lookup_tables, material_rows, rigs_with_hammers
from notchbook.pages.exercise.worksheet import worksheet
from notchbook.pages.material.comparison import by_material
from notchbook.pages.page import OF_MANY_RECORDS, Page, page_uri
from notchbook.pages.results import result_lines
from notchbook.pages.rig.losses import energy_left_figures
from notchbook.pages.sheets.bench_sheet import bench_sheet

if TYPE_CHECKING:
    from collections.abc import Iterator

    from notchbook.handbook import Handbook
    from notchbook.model.procedure import Exercise
    from notchbook.pages.results import ResultLine

INDEX = "exercises/index.md"
FOLDER = "exercises"
_MOST_LINES = 20
"""Results that a page lists: it is read on a phone, and the years go on."""


def exercise_pages(handbook: Handbook) -> Iterator[Page]:
    """One page an exercise."""
    lines = result_lines(handbook)
    for exercise_id in sorted(handbook.library.exercises):
        exercise = handbook.library.exercises[exercise_id]
        values = _values(handbook, exercise, [line for line in lines if line.record.exercise == exercise_id])
        document = handbook.documents["exercise", exercise_id]
        yield Page(
            page_uri(FOLDER, exercise_id),
            "exercise.html.j2",
            exercise.title,
            values,
            document.path,
            boost=OF_MANY_RECORDS,
        )


def _values(handbook: Handbook, exercise: Exercise, own: list[ResultLine]) -> dict[str, Any]:
    """What the template needs, from an exercise and its own records."""
    library, chosen = handbook.library, exercise.specimen
    method = library.methods.get(exercise.method)
    specimen_type = method.specimen_type(chosen.type) if method and chosen else None
    section = nominal_section(method, chosen) if method and chosen else None
    rigs = rigs_with_hammers(handbook, exercise.method)
    rows = material_rows(handbook, exercise, method, own, rigs) if method else []
    return {
        "exercise": exercise,
        "method": method,
        "specimen_type": specimen_type,
        "notch": method.notch(chosen.notch) if method and chosen else None,
        "arrangement": specimen_type.arrangement(chosen.direction, chosen.notch) if specimen_type and chosen else None,
        "steps_version": _steps_version(exercise),
        "hazards": [library.hazards[each] for each in exercise.hazards if each in library.hazards],
        "bar_figures": bar_figures(exercise, method),
        "pendulum_figures": pendulum_figures(exercise, own, rigs, rows),
        "rigs": rigs,
        "section": section,
        "material_rows": rows,
        "energy_left": energy_left_figures(handbook, exercise),
        "lookups": lookup_tables(method, section, rigs) if method else [],
        "worksheet": worksheet(handbook, exercise, method, rigs),
        "day": handbook.day,
        "bench": bench_sheet(exercise, method, rigs),
        "lines": own,
        "most_lines": _MOST_LINES,
        "charts": by_material(f"Results of {exercise.title}", own),
    }


def _steps_version(exercise: Exercise) -> str:
    """A short name for the steps as they are worded: ticks that were set for others do not count for these."""
    parts = (exercise.prepare, exercise.steps, exercise.finish)
    words = repr([[(step.do, step.look_for, step.hazard) for step in part] for part in parts])
    return hashlib.sha256(words.encode()).hexdigest()[:12]


def exercises_index(handbook: Handbook) -> Page:
    """The list of exercises."""
    exercises = [handbook.library.exercises[each] for each in sorted(handbook.library.exercises)]
    methods = handbook.library.methods
    return Page(INDEX, "exercises.html.j2", "Exercises", {"exercises": exercises, "methods": methods})
