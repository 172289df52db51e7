"""Which test records are alike in more of their numbers than chance explains, found once for the whole library.

Complete series are looked up among all records. Those that agree in part, or nearly, are looked for among the hundred
neighbours of a record, so that the effort grows with the number of records and not with its square: readings among
those of the same hammer in the order of their dates, dimensions among all in the order of their dates.
"""

import itertools
import math
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

import numpy as np

from notchbook.checks.bar_tables import BarTables, Row
from notchbook.statistics.coincidence import arrangements, at_least, fewest_beyond_chance, middles
from notchbook.statistics.values import FloatArray

FEWEST_BARS = 5
"""Shorter series agree by chance."""
_NEIGHBOURS = 100
_CROWDED = 8
"""Records with the same bar or series, beyond which it says nothing."""
_FEWEST_ROWS = 3
_MOST_BARS = 0.6
"""Share of the bars that agree in their order, below which that is no copy."""
_MOST_CHANCE = 1e-3
"""Agreements among all that a record is compared with, which chance may explain."""
_NEAR = (0, 1, 2)
"""Marks within which readings are compared in their order."""
_SLACK_marks = 1e-3
_COMPARABLE = 3.0
"""Spreads between the medians of two records whose readings can agree."""

Manner = Literal["order", "bars", "any order", "near", "dimensions", "dimensions in any order"]


@dataclass(frozen=True, slots=True)
class Likeness:
    """What one record has in common with another."""

    other: str
    """Id of the other record."""
    manner: Manner
    count: int
    """Bars that agree."""
    bars: int
    """Bars that were compared."""
    off: float = 0.0
    """By how much their readings differ at most."""


@np.errstate(all="ignore")  # numbers beyond all are told elsewhere
def find_likenesses(tables: BarTables) -> dict[str, list[Likeness]]:
    """What the records have in common beyond chance, by their ids; the others of each in the order of their ids."""
    search = _Search(tables)
    search.same_series()
    search.same_rows()
    search.near_readings()
    search.same_dimensions()
    return {record_id: sorted(each, key=lambda like: like.other) for record_id, each in search.found.items()}


