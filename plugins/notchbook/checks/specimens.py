"""The bars of a record: their dimensions against the specimen type, their notch, their ids."""

from collections.abc import Iterator

from notchbook.checks.subject import Check, Complaint
from notchbook.checks.words import departs, looks_like_length, power_of_ten_off
from notchbook.evaluation.resolved import ResolvedRecord
from notchbook.findings import Rule
from notchbook.model.requirement import Requirement
from notchbook.wording.numbers import number

_TABLE_1 = "ISO 179-1, Table 1; ISO 180, 6.1"
_FIGURE = "ISO 179-1, Table 2; ISO 180, Figure 2"

SPECIMEN_ID = Rule(
    "specimen-id",
    "Specimen ids are unique in their record",
    "Two bars under one id cannot be told apart when a broken piece is looked at again.",
    "contract of the data files",
    "Give each bar the number that is written on it.",
)
UNIT_SLIP = Rule(
    "unit-slip",
    "A dimension is in millimetres",
    "A value a power of ten off still computes, to a strength that is a power of ten off.",
    "common practice, no source",
    "Convert the dimension to millimetres from what the instrument showed.",
)
SPECIMEN_WIDTH = Rule(
    "specimen-width",
    "The width of each bar is that of its specimen type",
    "Width sets the depth of the bent section; strengths of other depths are not comparable.",
    _TABLE_1,
    "Measure the bar again; if it is right, exclude the bar and say why.",
    declarable=True,
)
SPECIMEN_THICKNESS = Rule(
    "specimen-thickness",
    "The thickness of each bar is that of its specimen type",
    "A thicker bar is held more firmly across the notch and breaks in a more brittle way.",
    _TABLE_1,
    "Measure the bar again; if it is right, exclude the bar and say why.",
    declarable=True,
)
REMAINING_WIDTH = Rule(
    "remaining-width",
    "The remaining width under the notch is that of the notch type",
    "Notch depth changes the stress at its root as well as the section that breaks.",
    _FIGURE,
    "Measure under the notch again; if it is right, exclude the bar and look at the notching tool.",
    declarable=True,
)
REMAINING_BELOW_WIDTH = Rule(
    "remaining-below-width",
    "The remaining width is smaller than the width",
    "A notch takes something away; if it did not, one of the two was misread.",
    "geometry",
    "Measure both again and see whether they were exchanged.",
)
NOTCH_AND_REMAINING = Rule(
    "notch-and-remaining",
    "A notched bar has a remaining width, an unnotched bar has none",
    "The strength is referred to the section that breaks.",
    "ISO 179-1, 8.1 and 8.2; contract of the data files",
    "Add the width under the notch to each notched bar; take it out, or name the notch, where there was none.",
)


def specimen_ids(case: ResolvedRecord) -> Iterator[Complaint]:
    """Ids that stand twice."""
    first: dict[str, int] = {}
    for index, specimen in enumerate(case.record.specimens):
        if specimen.id in first:
            yield Complaint(
                ("specimens", index, "id"),
                f"the id '{specimen.id}' is also that of specimen number {first[specimen.id] + 1}",
                "give each bar its own id",
            )
        first.setdefault(specimen.id, index)


def dimensions_of(case: ResolvedRecord) -> list[tuple[str, Requirement]]:
    """The dimensions that are measured on each bar, with what is asked of them."""
    if case.specimen_type is None:
        return []
    asked = [("width_mm", case.specimen_type.width_mm), ("thickness_mm", case.specimen_type.thickness_mm)]
    if case.notch is not None:
        asked.append(("remaining_width_mm", case.notch.remaining_width_mm))
    return asked


def _departing(case: ResolvedRecord, name: str, requirement: Requirement) -> list[tuple[int, float]]:
    """The bars of which a dimension is outside its tolerance: their places, and the dimension in mm."""
    measured = [
        (index, value)
        for index, specimen in enumerate(case.record.specimens)
        if (value := getattr(specimen, name)) is not None
    ]
    # what the ends of a set are allowed, all of it is
    ends = {bound(value for _, value in measured) for bound in (min, max)} if measured else ()
    if all(map(requirement.allows, ends)):
        return []
    return [(index, value) for index, value in measured if not requirement.allows(value)]


