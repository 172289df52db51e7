"""A sheet a rig to hang beside it: what may be swung and until when, what can hurt, whom to call."""

from collections.abc import Iterator

from notchbook.facts.facts import Facts
from notchbook.facts.hammers import HammerFacts, pendulums
from notchbook.model.procedure import Hazard
from notchbook.pages.page import BESIDE, Page, page_uri
from notchbook.pages.rig.pages import FOLDER, wall_card_name
from notchbook.wording.dates import day_words
from notchbook.wording.lists import counted

_LINES_OF_LARGE, _LINES_OF_MEDIUM = 11, 15
"""Rows of hammers, and of cautions two beside each other, that a sheet holds in that size of print."""


def wall_card_pages(facts: Facts) -> Iterator[Page]:
    """One page a rig."""
    for rig_id, each in facts.rigs.items():
        rig, hammers = each.rig, each.hammers
        cautions = [(hazard.title, _control(hazard)) for hazard in _hazards(facts, hammers)]
        values = {
            "rig": rig,
            "hammers": hammers,
            "in_force": any(hammer.usable for hammer in hammers),
            "state": _state(hammers),
            "cautions": cautions,
            "size": _size(len(hammers) + (len(cautions) + 1) // 2),
            "day": facts.day,
        }
        uri = page_uri(FOLDER, wall_card_name(rig_id, facts.rigs))
        yield Page(uri, "wall_card.html.j2", f"Wall card: {rig.title}", values, hidden=BESIDE, boost=0.0)


def _state(hammers: list[HammerFacts]) -> str:
    """Whether the rig may be used, in a few words that are read from afar."""
    known = pendulums(hammers)
    days = [each.nearest.valid_until for each in known if each.usable and each.nearest]
    if not days:
        return "Not in force: do not use"
    if len(days) < len(known):
        return f"{len(days)} of {counted(len(known), 'hammer')} in force, first until {day_words(min(days))}"
    return f"In force until {day_words(min(days))}"


def _hazards(facts: Facts, hammers: list[HammerFacts]) -> list[Hazard]:
    """What the exercises on the methods of these hammers name, in the order of the department's list."""
    methods = {each.hammer.method for each in hammers}
    named = {
        hazard.id for each in facts.exercises.values() if each.exercise.method in methods for hazard in each.hazards
    }
    return [each for each in facts.hazards.values() if each.id in named]


def _control(hazard: Hazard) -> str:
    """The first of its controls, or what it does where it has none."""
    return next(iter((*hazard.remove, *hazard.guard, *hazard.arrange, *hazard.wear)), hazard.harm)


def _size(lines: int) -> str:
    if lines <= _LINES_OF_LARGE:
        return "large"
    return "medium" if lines <= _LINES_OF_MEDIUM else "small"
