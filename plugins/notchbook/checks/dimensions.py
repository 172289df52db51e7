"""Dimensions of a record's bars against each other: all the same, or one that stands apart."""

import math
from collections.abc import Iterator, Sequence

from notchbook.checks.customs import APART
from notchbook.checks.specimens import dimensions_of
from notchbook.checks.subject import Check, Complaint, RecordCase
from notchbook.findings import Rule, Severity
from notchbook.model.record import Specimen
from notchbook.statistics.coincidence import coarsest_marks, table
from notchbook.wording.numbers import number

_MOST_CHANCE = 1e-4
_FEWEST_BARS = 8
"""Fewer bars tell neither their spread nor a habit."""
_APART_HERE = 5.5
"""Spreads of the other bars of the same record from their mean."""
_LEAST_APART_mm = 0.07
"""Less than what exchanged digits make, a multiple of 0.09 mm."""
_FEWEST_MARKS_APART = 3

SAME_DIMENSIONS = Rule(
    "same-dimensions",
    "Width and thickness were measured on each bar",
    "Bars of one mould differ by hundredths of a millimetre. Where all are alike, one was measured.",
    "ISO 179-1, 7.2, and ISO 180: of injection-moulded bars one of a set may be measured; from memory, check against "
    "your copy. Told where bars that differ like those of the other records agree by chance in fewer than one record "
    "in ten thousand",
    "Measure each bar; if one was measured because the method allows it, say so in the record.",
    Severity.NOTE,
)
SAME_REMAINING_WIDTH = Rule(
    "same-remaining-width",
    "The width under the notch was measured on each bar",
    "Each notch is cut by itself and sets the section that breaks; a tenth of a millimetre is a percent of the "
    "strength. Where all are alike to the last digit, one was measured or the nominal value was written.",
    "told where bars that differ like those of the other records agree by chance in fewer than one record in ten "
    "thousand: common practice, no source",
    "Measure under the notch of each bar, also of the broken halves.",
    Severity.WARNING,
)
DIMENSION_APART = Rule(
    "dimension-apart",
    "No dimension stands apart from those of the other bars",
    "Exchanged digits, 9.89 for 9.98, stay within the tolerance of the bar and out of what one mould and one cutter "
    "give.",
    "six spreads of the handbook's bars and five and a half of the record's other bars, eight bars at the least: "
    "common practice, no source",
    "Measure the bar again, or compare with the sheet; leave it if the bar really differs.",
    Severity.WARNING,
)


def _column(specimens: Sequence[Specimen], name: str) -> list[float]:
    """One dimension of all bars that have it, in their order."""
    return [value for each in specimens if (value := getattr(each, name)) is not None and math.isfinite(value)]


def _chance_alike(case: RecordCase, name: str) -> float:
    """How likely a dimension is the same for all bars, as bars and callipers are here; certain where they differ."""
    specimens, habits = case.record.specimens, case.around.dimensions
    if len(specimens) < _FEWEST_BARS or getattr(specimens[0], name) != getattr(specimens[-1], name):
        return 1.0
    values = _column(specimens, name)
    if len(values) < _FEWEST_BARS or len(set(values)) > 1:
        return 1.0
    mark = min(float(coarsest_marks(table([values]))[0]), habits.mark_mm)
    # of a true value in the middle of a mark; anywhere else fewer agree
    return float(math.erf(mark / 2.0 / habits.spread_mm[name] / math.sqrt(2.0)) ** (len(values) - 1))


def same_dimensions(case: RecordCase) -> Iterator[Complaint]:
    """Widths and thicknesses that are the same for all bars."""
    width, thickness = _chance_alike(case, "width_mm"), _chance_alike(case, "thickness_mm")
    if max(width, thickness) < 1.0 and width * thickness < _MOST_CHANCE:
        first = case.record.specimens[0]
        yield Complaint(
            ("specimens",),
            f"all {len(case.record.specimens)} bars are {number(first.width_mm)} mm wide and "
            f"{number(first.thickness_mm)} mm thick: one bar was measured",
            "measure each bar, or say in the notes that the bars are moulded and one was measured",
        )


def same_remaining_width(case: RecordCase) -> Iterator[Complaint]:
    """Remaining widths that are the same for all bars."""
    if _chance_alike(case, "remaining_width_mm") < _MOST_CHANCE:
        values = _column(case.record.specimens, "remaining_width_mm")
        yield Complaint(
            ("specimens",),
            f"{number(values[0])} mm remain under the notch of all {len(values)} bars; notches that are cut one by one "
            "differ by more than a hundredth of a millimetre",
            "measure under the notch of each bar; the broken halves still have it",
        )


def dimension_apart(case: RecordCase) -> Iterator[Complaint]:
    """Dimensions far from those of the other bars, and within the tolerance of the specimen type."""
    habits, bars = case.around.dimensions, len(case.record.specimens)
    if case.record.id not in habits.apart or bars < _FEWEST_BARS:
        return
    for name, requirement in dimensions_of(case):
        values = _column(case.record.specimens, name)
        if len(values) < bars:
            continue
        mark = float(coarsest_marks(table([values]))[0])
        for index, specimen in enumerate(case.record.specimens):
            value, others = values[index], values[:index] + values[index + 1 :]
            if not specimen.counts or not requirement.allows(value):
                continue
            mean = math.fsum(others) / len(others)
            spread = math.sqrt(math.fsum((each - mean) ** 2 for each in others) / (len(others) - 1))
            off = abs(value - mean)
            here = _APART_HERE * max(spread, mark / 2.0)
            if off > max(here, APART * habits.spread_mm[name], _FEWEST_MARKS_APART * mark, _LEAST_APART_mm):
                yield Complaint(
                    ("specimens", index, name),
                    f"{number(value)} mm of specimen {specimen.id} is {off:.2f} mm from the mean of the other bars, "
                    f"which differ by {spread:.3f} mm (standard deviation)",
                    "see whether digits were exchanged, and measure the bar again",
                )


RECORD_CHECKS = (
    Check(SAME_DIMENSIONS, same_dimensions),
    Check(SAME_REMAINING_WIDTH, same_remaining_width),
    Check(DIMENSION_APART, dimension_apart),
)
