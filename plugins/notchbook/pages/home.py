"""The first page: which rigs are in force, where to start, what is new."""

from __future__ import annotations

from typing import TYPE_CHECKING

from notchbook.pages.page import BESIDE, Page
from notchbook.pages.results import result_lines
from notchbook.pages.rig.pages import hammer_lines, next_due

if TYPE_CHECKING:
    from notchbook.handbook import Handbook
    from notchbook.model.procedure import Exercise
    from notchbook.pages.results import ResultLine

URI = "index.md"
_NEWEST = 8
_SOONEST = 3


def home_page(handbook: Handbook, site_name: str) -> Page:
    """The home of the handbook."""
    library = handbook.library
    lines = result_lines(handbook)
    rigs = [(library.rigs[each], hammer_lines(handbook, library.rigs[each])) for each in sorted(library.rigs)]
    values = {
        "rigs": rigs,
        "due": next_due([hammer for _, hammers in rigs for hammer in hammers])[:_SOONEST],
        "exercises": sorted(library.exercises.values(), key=lambda each: (*_place(each, lines), each.title)),
        "newest": lines[:_NEWEST],
        "records": len(lines),
        "materials": len(library.materials),
        "methods": library.methods,
    }
    return Page(URI, "home.html.j2", site_name, values, hidden=BESIDE)


def _place(exercise: Exercise, lines: list[ResultLine]) -> tuple[bool, int]:
    """The exercise about the pendulum itself first, then those that were done most often."""
    return exercise.specimen is not None, -sum(line.record.exercise == exercise.id for line in lines)
