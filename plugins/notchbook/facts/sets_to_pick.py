"""The sets that a reader may set against each other, as plain data for the script of a page."""

import math
from collections.abc import Iterable
from typing import Any

from notchbook.facts.alike import Departure, departure_of
from notchbook.facts.records import RecordFacts, ReportedSet
from notchbook.facts.two_sets import HAVE_TO_AGREE, MAY_DIFFER, departure_words, known_mean, shown
from notchbook.facts.worksheet_limits import student_t
from notchbook.statistics.comparing import KnownMean


def two_sets_data(lines: Iterable[RecordFacts], most: int) -> dict[str, Any]:
    """What the script is given: the sets, what they have to agree in and may differ in, and the engine's numbers."""
    return {
        "sets": sets_to_pick(lines, most),
        "have_to_agree": list(HAVE_TO_AGREE),
        "may_differ": list(MAY_DIFFER),
        "student_t": student_t(),
    }


def sets_to_pick(lines: Iterable[RecordFacts], most: int) -> list[dict[str, Any]]:
    """The sets of the records in their order, at most so many; what `TwoSets` asks of them stands in each."""
    departures: dict[Departure, int] = {}
    found: list[dict[str, Any]] = []
    for line in lines:
        departure = departure_of(line)
        number = departures.setdefault(departure, len(departures))
        for each in line.sets:
            if len(found) == most:
                return found
            found.append(_as_data(each, number, departure))
    return found


def _as_data(each: ReportedSet, departure: int, of: Departure) -> dict[str, Any]:
    line = each.line
    return {
        "record": line.record.id,
        "title": f"{line.material_name} {line.designation}, {line.record.group}, {shown(line.date)}, {each.letters}",
        "letters": each.letters,
        "together": "/".join(each.together),
        "unit": each.result.quantity.unit,
        "agree": [shown(get(line)) for get in HAVE_TO_AGREE.values()],
        "may_differ": [shown(get(line)) for get in MAY_DIFFER.values()],
        "departure": [departure, departure_words(of)],
        "pendulum": f"{line.record.rig}/{line.record.hammer}",
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
