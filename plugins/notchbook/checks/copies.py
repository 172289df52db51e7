"""Readings and dimensions that look copied: from another bar, or from another record."""

import math
from collections.abc import Iterator

from notchbook.checks.bar_tables import BarTables, Row
from notchbook.checks.likeness import Likeness
from notchbook.checks.subject import Check, Complaint, RecordCase
from notchbook.findings import Rule, Severity
from notchbook.wording.numbers import number

_OF_DIMENSIONS = ("dimensions", "dimensions in any order")
_MOST_REPEATS, _MOST_BELOW = 0.005, 0.015
"""Probability of as many repeats among all bars, and of one in the row below, beyond which they say nothing."""
_MOST_COUNTED = 20

REPEATED_READINGS = Rule(
    "repeated-readings",
    "No two bars of a record have the same dimensions and reading",
    "That all numbers of two bars agree is rare on fine scales; that a row was copied and not changed is not.",
    "told where of records of such marks and such a spread fewer than five in a thousand have as many repeats, or "
    "fifteen one in the row below, a normal distribution assumed; of simulated sound records two in a thousand are "
    "told: common practice, no source",
    "Compare both rows with the sheet of the day; acknowledge it if they really are alike.",
    Severity.WARNING,
)
COPIED_SERIES = Rule(
    "copied-series",
    "No two records have the same series of readings",
    "That a series agrees with another beyond what its marks and its spread explain does not happen by chance: in its "
    "order, in another order, in most of its bars, or all but for a division or two.",
    "told where chance would give fewer than one such agreement in a thousand records, a normal distribution "
    "assumed; of sound records fewer than one in a thousand is told: common practice, no source",
    "Compare both records with their sheets; delete the one that was never measured.",
    Severity.WARNING,
)
COPIED_DIMENSIONS = Rule(
    "copied-dimensions",
    "No two records have bars of the same dimensions",
    "Each bar is broken once, so that its dimensions stand in one record; strengths computed with those of other bars "
    "are wrong.",
    "told where chance would give fewer than one such agreement in a thousand records: common practice, no source",
    "Measure what is left of the bars, or compare both records with their sheets.",
    Severity.WARNING,
)


def repeated_readings(case: RecordCase) -> Iterator[Complaint]:
    """Bars that agree in every number, where that is more than the marks of the instruments explain."""
    tables, specimens = case.around.tables, case.record.specimens
    rows = tables.rows[tables.places[case.record.id]]
    if len(set(rows)) == len(rows):
        return
    first: dict[Row, int] = {}
    repeats: list[tuple[int, int]] = []
    for index, each in enumerate(rows):
        if each[3:] != (None, None):
            earlier = first.setdefault(each, index)
            if earlier != index:
                repeats.append((index, earlier))
    among_all, among_neighbours = _expected_repeats(tables, case.record.id)
    below = any(rows[index] == rows[index - 1] for index, _ in repeats)
    by_chance = _so_many(len(repeats), among_all)
    if by_chance > _MOST_REPEATS and not (below and among_neighbours <= _MOST_BELOW):
        return
    for index, earlier in repeats:
        yield Complaint(
            ("specimens", index),
            f"specimen {specimens[index].id} has the same dimensions and reading as specimen "
            f"{specimens[earlier].id}: it looks copied",
            "compare with the sheet that was written at the pendulum",
        )


def _expected_repeats(tables: BarTables, record_id: str) -> tuple[float, float]:
    """How many repeats chance gives, among all pairs of the record's bars and among neighbours."""
    place = tables.places[record_id]
    bars = len(tables.series[place])
    # bars that were never struck are left out, and their dimensions with them
    chances = tables.row_chances_of(place) or tables.readings.chances_of(place)
    whole = math.fsum(chances)
    return whole * (bars - 1) / 2.0, whole


def _so_many(number: int, expected: float) -> float:
    """Probability of so many rare events or more where so many are expected (Poisson's distribution)."""
    fewer = math.fsum(expected**k / math.factorial(k) for k in range(min(number, _MOST_COUNTED)))
    return 1.0 - math.exp(-expected) * fewer


def _series_words(like: Likeness, unit: str) -> str:
    if like.manner == "order":
        return f"the readings are the same, in the same order, as those of {like.other}"
    if like.manner == "any order":
        return f"the readings are the same, in another order, as those of {like.other}"
    if like.manner == "bars":
        return f"{like.count} of the {like.bars} bars agree in dimensions and reading with bars of {like.other}"
    near = f"differ by at most {number(like.off)}{unit} from" if like.off else "are the same as"
    which = "all readings" if like.count == like.bars else f"{like.count} of the {like.bars} readings"
    return f"{which} {near} those of the same bars of {like.other}"


def copied_series(case: RecordCase) -> Iterator[Complaint]:
    """Records that share readings with another."""
    alike = [each for each in case.around.likenesses.get(case.record.id, ()) if each.manner not in _OF_DIMENSIONS]
    if alike:
        unit = "°" if any(each.rise_angle_deg is not None for each in case.record.specimens) else " J"
        told = "; ".join(_series_words(each, unit) for each in alike[:3])
        yield Complaint(
            ("specimens",),
            f"{told}: they look copied",
            "compare with the sheets that were written at the pendulum",
        )


def copied_dimensions(case: RecordCase) -> Iterator[Complaint]:
    """Records that share the dimensions of bars with another."""
    alike = [each for each in case.around.likenesses.get(case.record.id, ()) if each.manner in _OF_DIMENSIONS]
    if alike:
        told = "; ".join(
            f"{each.count} of the {each.bars} bars have the dimensions of "
            f"{'the same bars' if each.manner == 'dimensions' else 'bars'} of {each.other}"
            for each in alike[:3]
        )
        yield Complaint(
            ("specimens",),
            f"{told}: they look copied",
            "compare with the sheets that were written beside the calliper",
        )


RECORD_CHECKS = (
    Check(REPEATED_READINGS, repeated_readings),
    Check(COPIED_SERIES, copied_series),
    Check(COPIED_DIMENSIONS, copied_dimensions),
)
