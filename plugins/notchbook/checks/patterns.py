"""Readings of one record that were not read one by one: in order of size, in even steps, or in round numbers."""

import itertools
import math
from collections.abc import Iterator
from functools import lru_cache

import numpy as np

from notchbook.checks.likeness import FEWEST_BARS
from notchbook.checks.scale import division_of, on_mark, scale_division
from notchbook.checks.subject import Check, Complaint, RecordCase, RigCase
from notchbook.findings import Rule, Severity
from notchbook.statistics.coincidence import arrangements, at_least, table, typical_spreads
from notchbook.wording.numbers import number

MOST_CHANCE = 1e-4
"""Probability below which chance is no explanation: common practice, no source."""
_LEAST_VARIATION = 0.02
"""Share of the absorbed energy that bars of a plastic differ by at the least, as a standard deviation."""
_ROUND = (10.0, 5.0, 2.0, 1.0, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01)
"""Numbers that readings are rounded to."""
_FEWEST_MARKS = 4
"""Marks between two round numbers; of every second or third mark alone a whole record may consist by chance."""
_FEWEST_ROUND = 3
"""Different round numbers, fewer of which are one cluster and not a habit."""
# from two fifths of their distance on, a normal distribution meets round numbers as often as an even one, to a tenth
_WIDE = 0.4
_BASIS = "told where chance gives it in fewer than one record in ten thousand"

READING_ORDER = Rule(
    "reading-order",
    "The readings of a record do not stand in order of size",
    "Bars are struck in the order of their numbers and break in any order. Readings in order of size were sorted, or "
    "the pendulum drifts from bar to bar.",
    f"{_BASIS}: two of all n! orders, equal readings counted once; common practice, no source",
    "Write the readings at the bars they belong to, as they stand on the sheet of the day.",
    Severity.WARNING,
)
READING_STEPS = Rule(
    "reading-steps",
    "The readings of a record are not in even steps, nor all the same",
    "Bars scatter. Readings that go up by the same step, or do not change at all, were filled in or come from an "
    "indicator that sticks.",
    f"{_BASIS}, for equal readings where bars vary by 2 % at the least: common practice, no source",
    "Compare with the sheet of the day; if they are right, have the indicator looked at.",
    Severity.WARNING,
)
READING_DIGITS = Rule(
    "reading-digits",
    "The last digits of a record's readings are those of its scale",
    "Readings that keep to round numbers of a finer scale were rounded, or were not read at all; their spread is that "
    "of the rounding.",
    f"{_BASIS}: one mark of m each time, any of them, for n bars; common practice, no source",
    "Read to the division or half of it; if the sheet of the day has these readings, say so in the record.",
    Severity.WARNING,
)


def _readings(case: RecordCase) -> list[float]:
    """In the order of the bars; empty where they are too few."""
    found = case.around.tables.series_of(case.record.id)
    return found if len(found) >= FEWEST_BARS else []


def _listed_by_number(case: RecordCase) -> bool:
    """Whether the bars stand in the order of their ids; a table that was sorted by its readings is none of a day."""
    numbers = [(len(each.id), each.id) for each in case.record.specimens]
    return numbers == sorted(numbers)


def _key(case: RecordCase) -> str:
    angles = any(each.rise_angle_deg is not None for each in case.record.specimens)
    return "rise_angle_deg" if angles else "indicated_energy_J"


def _unit(case: RecordCase) -> str:
    return "°" if _key(case) == "rise_angle_deg" else " J"


def in_order(case: RecordCase) -> Iterator[Complaint]:
    """Readings in order of size."""
    readings = _readings(case)
    ordered = sorted(readings)
    if not readings or readings not in (ordered, ordered[::-1]):
        return
    if _listed_by_number(case) and 2.0 / arrangements(readings) < MOST_CHANCE:
        way = "falls" if readings[0] > readings[-1] else "rises"
        yield Complaint(
            ("specimens",),
            f"the reading {way} from bar to bar through all {len(readings)} bars; in any order that happens by chance "
            f"in one record of {arrangements(readings) / 2.0:.0f}",
            "compare with the sheet of the day: the readings were sorted by size, or the pendulum drifts",
        )


def _even_step(readings: list[float]) -> float | None:
    """The difference of each reading from the one before, where all are the same."""
    step = readings[1] - readings[0]
    slack = 1e-6 * max(abs(readings[0]), abs(readings[-1]))
    for before, after in itertools.pairwise(readings):
        if abs(after - before - step) > slack:
            return None
    return step


