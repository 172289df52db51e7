"""A department's own method: whether its parts agree with each other."""

import dataclasses
import math
from collections.abc import Iterator
from typing import Any

from notchbook.checks.subject import Check, Complaint, MethodCase
from notchbook.findings import Rule
from notchbook.model.method import Method, Notch, SpecimenType
from notchbook.model.quantity import REPORTED
from notchbook.model.requirement import Requirement
from notchbook.wording.lists import listed
from notchbook.wording.nearest import nearest
from notchbook.wording.numbers import number

_HALF_TURN_deg = 180.0
_ALL_pct = 100.0
_WORKED_OUT = tuple(each.name for each in REPORTED)

METHOD_CONSISTENT = Rule(
    "method-consistent",
    "A method's parts agree with each other",
    "Every check and every result of the method rests on them.",
    "contract of the data files; geometry; that a larger hammer is not allowed a larger share: ISO 13802:1999, Table 2",
    "Correct the part of the method's file that the finding names.",
)
METHOD_QUANTITY = Rule(
    "reported-quantity",
    "A method reports a quantity that can be worked out here",
    "A result under another name or in another unit than the method's is taken for what it is not.",
    f"contract of the data files: results are worked out as {listed(_WORKED_OUT)}",
    "Name a quantity that the handbook works out, or report the other one outside of it.",
)


def reported_quantity(case: MethodCase) -> Iterator[Complaint]:
    """A quantity that nothing works out."""
    asked = case.method.reporting.quantity
    if asked not in _WORKED_OUT:
        yield Complaint(
            ("reporting", "quantity"),
            f"the method reports the {asked}; what is worked out and published here is the {listed(_WORKED_OUT)} in "
            f"{listed(each.unit for each in REPORTED)}",
            f"write {' or '.join(_WORKED_OUT)} if that is the result of the method; no other is published",
        )


def method_consistent(case: MethodCase) -> Iterator[Complaint]:
    """Contradictions inside a method."""
    method = case.method
    if method.energy_window.low_pct >= method.energy_window.high_pct:
        yield Complaint(("energy_window", "low_pct"), "the energy window is empty", "write the lower share first")
    if method.specimen_number.fewer > method.specimen_number.number:
        yield Complaint(
            ("specimen_number", "fewer"),
            f"{method.specimen_number.fewer} is not fewer than {method.specimen_number.number}",
            "write the smaller number",
        )
    yield from _letters(method)
    yield from _limits(method)
    yield from _shares(method)
    for specimen_type in method.specimen_types:
        yield from _specimen_type(method, specimen_type)


def _letters(method: Method) -> Iterator[Complaint]:
    """Break types averaged together that are not there."""
    letters = {each.letter for each in method.breaks.types}
    for index, group in enumerate(method.breaks.averaged_together):
        for place, letter in enumerate(group):
            if letter not in letters:
                yield Complaint(
                    ("breaks", "averaged_together", index, place),
                    f"there is no break type '{letter}'",
                    nearest(letter, letters),
                )


def _requirements(part: Any, keys: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], Requirement]]:
    """Every required number of a method with the keys that lead to it; entries of a list are found by their id."""
    for field in dataclasses.fields(part):
        value = getattr(part, field.name)
        if isinstance(value, Requirement):
            yield (*keys, field.name), value
        elif dataclasses.is_dataclass(value):
            yield from _requirements(value, (*keys, field.name))
        elif isinstance(value, tuple):
            for each in value:
                if dataclasses.is_dataclass(each) and hasattr(each, "id"):
                    yield from _requirements(each, (*keys, field.name, each.id))


