"""The first page: which rigs are in force, where to start, what is new."""

from notchbook.facts.facts import Facts
from notchbook.facts.hammers import next_due
from notchbook.facts.records import RecordFacts
from notchbook.model.procedure import Exercise
from notchbook.pages.page import BESIDE, Page

URI = "index.md"
_NEWEST = 8
_SOONEST = 3


def home_page(facts: Facts, site_name: str) -> Page:
    """The home of the handbook."""
    lines = facts.newest_records
    exercises = [each.exercise for each in facts.exercises.values()]
    values = {
        "rigs": list(facts.rigs.values()),
        "due": next_due([hammer for each in facts.rigs.values() for hammer in each.hammers])[:_SOONEST],
        "exercises": sorted(exercises, key=lambda each: (*_place(each, lines), each.title)),
        "newest": lines[:_NEWEST],
        "records": len(lines),
        "materials": len(facts.materials),
        "methods": facts.methods,
    }
    return Page(URI, "home.html.j2", site_name, values, hidden=BESIDE)


def _place(exercise: Exercise, lines: list[RecordFacts]) -> tuple[bool, int]:
    """The exercise about the pendulum itself first, then those that were done most often."""
    return exercise.specimen is not None, -sum(line.record.exercise == exercise.id for line in lines)
