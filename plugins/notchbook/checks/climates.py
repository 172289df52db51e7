"""How long and in what climate the bars of a whole handbook were kept."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from statistics import median
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from notchbook.model.library import Library


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