def _limits(method: Method) -> Iterator[Complaint]:
    """Limits that no measured value can have, or that leave none out."""
    for keys, asked in _requirements(method):
        name = keys[-1]
        # an open end is infinite and leaves nothing out on purpose
        lowest = asked.value if math.isinf(asked.below) else asked.lowest
        highest = asked.value if math.isinf(asked.above) else asked.highest
        if name == "humidity_pct":
            yield from _humidity(keys, asked, lowest, highest)
        elif name != "temperature_C" and lowest < 0.0:
            yield Complaint(
                keys,
                f"the method allows {name} down to {number(lowest)}, and there is nothing below 0",
                "check the value and what is allowed below it",
            )
        elif name == "angle_deg" and highest >= _HALF_TURN_deg:
            message = f"an edge or a notch of {number(highest)}° is none: at {_HALF_TURN_deg:g}° it is flat"
            yield Complaint(keys, message, "write the included angle")


def _humidity(keys: tuple[str, ...], asked: Requirement, lowest: float, highest: float) -> Iterator[Complaint]:
    """A humidity that no air has, or a tolerance that all air is within; 95 ± 10 % is neither."""
    if not 0.0 <= asked.value <= _ALL_pct:
        message = f"the method asks for a humidity of {number(asked.value)} %; air has 0 to 100 %"
        yield Complaint(keys, message, "check the value")
    elif highest - lowest >= _ALL_pct:
        message = f"the method allows a humidity from {number(lowest)} to {number(highest)} %, which leaves none out"
        yield Complaint(keys, message, "check what is allowed below and above the value")


def _shares(method: Method) -> Iterator[Complaint]:
    """A larger hammer that may lose a larger share: bearings and air take no more of it."""
    classes = method.pendulums.classes
    for index, each in enumerate(classes):
        for other in classes:
            if other.nominal_energy_J < each.nominal_energy_J and other.loss_pct < each.loss_pct:
                yield Complaint(
                    ("pendulums", "classes", index, "loss_pct"),
                    f"a hammer of {number(each.nominal_energy_J)} J may lose {number(each.loss_pct)} %, more than the "
                    f"{number(other.loss_pct)} % of one of {number(other.nominal_energy_J)} J",
                    "see whether two shares or two energies were exchanged",
                )
                break


def _specimen_type(method: Method, specimen_type: SpecimenType) -> Iterator[Complaint]:
    """A specimen type that cannot be laid on its supports, or notched as it says."""
    keys = ("specimen_types", specimen_type.id)
    if method.support == "three-point" and specimen_type.span_mm is None:
        yield Complaint(keys, "a specimen for three-point bending needs its span_mm", "add the span")
    if specimen_type.span_mm is not None and specimen_type.length_mm.value <= specimen_type.span_mm.value:
        yield Complaint(
            (*keys, "length_mm"),
            f"a bar of {number(specimen_type.length_mm.value)} mm falls through a span of "
            f"{number(specimen_type.span_mm.value)} mm",
            "check the length and the span",
        )
    for index, arrangement in enumerate(specimen_type.arrangements):
        notch = method.notch(arrangement.notch)
        if arrangement.notch != "none" and notch is None:
            yield Complaint(
                (*keys, "arrangements", index, "notch"),
                f"there is no notch '{arrangement.notch}' in this method",
                nearest(arrangement.notch, [notch.id for notch in method.notches]),
            )
        elif notch is not None:
            yield from _depth(notch, specimen_type)


def _depth(notch: Notch, specimen_type: SpecimenType) -> Iterator[Complaint]:
    """A notch that its bar has no room for."""
    depth = specimen_type.width_mm.value - notch.remaining_width_mm.value
    if depth <= 0.0:
        yield Complaint(
            ("notches", notch.id, "remaining_width_mm"),
            f"{number(notch.remaining_width_mm.value)} mm remain of a bar that is "
            f"{number(specimen_type.width_mm.value)} mm wide: that is no notch",
            "check the remaining width and the width",
        )
    elif notch.base_radius_mm.value > depth:
        yield Complaint(
            ("notches", notch.id, "base_radius_mm"),
            f"a base radius of {number(notch.base_radius_mm.value)} mm is larger than the notch is deep, "
            f"{number(depth)} mm",
            "check the radius and the remaining width",
        )


METHOD_CHECKS = (Check(METHOD_CONSISTENT, method_consistent), Check(METHOD_QUANTITY, reported_quantity))
