"""What is usual in a whole handbook: how bars are conditioned and measured, and what the names of files may hold."""

import re
from collections import Counter
from dataclasses import dataclass, field
from itertools import chain
from statistics import median

import numpy as np

from notchbook.checks.bar_tables import BarTables
from notchbook.model.library import Library
from notchbook.statistics.coincidence import middles
from notchbook.statistics.values import FloatArray


@dataclass(slots=True)
class Climates:
    """Hours, humidities and temperatures of all records of a method."""

    hours: Counter[float] = field(default_factory=Counter)
    humidities_pct: Counter[float] = field(default_factory=Counter)
    temperatures_C: Counter[float] = field(default_factory=Counter)

    def middle(self, name: str) -> float:
        """The median of what is named as in a record, in its unit."""
        return median((self.temperatures_C if name == "temperature_C" else self.humidities_pct).elements())


def climates_of(library: Library) -> dict[str, Climates]:
    """By the method of the exercise, what its records were conditioned for."""
    found: dict[str, Climates] = {}
    for record in library.records.values():
        exercise = library.exercises.get(record.exercise)
        if exercise is not None:
            climates = found.setdefault(exercise.method, Climates())
            climates.hours[record.conditioning.hours] += 1
            climates.humidities_pct[record.conditioning.humidity_pct] += 1
            climates.temperatures_C[record.conditioning.temperature_C] += 1
    return found


@dataclass(frozen=True, slots=True)
class Names:
    """What the names of files may hold: ids by how they stand in a name."""

    materials: dict[str, str]
    rigs: dict[str, str]
    groups: dict[str, str]
    spellings: dict[str, Counter[str]]
    """By a code without separators and leading zeros, how many records have each spelling."""


def names_of(library: Library) -> Names:
    """The ids and codes of a handbook, gathered once; who checks pendulums may test as well."""
    spellings: dict[str, Counter[str]] = {}
    for record in library.records.values():
        spellings.setdefault(bare(record.group), Counter())[record.group] += 1
    codes = [*(each.checked_by for each in library.verifications.values()), *chain.from_iterable(spellings.values())]
    groups = {each.casefold(): each for each in codes}
    return Names({each: each for each in library.materials}, {each: each for each in library.rigs}, groups, spellings)


def bare(code: str) -> str:
    """A code without case, separators and the zeros that begin its numbers."""
    return re.sub(r"(?<![0-9])0+(?=[0-9])", "", re.sub(r"[\W_]+", "", code.casefold()))


FEWEST_RECORDS = 3
"""Records that measured each bar, fewer of which tell no habit."""
APART = 6.0
"""Spreads of the handbook's bars from the middle of the others."""
_FEWEST_BARS = 5
_COARSEST_mm = 0.05
"""Calliper that a handbook without records is thought to have."""
_SPREAD_mm = 0.01
"""Spread of the bars where no other record tells it: moulded bars, common practice, no source."""


@dataclass(frozen=True, slots=True)
class DimensionHabits:
    """What the records of a handbook, in which bars differ, tell of measuring."""

    mark_mm: float
    """The coarsest division that one of them was measured with."""
    spread_mm: dict[str, float]
    """Of each dimension, the spread within a record in the middle of all such records."""
    apart: frozenset[str]
    """Ids of the records with a dimension so far from the middle of its bars that it has to be looked at."""


@np.errstate(all="ignore")  # numbers beyond all are told elsewhere
def dimension_habits(tables: BarTables) -> DimensionHabits:
    """The habits of a library."""
    width = tables.dimensions["width_mm"]
    alike = np.zeros(len(tables.records), dtype=bool)
    for column in tables.dimensions.values():
        lowest, highest = _ends(column.values)
        alike |= (lowest == highest) & (column.counts > 0)
    measured = ~alike & (width.counts >= _FEWEST_BARS)
    spread_mm, apart = {}, np.zeros(len(tables.records), dtype=bool)
    for name, column in tables.dimensions.items():
        spreads = np.sort(column.spreads[measured & (column.counts >= _FEWEST_BARS)])
        spread_mm[name] = float(spreads[len(spreads) // 2]) if len(spreads) else _SPREAD_mm
        if measured.sum() >= FEWEST_RECORDS:
            off = np.abs(column.values - middles(column.values)[:, None])
            apart |= (off > APART * spread_mm[name]).any(axis=1)
    mark = float(width.marks[measured].max()) if measured.any() else _COARSEST_mm
    far = frozenset(tables.records[index].id for index in np.flatnonzero(apart))
    return DimensionHabits(mark, spread_mm, far)


def _ends(values: FloatArray) -> tuple[FloatArray, FloatArray]:
    """The lowest and the highest value of each record."""
    return np.fmin.reduce(values, axis=1, initial=np.inf), np.fmax.reduce(values, axis=1, initial=-np.inf)