class _Search:
    """The search for likenesses, with what it found so far."""

    def __init__(self, tables: BarTables) -> None:
        self._tables = tables
        self._readings = tables.readings
        self._compared = self._comparable()
        self._series = tables.series
        self._asked: dict[tuple[int, int], list[float]] = {}
        self._pairs: set[tuple[int, int]] = set()
        self.found: dict[str, list[Likeness]] = {}

    def _comparable(self) -> FloatArray:
        """For each record, how many others of its hammer have readings that could be its own, at least one."""
        records, found = self._tables.records, np.ones(len(self._tables.records))
        middle = np.nan_to_num(middles(self._readings.values))
        reach = _COMPARABLE * np.maximum(self._readings.spreads, self._readings.marks)
        starts = [0, *(i for i in range(1, len(records)) if not _same_hammer(self._tables, i - 1, i)), len(records)]
        for start, end in itertools.pairwise(starts):
            ordered, part = np.sort(middle[start:end]), slice(start, end)
            above = np.searchsorted(ordered, middle[part] + reach[part], side="right")
            found[part] = above - np.searchsorted(ordered, middle[part] - reach[part]) - 1
        return np.maximum(found, 1.0)

    def _note(self, one: int, other: int, manner: Manner, count: int, off: float = 0.0) -> None:
        """Remember a likeness at both records; the first that is found of two records is the one that is told."""
        if (one, other) in self._pairs:
            return
        self._pairs |= {(one, other), (other, one)}
        bars = min(len(self._tables.rows[one]), len(self._tables.rows[other]))
        for index, counterpart in ((one, other), (other, one)):
            like = Likeness(self._tables.records[counterpart].id, manner, count, bars, off)
            self.found.setdefault(self._tables.records[index].id, []).append(like)

    def _told(self, one: int, other: int) -> bool:
        """Whether the pair is known already, or the record agrees with more others than anybody looks at."""
        return (one, other) in self._pairs or len(self.found.get(self._tables.records[one].id, ())) >= _CROWDED

    def _reading_chances(self, one: int, within: int = 0) -> list[float]:
        """How likely a further reading lies as near to each reading of a record; they are asked for again and again."""
        key = (one, within)
        if key not in self._asked:
            self._asked[key] = self._readings.chances_of(one, within)
        return self._asked[key]

    def same_series(self) -> None:
        """All readings of a record in another one, in the same order or in another."""
        alike: dict[tuple[float, ...], list[int]] = {}
        for one, readings in enumerate(self._series):
            if len(readings) < FEWEST_BARS or readings.count(readings[0]) == len(readings):
                continue
            others = alike.setdefault(tuple(sorted(readings)), [])
            for other in others[-_CROWDED:]:
                chance = float(self._compared[one]) * math.prod(self._reading_chances(one))
                if self._told(one, other):
                    continue
                if readings == self._series[other]:
                    if chance < _MOST_CHANCE:
                        self._note(one, other, "order", len(readings))
                elif chance * arrangements(readings) < _MOST_CHANCE:
                    self._note(one, other, "any order", len(readings))
            others.append(one)

    def same_rows(self) -> None:
        """Bars that agree in all numbers, wherever they stand."""
        holders: dict[Row, list[int]] = {}
        for one, rows in enumerate(self._tables.rows):
            if len(rows) < FEWEST_BARS:
                continue
            different = set(rows)
            held = [listed for each in different if (listed := holders.get(each))]
            if len(held) >= _FEWEST_ROWS:
                for other, count in Counter(holder for listed in held for holder in listed[-_CROWDED:]).items():
                    if count >= _FEWEST_ROWS and self._rows_chance(one, other, count) < _MOST_CHANCE:
                        self._note(one, other, "bars", count)
            for each in different:
                holders.setdefault(each, []).append(one)

    def _rows_chance(self, one: int, other: int, count: int) -> float:
        chances, bars = self._tables.row_chances_of(one), len(self._tables.rows[other])
        if not chances:
            return 1.0
        return float(self._compared[one]) * at_least([min(1.0, bars * each) for each in chances], count)

    def near_readings(self) -> None:
        """Readings that are the same, or nearly so, as those of the same bars of another record of the hammer."""
        column = self._readings
        chance = _MOST_CHANCE / self._compared
        needed = []
        for within in _NEAR:
            chances = column.chances(within)
            mean = np.nansum(chances, axis=1) / np.maximum(column.counts, 1)
            needed.append(np.where(column.counts >= FEWEST_BARS, _needed(mean, column.counts, chance), np.inf))
        hammers = {(each.rig, each.hammer): i for i, each in enumerate(self._tables.records)}
        hammer = np.array([hammers[each.rig, each.hammer] for each in self._tables.records])

        def compare(after: slice, before: slice) -> None:
            same = hammer[after] == hammer[before]
            if not same.any():
                return
            marks = np.abs(column.values[after] - column.values[before]) / column.marks[after, None]
            for within in _NEAR:
                counts = (marks <= within + _SLACK_marks).sum(axis=1)
                hits = same & (counts >= np.maximum(needed[within][after], needed[within][before]))
                for place in np.flatnonzero(hits).tolist():
                    self._near(place + after.start, place, int(counts[place]), within)

        _neighbours(len(hammer), compare)

    def _near(self, one: int, other: int, count: int, within: int) -> None:
        if self._told(one, other):
            return
        chance = float(self._compared[one]) * at_least(self._reading_chances(one, within), count)
        if chance < _MOST_CHANCE:
            self._note(one, other, "near", count, within * float(self._readings.marks[one]))

    def same_dimensions(self) -> None:
        """The same dimensions at the same bars of another record, or of all its bars in another order."""
        records, rows = self._tables.records, self._tables.rows
        by_date = sorted(range(len(records)), key=lambda index: (records[index].date, records[index].id))
        codes: dict[tuple[float | None, ...], int] = {}
        coded = np.full(self._readings.values.shape, np.nan)
        alike: dict[tuple[int, ...], list[int]] = {}
        for place, index in enumerate(by_date):
            own = [codes.setdefault(each[:3], len(codes)) for each in rows[index]]
            coded[place, : len(own)] = own
            if len(own) >= FEWEST_BARS:
                self._dimensions_in_any_order(index, own, alike.setdefault(tuple(sorted(own)), []))
        counts = np.array([len(each) for each in rows])
        chances = self._tables.dimension_chances
        mean = np.nansum(chances, axis=1) / np.maximum(counts, 1)
        chance = np.full(len(rows), _MOST_CHANCE / min(_NEIGHBOURS, max(len(rows) - 1, 1)))
        needed = np.where(counts >= FEWEST_BARS, _needed(mean, counts, chance), np.inf)[by_date]

        def compare(after: slice, before: slice) -> None:
            agree = (coded[after] == coded[before]).sum(axis=1)
            hits = agree >= np.maximum(needed[after], needed[before])
            for place in np.flatnonzero(hits).tolist():
                one, other, count = by_date[place + after.start], by_date[place], int(agree[place])
                if self._told(one, other):
                    continue
                if at_least(self._tables.dimension_chances_of(one), count) < chance[one]:
                    self._note(one, other, "dimensions", count)

        _neighbours(len(rows), compare)

    def _dimensions_in_any_order(self, one: int, codes: list[int], others: list[int]) -> None:
        if others:
            chance = math.prod(self._tables.dimension_chances_of(one)) * arrangements(codes) * len(self._tables.rows)
            for other in others[-_CROWDED:] if chance < _MOST_CHANCE else ():
                pairs = zip(self._tables.rows[one], self._tables.rows[other], strict=True)
                in_order = all(mine[:3] == its[:3] for mine, its in pairs)
                self._note(one, other, "dimensions" if in_order else "dimensions in any order", len(codes))
        others.append(one)


def _needed(mean: FloatArray, counts: FloatArray, chance: FloatArray) -> FloatArray:
    """How many bars have to agree: beyond the chance, and most of them; nobody copies four of ten."""
    return np.maximum(fewest_beyond_chance(mean, counts, chance), _MOST_BARS * counts)


def _neighbours(records: int, compare: Callable[[slice, slice], None]) -> None:
    """Compare every record with each of the hundred before it, all pairs of one distance at once."""
    for distance in range(1, min(_NEIGHBOURS, records - 1) + 1):
        compare(slice(distance, records), slice(0, records - distance))


def _same_hammer(tables: BarTables, one: int, other: int) -> bool:
    first, second = tables.records[one], tables.records[other]
    return (first.rig, first.hammer) == (second.rig, second.hammer)
