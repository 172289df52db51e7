"""Records of one batch against each other: their means, and how the batch is spelled."""

from __future__ import annotations

import math
import re
from collections import Counter
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from notchbook.checks.subject import Check, Complaint
from notchbook.findings import Rule, Severity
from notchbook.wording.lists import counted

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Iterator

    from notchbook.checks.subject import RecordCase
    from notchbook.evaluation.library import Evaluation
    from notchbook.evaluation.records import SetResult
    from notchbook.model.library import Library
    from notchbook.model.record import Record

Test = tuple[str, ...]
"""What makes records comparable: exercise, material, method, specimen and break types."""

_FEWEST_BARS = 3
_FEWEST_OTHERS = 3
"""Other records of a batch whose spread says anything."""
_DEVIATIONS = 4.0
_WITHIN, _FEW, _ACROSS = math.log(1.3), math.log(1.5), math.log(1.8)
"""Least departures that are told: from three others of the batch and more, from one or two, from other batches."""
_BETWEEN, _BETWEEN_FEW, _BETWEEN_BATCHES = 0.05, 0.08, 0.12
"""Relative standard deviations of the means of records that are taken for granted."""
_POPULAR = 3
_DIGITS = re.compile(r"0*([0-9]+)")
_SEPARATORS = re.compile(r"[\W_]+")

BATCH_MEAN = Rule(
    "batch-mean",
    "A record's mean is one that the other records of its batch let expect",
    "A mean of twice or half the others is another material, another hammer or a slip, though it is a possible one.",
    "four standard deviations between records, and at least a factor of 1.3 from three others, 1.5 from one or two and "
    "1.8 from other batches: common practice, no source",
    "Compare material, batch, hammer and dimensions of this record with the sheet of the day, and then those of the "
    "others.",
    Severity.WARNING,
)
BATCH_SPELLING = Rule(
    "batch-spelling",
    "A batch is spelled the same in all its records",
    "Records of a misspelt batch are compared with nothing.",
    "common practice, no source",
    "Read the bag or the delivery note again and write the batch as the other records do.",
    Severity.WARNING,
)


@dataclass(slots=True)
class _Sums:
    """Logarithms of the means of records, added up so that one can be taken out again."""

    n: int = 0
    total: float = 0.0
    squares: float = 0.0

    def add(self, value: float, sign: int = 1) -> _Sums:
        return _Sums(self.n + sign, self.total + sign * value, self.squares + sign * value * value)

    def less(self, other: _Sums) -> _Sums:
        return _Sums(self.n - other.n, self.total - other.total, self.squares - other.squares)

    @property
    def mean(self) -> float:
        return self.total / self.n

    @property
    def standard_deviation(self) -> float:
        return math.sqrt(max(self.squares - self.n * self.mean**2, 0.0) / (self.n - 1)) if self.n > 1 else 0.0


@dataclass(slots=True)
class _Batch:
    """The records of one spelling of a batch of a material."""

    records: list[str] = field(default_factory=list)
    days: list[dt.date] = field(default_factory=list)


@dataclass(slots=True)
class Batches:
    """All records by material and batch, gone through once."""

    means: dict[tuple[Test, str | None], _Sums] = field(default_factory=dict)
    all_means: dict[Test, _Sums] = field(default_factory=dict)
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
        for test, value, _ in _means(record, evaluation):
            key = (test, record.batch)
            found.means[key] = found.means.get(key, _Sums()).add(value)
            found.all_means[test] = found.all_means.get(test, _Sums()).add(value)
        if record.batch is not None:
            batch = found.spelled.setdefault(record.material, {}).setdefault(record.batch, _Batch())
            batch.records.append(record_id)
            batch.days.append(record.date)
    for material, spelled in found.spelled.items():
        for name, batch in spelled.items():
            found.alike.setdefault((material, _bare(name)), []).append(name)
            if len(batch.records) > 1:
                for left in _without_one(name):
                    found.near.setdefault((material, left), []).append(name)
    return found


