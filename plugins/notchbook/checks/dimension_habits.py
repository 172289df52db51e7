"""How bars are measured in a handbook: how fine its callipers are and how much bars of one record differ."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from notchbook.statistics.coincidence import middles

if TYPE_CHECKING:
    from notchbook.checks.bar_tables import BarTables
    from notchbook.statistics.values import FloatArray

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
