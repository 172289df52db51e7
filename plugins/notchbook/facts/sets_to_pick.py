"""The sets that a reader may set against each other, as plain data for the script of a page."""

import math
from collections.abc import Iterable
from typing import Any

from notchbook.facts.alike import departure_of
from notchbook.facts.records import RecordFacts, ReportedSet
from notchbook.facts.two_sets import HAVE_TO_AGREE, MAY_DIFFER, departure_words, known_mean, shown
from notchbook.facts.worksheet_limits import student_t
from notchbook.statistics.comparing import KnownMean

Picked = dict[str, Any]
"""One set as plain data."""


def two_sets_data(sets: Iterable[Picked]) -> dict[str, Any]:
    """What the script is given: the sets, what they have to agree in and may differ in, and the engine's numbers."""
    return {
        "sets": list(sets),
        "have_to_agree": list(HAVE_TO_AGREE),
        "may_differ": list(MAY_DIFFER),
        "student_t": student_t(),
    }


def sets_of(line: RecordFacts) -> list[Picked]:
    """The sets of one record; what `TwoSets` asks of them stands in each."""
    departure = departure_of(line)
    accepted = sorted(f"{each.rule}: {each.reason} ({each.accepted_by})" for each in departure.accepted)
    about = {
        "record": line.record.id,
        "agree": [shown(get(line)) for get in HAVE_TO_AGREE.values()],
        "may_differ": [shown(get(line)) for get in MAY_DIFFER.values()],
        "departure": ["; ".join((departure.rig, *accepted)), departure_words(departure)],
        "pendulum": f"{line.record.rig}/{line.record.hammer}",
    }
    name = f"{line.material_name} {line.designation}, {line.record.group}, {shown(line.date)}"
    return [about | {"title": f"{name}, {each.letters}"} | _as_data(each) for each in line.sets]


def _as_data(each: ReportedSet) -> Picked:
    return {
        "letters": each.letters,
        "together": "/".join(each.together),
        "unit": each.result.quantity.unit,
        "mean": each.result.summary.mean,
        "alone": _error(known_mean(each, known=False)),
        "whole": _error(known_mean(each, known=True)) if each.uncertainty is not None else None,
    }


def _error(found: KnownMean) -> list[float | None] | None:
    """Standard error and its degrees of freedom, these None where they are without end; None where it is not known."""
    if found.standard_error is None:
        return None
    freedom = found.degrees_of_freedom
    return [found.standard_error, freedom if math.isfinite(freedom) else None]