def _means(record: Record, evaluation: Evaluation) -> Iterator[tuple[Test, float, SetResult]]:
    """What each mean is comparable with, and its logarithm; a declared departure is comparable with nothing."""
    result, hammer = evaluation.records.get(record.id), evaluation.hammers.get((record.rig, record.hammer))
    method = evaluation.library.methods.get(hammer.method) if hammer is not None else None
    if result is None or method is None or record.deviations:
        return
    chosen = record.specimen
    for each in result.sets:
        if each.summary.n >= _FEWEST_BARS and each.summary.mean > 0.0:
            group = method.breaks.group_of(each.breaks[0])
            test = (record.exercise, record.material, method.id, chosen.type, chosen.notch, chosen.direction, *group)
            yield test, math.log(each.summary.mean), each


def batch_mean(case: RecordCase) -> Iterator[Complaint]:
    """Means that the others of the batch, or of other batches where there are none, do not let expect."""
    around, record = case.around, case.record
    for test, value, each in _means(record, around.evaluation):
        own = around.batches.means[test, record.batch]
        others, between, least, whose = own.add(value, -1), _BETWEEN_FEW, _FEW, f"of batch '{record.batch}'"
        if record.batch is None or not others.n:
            others, between, least = around.batches.all_means[test].less(own), _BETWEEN_BATCHES, _ACROSS
            whose = "of other batches"
        elif others.n >= _FEWEST_OTHERS:
            between, least = max(_BETWEEN, others.standard_deviation), _WITHIN
        if not others.n:
            continue
        within = (each.summary.variation_pct or 0.0) / 100.0 / math.sqrt(each.summary.n)
        spread = math.hypot(between, within) * math.sqrt(1.0 + 1.0 / others.n)
        if abs(value - others.mean) > max(least, _DEVIATIONS * spread):
            factor = math.exp(value - others.mean)
            records = "the other record" if others.n == 1 else f"the {others.n} other records"
            yield Complaint(
                ("batch",) if record.batch is not None else ("material",),
                f"the mean of {each.summary.mean:.3g} kJ/m² ({'/'.join(each.breaks)}) is {factor:.2g} times the "
                f"{math.exp(others.mean):.3g} kJ/m² of {records} {whose}",
                "compare material, batch, hammer and dimensions with the sheets",
            )


def batch_spelling(case: RecordCase) -> Iterator[Complaint]:
    """Batches that are another one, written otherwise."""
    record, batches = case.record, case.around.batches
    if record.batch is None:
        return
    spelled = batches.spelled[record.material]
    own = spelled[record.batch]
    alike = [each for each in batches.alike[record.material, _bare(record.batch)] if each != record.batch]
    usual = max(alike, key=lambda each: len(spelled[each].records), default=None)
    how = "differs in case, zeros or separators alone"
    if usual is None or len(spelled[usual].records) < len(own.records):
        usual = _misspelt(record, batches) if len(own.records) == 1 else None
        how = "is spelled nearly the same"
    if usual is not None:
        yield Complaint(
            ("batch",),
            f"batch '{record.batch}' has {counted(len(own.records), 'record')}; '{usual}' with "
            f"{counted(len(spelled[usual].records), 'record')} {how}",
            "read the bag or the delivery note again; acknowledge it if these are two batches",
        )


def _misspelt(record: Record, batches: Batches) -> str | None:
    """The batch of other records that this one's is spelled as with two characters exchanged, or nearly.

    Batches are numbered, so that the next one differs in a digit; a misspelt one lies between records of the right one.
    """
    spelled, batch = batches.spelled[record.material], record.batch or ""
    counted = Counter(name for left in _without_one(batch) for name in batches.near.get((record.material, left), ()))
    for name, _ in counted.most_common():
        days = spelled[name].days
        exchanged = sorted(name) == sorted(batch)
        between = len(days) >= _POPULAR and min(days) <= record.date <= max(days)
        if name != batch and (exchanged or between):
            return name
    return None


def _bare(batch: str) -> str:
    """A batch without case, separators and leading zeros, parts of digits kept apart."""
    return _DIGITS.sub(r" \1 ", _SEPARATORS.sub(" ", batch.casefold())).replace("  ", " ").strip()


def _without_one(batch: str) -> set[str]:
    """A batch with each of its characters left out in turn, and whole."""
    return {batch, *(batch[:place] + batch[place + 1 :] for place in range(len(batch)))}


RECORD_CHECKS = (Check(BATCH_MEAN, batch_mean), Check(BATCH_SPELLING, batch_spelling))
