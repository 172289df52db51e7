"""Pages of the exercises, and their index."""

from __future__ import annotations

from typing import TYPE_CHECKING

from notchbook.pages.comparison import by_material
from notchbook.pages.page import Page, page_uri
from notchbook.pages.results import result_lines

if TYPE_CHECKING:
    from collections.abc import Iterator

    from notchbook.evaluation.hammers import SwungHammer
    from notchbook.handbook import Handbook
    from notchbook.model.procedure import Exercise
    from notchbook.model.rig import Rig

INDEX = "exercises/index.md"
FOLDER = "exercises"


def exercise_pages(handbook: Handbook) -> Iterator[Page]:
    """One page an exercise."""
    lines = result_lines(handbook)
    for exercise_id in sorted(handbook.library.exercises):
        exercise = handbook.library.exercises[exercise_id]
        own = [line for line in lines if line.record.exercise == exercise_id]
        method = handbook.library.methods.get(exercise.method)
        specimen_type = method.specimen_type(exercise.specimen.type) if method and exercise.specimen else None
        values = {
            "exercise": exercise,
            "method": method,
            "specimen_type": specimen_type,
            "notch": method.notch(exercise.specimen.notch) if method and exercise.specimen else None,
            "arrangement": specimen_type.arrangement(exercise.specimen.direction, exercise.specimen.notch)
            if specimen_type and exercise.specimen
            else None,
            "hazards": [
                handbook.library.hazards[each] for each in exercise.hazards if each in handbook.library.hazards
            ],
            "hammers": _hammers(handbook, exercise),
            "lines": own,
            "charts": by_material(f"Results of {exercise.title}", own),
        }
        document = handbook.documents["exercise", exercise_id]
        yield Page(page_uri(FOLDER, exercise_id), "exercise.md.j2", exercise.title, values, document.path)


def _hammers(handbook: Handbook, exercise: Exercise) -> list[tuple[Rig, list[SwungHammer]]]:
    """The hammers of the exercise's method, the lightest first, by their rig."""
    found = []
    for rig in handbook.library.rigs.values():
        own = [
            hammer
            for (rig_id, _), hammer in handbook.evaluation.hammers.items()
            if rig_id == rig.id and hammer.method == exercise.method
        ]
        if own:
            found.append((rig, sorted(own, key=lambda each: each.nominal_energy_J)))
    return found


def exercises_index(handbook: Handbook) -> Page:
    """The list of exercises."""
    exercises = [handbook.library.exercises[each] for each in sorted(handbook.library.exercises)]
    methods = handbook.library.methods
    return Page(INDEX, "exercises.md.j2", "Exercises", {"exercises": exercises, "methods": methods})