def in_steps(case: RecordCase) -> Iterator[Complaint]:
    """Readings in even steps in the order of the bars or of size, and readings that are all the same."""
    readings = _readings(case)
    if not readings:
        return
    if len(set(readings)) == 1:
        yield from _all_the_same(case, readings)
        return
    step, ordered_step = _even_step(readings), _even_step(sorted(readings))
    if ordered_step is None:
        return
    tables = case.around.tables
    chances = tables.readings.chances_of(tables.places[case.record.id])
    if step is not None:
        places, chance = "from bar to bar", math.prod(sorted(chances)[2:])
    else:
        # any mark can be the smallest
        step, places = ordered_step, "once they are put in order of size"
        chance = math.prod(chances) * arrangements(readings) * len(readings)
    if chance < MOST_CHANCE:
        yield Complaint(
            ("specimens",),
            f"all {len(readings)} readings are {number(abs(step))}{_unit(case)} apart {places}: they look made up",
            "compare with the sheet of the day",
        )


def _all_the_same(case: RecordCase, readings: list[float]) -> Iterator[Complaint]:
    hammer, mark = case.hammer, division_of(case.scale_read)
    read = [each for each in case.result.specimens if each.energy_J] if case.result is not None else []
    if hammer is None or mark is None or not read:
        return
    size = case.division_worth_J(read[0].rise_angle_deg or 0.0)
    spread = _LEAST_VARIATION * max(each.energy_J or 0.0 for each in read)
    same = math.erf(size / 2.0 / spread / math.sqrt(2.0)) if spread > 0.0 else 1.0
    if same ** (len(readings) - 1) < MOST_CHANCE:
        yield Complaint(
            ("specimens",),
            f"all {len(readings)} readings are {number(readings[0])}{_unit(case)}; bars of a plastic vary by more than "
            f"a division of {number(mark[2])}{_unit(case)} here",
            "compare with the sheet of the day, and see whether the indicator sticks",
        )


def round_digits(case: RecordCase) -> Iterator[Complaint]:
    """Readings that keep to round numbers of a finer scale, or that all end alike."""
    known = division_of(case.scale_read)
    readings = _readings(case)
    if known is None or not readings or (known[0] == "division_deg") != (_key(case) == "rise_angle_deg"):
        return
    for mark in (known[2], known[2] / 2.0):
        if all(on_mark(each, mark) for each in readings):
            found = _round_number([round(each / mark) for each in readings], mark)
            if found is not None and not _habit(case):
                yield _rounded(case, len(readings), *found)
            return


@lru_cache(maxsize=256)
def _round_marks(mark: float) -> tuple[tuple[float, int], ...]:
    """The round numbers with how many marks they are."""
    return tuple((size, round(size / mark)) for size in _ROUND if size / mark >= _FEWEST_MARKS and on_mark(size, mark))


def _round_number(steps: list[int], mark: float) -> tuple[int, float, float] | None:
    """How many readings keep to which round number, and how far above its multiples; None where chance explains it.

    Arguments:
        steps: the readings in marks.
        mark: the mark.
    """
    for size, marks in _round_marks(mark):
        endings = [each % marks for each in steps]
        # what more than half of them share stands in the middle of them all
        ending = sorted(endings)[len(endings) // 2]
        count = endings.count(ending)
        if 2 * count <= len(endings) or marks * at_least([1.0 / marks] * len(steps), count) >= MOST_CHANCE:
            continue
        column = table([steps])
        wide = float(typical_spreads(column, np.ones(1))[0]) >= _WIDE * marks
        if wide and len({step for step in steps if step % marks == ending}) >= _FEWEST_ROUND:
            return count, size, ending * mark
    return None


def _habit(case: RecordCase) -> bool:
    """Whether all readings of the rig are so coarse, which is told at the rig."""
    known = case.around.coarse_rigs
    if case.rig is not None and case.rig.id not in known:
        hammers = case.around.evaluation.hammers_of(case.rig.id)
        known[case.rig.id] = any(scale_division(RigCase(case.rig, hammers, case.around)))
    return case.rig is not None and known[case.rig.id]


def _rounded(case: RecordCase, bars: int, count: int, size: float, ending: float) -> Complaint:
    unit = _unit(case)
    which = f"all {bars}" if count == bars else f"{count} of the {bars}"
    what = f"whole multiples of {number(size)}{unit}"
    if ending:
        what = f"{number(ending)}{unit} above a whole multiple of {number(size)}{unit}"
    known = division_of(case.scale_read)
    scale = f" of a scale that is divided into {number(known[2])}{unit}" if known is not None else ""
    return Complaint(
        ("specimens",),
        f"{which} readings are {what}{scale}: they were rounded, or not read",
        "compare with the sheet of the day, and read to the division",
    )


RECORD_CHECKS = (
    Check(READING_ORDER, in_order),
    Check(READING_STEPS, in_steps),
    Check(READING_DIGITS, round_digits),
)
