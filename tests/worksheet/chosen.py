"""Which of the sound sessions are changed, and what they are swung with."""

from collections.abc import Callable

from edges import Made
from engine import said
from typed_session import Bench, Session, text_of

from notchbook.evaluation.hammers import SwungHammer

BAR = 3
"""The bar whose numbers are changed."""
_ON_BOTH = "notched-charpy"
"""An exercise with hammers on a scale of angles and on one of energies."""


def firsts(sound: list[Made]) -> list[Made]:
    """The first sound session of each method and kind of notch."""
    found: dict[tuple[str, bool], Made] = {}
    for bench, session in sound:
        found.setdefault((bench.method.id, "remaining_width_mm" in session.bars[0]), (bench, session))
    return list(found.values())


def scales_of(sound: list[Made]) -> list[Made]:
    """One session of the same exercise on each kind of scale, on a hammer that is not the largest."""
    found: dict[str, Made] = {}
    for bench, session in sound:
        if bench.exercise.id == _ON_BOTH:
            found.setdefault(bench.reads(session), (bench, session))
    return list(found.values())


def hammer_of(bench: Bench, session: Session) -> SwungHammer:
    """The hammer of a session."""
    return bench.handbook.evaluation.hammers[session.fields["rig"], session.fields["hammer"]]


def larger_one(bench: Bench, session: Session) -> SwungHammer:
    """The next larger hammer of the rig."""
    own = hammer_of(bench, session)
    larger = [
        each for each in bench.handbook.evaluation.hammers.values()
        if (each.rig, each.method) == (own.rig, own.method) and each.potential_energy_J > own.potential_energy_J
    ]  # fmt: skip
    return min(larger, key=lambda each: each.potential_energy_J)


def division_of(bench: Bench, session: Session) -> float:
    """A division of the rig's scale."""
    indicator = bench.handbook.library.rigs[session.fields["rig"]].indicator
    return indicator.division_J or indicator.division_deg or 0.0


def energy_of_J(bench: Bench, session: Session, bar: dict[str, str]) -> float:
    """What one bar took."""
    energy: float = said(bench, Session(session.fields, (bar,)))["bars"][0][1]
    return energy


def release_of(bench: Bench, session: Session) -> str:
    """The release angle as it is typed."""
    return text_of(hammer_of(bench, session).release_angle_deg)


def field(bench: Bench, session: Session, place: str) -> Callable[[float], Made]:
    """The session with a number in one field."""
    return lambda value: (bench, session.having(place, text_of(value)))
