"""The everyday material of a rig as its watch: the means of its records in the order in which they came."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import TypeAlias

from notchbook.evaluation.library import Evaluation
from notchbook.evaluation.records import SetResult
from notchbook.evaluation.repairs import repairs_of
from notchbook.evaluation.resolved import ResolvedRecord
from notchbook.model.record import Record
from notchbook.model.rig import Repair, WatchChoice
from notchbook.statistics.components import Components, nested_components
from notchbook.statistics.control import Individuals, SignalKind, individuals, signals_as_they_came

Watched: TypeAlias = dict[str, list[SignalKind]]
"""What records of a watch signalled, by their ids."""
FEWEST_JUDGED = 10
"""With fewer records the limits of a chart say next to nothing; common practice, no source."""


@dataclass(frozen=True, slots=True)
class WatchPoint:
    """One record of the everyday material."""

    record: Record
    result: SetResult
    """Its set of the break types that are watched."""
    strengths_kJ_m2: tuple[float, ...]
    """Those of its bars."""


@dataclass(frozen=True, slots=True)
class Watch:
    """What is watched on a rig."""

    choice: WatchChoice
    is_stated: bool
    """Whether the rig's file says what to watch; else it is what was broken most often."""
    speed_m_s: float
    """Nominal velocity of the hammers."""
    points: tuple[WatchPoint, ...]
    """By date, at least one; all broke in ways that share a mean."""
    repairs: tuple[Repair, ...]
    """Of the rig or of a hammer of these records, by date."""

    @property
    def times(self) -> list[list[WatchPoint]]:
        """The records between two repairs each: what came before one is no measure of what comes after."""
        grouped = groupby(self.points, lambda point: sum(repair.on <= point.record.date for repair in self.repairs))
        return [list(each) for _, each in grouped]

    @property
    def charts(self) -> list[Individuals]:
        """The control chart of the means of each of these times."""
        return [individuals([each.result.summary.mean for each in time]) for time in self.times]

    @property
    def components(self) -> Components:
        """How the scatter divides between bars, records and calendar years."""
        years = groupby(self.points, lambda point: point.record.date.year)
        return nested_components([[each.strengths_kJ_m2 for each in of_year] for _, of_year in years])

    def signals(self) -> Watched:
        """What each record signalled when it was the newest, by its id; only those that did."""
        found: Watched = {}
        for time in self.times:
            means = [each.result.summary.mean for each in time]
            told = signals_as_they_came(means, FEWEST_JUDGED)
            found |= {each.record.id: kinds for each, kinds in zip(time, told, strict=True) if kinds}
        return found


def watch_of(evaluation: Evaluation, rig_id: str) -> Watch | None:
    """The watch of a rig: what its file states, else exercise and material of most records without a deviation.

    Of these the speed and the break types that share a mean that most records have are watched, each apart from the
    others. None where no such record has a mean.
    """
    rig = evaluation.library.rigs[rig_id]
    records = [
        each
        for each in evaluation.library.records.values()
        if each.rig == rig_id and not each.deviations and each.id in evaluation.records
    ]
    choice = rig.watch
    if choice is None:
        counted = Counter(
            WatchChoice(each.exercise, each.material) for each in records if evaluation.records[each.id].sets
        )
        if not counted:
            return None
        choice = max(sorted(counted, key=lambda each: (each.exercise, each.material)), key=lambda each: counted[each])
    found: dict[tuple[float, tuple[str, ...]], list[WatchPoint]] = {}
    for record in records:
        if (record.exercise, record.material) == (choice.exercise, choice.material):
            for key, point in _points(evaluation, record):
                found.setdefault(key, []).append(point)
    if not found:
        return None
    key = max(sorted(found), key=lambda each: len(found[each]))
    points = sorted(found[key], key=lambda each: (each.record.date, each.record.id))
    return Watch(choice, rig.watch is not None, key[0], tuple(points), _repairs(evaluation, rig_id, points))


def _points(evaluation: Evaluation, record: Record) -> list[tuple[tuple[float, tuple[str, ...]], WatchPoint]]:
    """The sets of a record by speed and by the break types that share a mean."""
    resolved = ResolvedRecord.of(evaluation, record)
    result, method, speed = resolved.result, resolved.method, resolved.speed_m_s
    if result is None or method is None or speed is None:
        return []
    found = []
    for each in result.sets:
        strengths = (result.specimens[place].strength_kJ_m2 for place in each.members)
        point = WatchPoint(record, each, tuple(strength for strength in strengths if strength is not None))
        found.append(((speed, method.breaks.group_of(each.breaks[0])), point))
    return found


def _repairs(evaluation: Evaluation, rig_id: str, points: Sequence[WatchPoint]) -> tuple[Repair, ...]:
    rig = evaluation.library.rigs[rig_id]
    concerned = {repair for point in points for repair in repairs_of(rig, point.record.hammer)}
    return tuple(sorted(concerned, key=lambda each: (each.on, each.what)))
