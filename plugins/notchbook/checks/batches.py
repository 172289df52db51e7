"""Records of one batch against each other: their means, and how the batch is spelled."""

import math
from collections import Counter
from collections.abc import Iterator

from notchbook.checks.batch_tables import Batches, bare, means, without_one
from notchbook.checks.subject import Check, Complaint, RecordCase
from notchbook.findings import Rule, Severity
from notchbook.model.record import Record
from notchbook.wording.lists import counted

_FEWEST_OTHERS = 3
"""Other records of a batch whose spread says anything."""
_DEVIATIONS = 4.0
_WITHIN, _FEW, _ACROSS = math.log(1.3), math.log(1.5), math.log(1.8)
"""Least departures that are told: from three others of the batch and more, from one or two, from other batches."""
_BETWEEN, _BETWEEN_FEW, _BETWEEN_BATCHES = 0.05, 0.08, 0.12
"""Relative standard deviations of the means of records that are taken for granted."""
_POPULAR = 3

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


def batch_mean(case: RecordCase) -> Iterator[Complaint]:
    """Means that the others of the batch, or of other batches where there are none, do not let expect."""
    around, record = case.around, case.record
    for test, value, each in means(record, around.evaluation):
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
    alike = [each for each in batches.alike[record.material, bare(record.batch)] if each != record.batch]
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
    counted = Counter(name for left in without_one(batch) for name in batches.near.get((record.material, left), ()))
    for name, _ in counted.most_common():
        days = spelled[name].days
        exchanged = sorted(name) == sorted(batch)
        between = len(days) >= _POPULAR and min(days) <= record.date <= max(days)
        if name != batch and (exchanged or between):
            return name
    return None


RECORD_CHECKS = (Check(BATCH_MEAN, batch_mean), Check(BATCH_SPELLING, batch_spelling))
