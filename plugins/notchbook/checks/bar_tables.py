"""All bars of all test records in tables of numbers, so that records can be compared with each other at once."""

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from notchbook.model.record import Record, Specimen
from notchbook.model.rig import Indicator
from notchbook.statistics.coincidence import (
    agreement_probabilities,
    coarsest_marks,
    crowded,
    on_marks,
    typical_spreads,
)
from notchbook.statistics.values import FloatArray

DIMENSIONS = ("width_mm", "thickness_mm", "remaining_width_mm")
Row = tuple[float, float, float | None, float | None, float | None]
"""The dimensions of a bar, its angle of rise and its indicated energy."""


def row(specimen: Specimen) -> Row:
    """All numbers of a bar."""
    return (
        specimen.width_mm,
        specimen.thickness_mm,
        specimen.remaining_width_mm,
        specimen.rise_angle_deg,
        specimen.indicated_energy_J,
    )


@dataclass(frozen=True, slots=True)
class Column:
    """One quantity of all bars, a row a record."""

    values: FloatArray
    """Shape (records, most bars of a record), NaN where there is none."""
    counts: FloatArray
    """How many values each record has, shape (records,)."""
    marks: FloatArray
    """Division that the values of each record lie on, shape (records,)."""

    def chances_of(self, place: int, within: int = 0) -> list[float]:
        """How likely further bars agree with each value of one record to so many marks, values that crowd included."""
        values = self.values[place : place + 1]
        normal = agreement_probabilities(values, self.marks[place : place + 1], within)[0]
        known = ~np.isnan(values[0])
        return crowded(normal[known].tolist(), values[0][known].tolist(), float(self.marks[place]), within)

    @property
    def spreads(self) -> FloatArray:
        """Spread within each record, shape (records,)."""
        return typical_spreads(self.values, self.marks)

    def chances(self, within: int = 0) -> FloatArray:
        """How likely further bars agree to so many marks, shape of the values; NaN where there is no value.

        Values that crowd are left to :meth:`chances_of`, which is never less.
        """
        return agreement_probabilities(self.values, self.marks, within)


@dataclass(frozen=True)
class BarTables:
    """Records with their bars."""

    records: list[Record]
    """By rig, hammer, date and id."""
    places: dict[str, int]
    """Where each record stands, by its id."""
    rows: list[list[Row]]
    """All numbers of the bars of each record."""
    series: list[list[float]]
    """The readings of each record in the order of its bars, those that have none left out."""
    readings: Column
    dimensions: dict[str, Column]
    """Those of a record all lie on the division of its calliper."""

    def series_of(self, record_id: str) -> list[float]:
        """The readings of a record."""
        return self.series[self.places[record_id]]

    @cached_property
    def dimension_chances(self) -> FloatArray:
        """How likely another bar has the same dimensions, shape (records, most bars); NaN where there is no bar."""
        product = self.dimensions["width_mm"].chances() * self.dimensions["thickness_mm"].chances()
        remaining = self.dimensions["remaining_width_mm"].chances()
        return product * np.where(np.isnan(remaining), 1.0, remaining)

    def dimension_chances_of(self, place: int) -> list[float]:
        """How likely another bar has the dimensions of each bar of one record, values that crowd included."""
        found = [1.0] * len(self.rows[place])
        for column in self.dimensions.values():
            chances = column.chances_of(place)
            # a dimension that only some bars have tells nothing
            if len(chances) == len(found):
                found = [known * chance for known, chance in zip(found, chances, strict=True)]
        return found

    def row_chances_of(self, place: int) -> list[float]:
        """How likely another bar agrees with each bar of one record in all numbers; empty where one was not read."""
        if len(self.series[place]) < len(self.rows[place]):
            return []
        both = zip(self.dimension_chances_of(place), self.readings.chances_of(place), strict=True)
        return [a * b for a, b in both]


def bar_tables(records: Iterable[Record], scales: Mapping[tuple[str, str], Indicator]) -> BarTables:
    """The tables of those records.

    Arguments:
        records: in any order.
        scales: that hammers are read on, by the ids of rig and hammer.
    """
    listed = sorted(records, key=lambda each: (each.rig, each.hammer, each.date, each.id))
    rows = [[row(specimen) for specimen in each.specimens] for each in listed]
    lengths = np.array([len(each) for each in rows], dtype=np.intp)
    flat = np.array([numbers for each in rows for numbers in each], dtype=np.float64).reshape(-1, 5)
    flat[~np.isfinite(flat)] = np.nan
    places = np.repeat(np.arange(len(rows)), lengths), np.concatenate([np.arange(0), *map(np.arange, lengths)])

    def column(values: FloatArray) -> FloatArray:
        found = np.full((len(rows), int(lengths.max(initial=0))), np.nan)
        found[places] = values
        return found

    dimensions = [column(flat[:, index]) for index in range(3)]
    marks = coarsest_marks(np.concatenate(dimensions, axis=1))
    readings = column(np.where(np.isnan(flat[:, 3]), flat[:, 4], flat[:, 3]))
    divisions = np.array([_division(each, scales.get((each.rig, each.hammer))) for each in listed])
    return BarTables(
        listed,
        {each.id: index for index, each in enumerate(listed)},
        rows,
        [_series(each) for each in rows],
        _column(readings, _reading_marks(readings, divisions)),
        {name: _column(values, marks) for name, values in zip(DIMENSIONS, dimensions, strict=True)},
    )


def _division(record: Record, scale: Indicator | None) -> float:
    """Division of the scale that a record's readings are of; NaN where it is not known."""
    if scale is None or not scale.division:
        return math.nan
    angles = any(each.rise_angle_deg is not None for each in record.specimens)
    return scale.division if angles == (scale.reads == "angle") else math.nan


def _reading_marks(readings: FloatArray, divisions: FloatArray) -> FloatArray:
    """The division of the scale where all readings of a record keep to it, else half of it, else what they keep to.

    Of a usual division they may keep to a coarser one by chance or by habit, and that is taken.
    """
    found = coarsest_marks(readings)
    for marks in (divisions / 2.0, divisions):
        kept = on_marks(readings, marks[:, None]).all(axis=1)
        found = np.where(kept, np.fmax(found, marks), found)
    return found


def _series(rows: list[Row]) -> list[float]:
    read = [each[3] if each[3] is not None else each[4] for each in rows]
    return [each for each in read if each is not None and math.isfinite(each)]


def _column(values: FloatArray, marks: FloatArray) -> Column:
    return Column(values, (~np.isnan(values)).sum(axis=1).astype(np.float64), marks)