def off_dimension(case: ResolvedRecord) -> set[int]:
    """Places of the bars of which a dimension is outside its tolerance."""
    return {index for asked in dimensions_of(case) for index, _ in _departing(case, *asked)}


def unit_slips(case: ResolvedRecord) -> Iterator[Complaint]:
    """Dimensions a power of ten off."""
    for name, requirement in dimensions_of(case):
        for index, value in _departing(case, name, requirement):
            power = power_of_ten_off(value, requirement.value)
            if power:
                yield Complaint(
                    ("specimens", index, name),
                    f"{number(value)} mm looks like {looks_like_length(power)}; "
                    f"the bar has {requirement.text('mm')} here",
                    f"write {number(value / 10.0**power)} if that was measured",
                )


def _outside(case: ResolvedRecord, name: str, words: str) -> Iterator[Complaint]:
    """Dimensions outside their tolerance that no slip of the unit explains; it may be why a bar was excluded."""
    requirement = dict(dimensions_of(case)).get(name)
    if requirement is None or case.method is None:
        return
    for index, value in _departing(case, name, requirement):
        specimen = case.record.specimens[index]
        if not specimen.counts or power_of_ten_off(value, requirement.value):
            continue
        yield Complaint(
            ("specimens", index, name),
            departs(f"{words} of specimen {specimen.id}", value, "mm", requirement, case.method.standard),
            "measure the bar again; a bar outside the tolerance does not count",
        )


def remaining_below_width(case: ResolvedRecord) -> Iterator[Complaint]:
    """Remaining width against the width of the same bar, where a slip of the unit does not explain it."""
    for index, specimen in enumerate(case.record.specimens):
        remaining = specimen.remaining_width_mm
        if remaining is None or remaining < specimen.width_mm:
            continue
        if index not in {complaint.keys[1] for complaint in unit_slips(case)}:
            yield Complaint(
                ("specimens", index, "remaining_width_mm"),
                f"{number(remaining)} mm remain under the notch of a bar that is {number(specimen.width_mm)} mm wide",
                "measure both again",
            )


def notch_and_remaining(case: ResolvedRecord) -> Iterator[Complaint]:
    """A notch needs the remaining width, no notch forbids it; a notch that no method has is told at its name."""
    notched = case.record.specimen.notched
    if not notched:
        for keys, _ in case.record.measured("notch_radius_mm"):
            yield Complaint(keys, "the bars are unnotched but have a notch_radius_mm", "delete it, or name the notch")
    if notched and case.method is not None and case.notch is None:
        return
    for index, specimen in enumerate(case.record.specimens):
        if notched and specimen.remaining_width_mm is None:
            yield Complaint(
                ("specimens", index),
                f"specimen {specimen.id} has notch {case.record.specimen.notch} but no remaining_width_mm",
                "add the width that remains under the notch",
            )
        elif not notched and specimen.remaining_width_mm is not None:
            yield Complaint(
                ("specimens", index, "remaining_width_mm"),
                f"specimen {specimen.id} is unnotched but has a remaining_width_mm",
                "delete it, or name the notch",
            )


RECORD_CHECKS: tuple[Check[ResolvedRecord], ...] = (
    Check(SPECIMEN_ID, specimen_ids),
    Check(UNIT_SLIP, unit_slips),
    Check(SPECIMEN_WIDTH, lambda case: _outside(case, "width_mm", "the width")),
    Check(SPECIMEN_THICKNESS, lambda case: _outside(case, "thickness_mm", "the thickness")),
    Check(REMAINING_WIDTH, lambda case: _outside(case, "remaining_width_mm", "the remaining width")),
    Check(REMAINING_BELOW_WIDTH, remaining_below_width),
    Check(NOTCH_AND_REMAINING, notch_and_remaining),
)
