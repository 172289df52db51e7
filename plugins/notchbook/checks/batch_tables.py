"""All records of a handbook by batch, for what is held against the others of one."""

from __future__ import annotations

import datetime as dt
import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, field

from notchbook.evaluation.library import Evaluation
from notchbook.evaluation.records import SetResult
from notchbook.model.library import Library
from notchbook.model.record import Record

Test = tuple[str, ...]
"""What makes records comparable: exercise, material, method, specimen and break types."""

_FEWEST_BARS = 3
_DIGITS = re.compile(r"0*([0-9]+)")
_SEPARATORS = re.compile(r"[\W_]+")


@dataclass(slots=True)
class Sums:
    """Logarithms of the means of records, added up so that one can be taken out again."""

    n: int = 0
    total: float = 0.0
    squares: float = 0.0

    def add(self, value: float, sign: int = 1) -> Sums:
        """With a value more, or less where the sign is -1."""
        return Sums(self.n + sign, self.total + sign * value, self.squares + sign * value * value)

    def less(self, other: Sums) -> Sums:
        """Without those of the other."""
        return Sums(self.n - other.n, self.total - other.total, self.squares - other.squares)

    @property
    def mean(self) -> float:
        """Of the values."""
        return self.total / self.n

    @property
    def standard_deviation(self) -> float:
        """Of the values; 0 of a single one."""
        return math.sqrt(max(self.squares - self.n * self.mean**2, 0.0) / (self.n - 1)) if self.n > 1 else 0.0


@dataclass(slots=True)
class _Batch:
    """The records of one spelling of a batch of a material."""

    records: list[str] = field(default_factory=list)
    days: list[dt.date] = field(default_factory=list)


@dataclass(slots=True)
class Batches:
    """All records by material and batch, gone through once."""

    means: dict[tuple[Test, str | None], Sums] = field(default_factory=dict)
    all_means: dict[Test, Sums] = field(default_factory=dict)
    spelled: dict[str, dict[str, _Batch]] = field(default_factory=dict)
    """By material and batch as it is written."""
    alike: dict[tuple[str, str], list[str]] = field(default_factory=dict)
    """Spellings by material and by what is left of them without case, separators and leading zeros."""
    near: dict[tuple[str, str], list[str]] = field(default_factory=dict)
    """Batches of several records by material and by what is left of them without one character."""


def batches_of(library: Library, evaluation: Evaluation) -> Batches:
    """The records by batch, in the order of their ids."""
    found = Batches()
    for record_id in sorted(library.records):
        record = library.records[record_id]
        for test, value, _ in means(record, evaluation):
            key = (test, record.batch)
            found.means[key] = found.means.get(key, Sums()).add(value)
            found.all_means[test] = found.all_means.get(test, Sums()).add(value)
        if record.batch is not None:
            batch = found.spelled.setdefault(record.material, {}).setdefault(record.batch, _Batch())
            batch.records.append(record_id)
            batch.days.append(record.date)
    for material, spelled in found.spelled.items():
        for name, batch in spelled.items():
            found.alike.setdefault((material, bare(name)), []).append(name)
            if len(batch.records) > 1:
                for left in without_one(name):
                    found.near.setdefault((material, left), []).append(name)
    return found


def means(record: Record, evaluation: Evaluation) -> Iterator[tuple[Test, float, SetResult]]:
    """What each mean is comparable with, and its logarithm; a declared departure is comparable with nothing."""
    result, hammer = evaluation.records.get(record.id), evaluation.hammer_of(record)
    method = evaluation.library.methods.get(hammer.method) if hammer is not None else None
    if result is None or method is None or record.deviations:
        return
    chosen = record.specimen
    for each in result.sets:
        if each.summary.n >= _FEWEST_BARS and each.summary.mean > 0.0:
            group = method.breaks.group_of(each.breaks[0])
            test = (record.exercise, record.material, method.id, chosen.type, chosen.notch, chosen.direction, *group)
            yield test, math.log(each.summary.mean), each


def bare(batch: str) -> str:
    """A batch without case, separators and leading zeros, parts of digits kept apart."""
    return _DIGITS.sub(r" \1 ", _SEPARATORS.sub(" ", batch.casefold())).replace("  ", " ").strip()


def without_one(batch: str) -> set[str]:
    """A batch with each of its characters left out in turn, and whole."""
    return {batch, *(batch[:place] + batch[place + 1 :] for place in range(len(batch)))}
