"""Exercises, hazards, materials and a department's own methods."""

from __future__ import annotations

from typing import TYPE_CHECKING

from notchbook.checks.subject import Check, Complaint
from notchbook.checks.words import nearest, number
from notchbook.findings import Rule

if TYPE_CHECKING:
    from collections.abc import Iterator

    from notchbook.checks.subject import ExerciseCase, HazardsCase, MaterialCase, MethodCase

EXERCISE_HAZARDS = Rule(
    "exercise-hazards",
    "An exercise names at least the hazards that its method's equipment brings",
    "A procedure that leaves out the pendulum itself warns of the wrong things.",
    "ISO 12100; the method's list of hazards",
    "Add the hazard to the exercise; leave none out.",
)
EXERCISE_NUMBER = Rule(
    "exercise-number",
    "An exercise plans as many specimens as the method can do with",
    "A record of fewer can never conform.",
    "ISO 179-1, 6.4; ISO 180, 6.4",
    "Plan at least as many bars as the finding names, and state the number only where bars are broken.",
)
HAZARD_TWICE = Rule(
    "hazard-twice",
    "A hazard stands once on the list",
    "Two entries under one id have two sets of controls, and a reader sees one.",
    "contract of the data files",
    "Merge the two entries into one.",
)
TYPICAL_RANGE = Rule(
    "typical-range",
    "A typical range runs from low to high, for a notch that the method has",
    "It is what a hammer is chosen by before anything is known.",
    "contract of the data files",
    "Write the lower value first, and a notch that the method has.",
)
METHOD_CONSISTENT = Rule(
    "method-consistent",
    "A method's parts agree with each other",
    "Every check and every result of the method rests on them.",
    "contract of the data files",
    "Correct the part of the method's file that the finding names.",
)


def exercise_hazards(case: ExerciseCase) -> Iterator[Complaint]:
    """Hazards of the equipment that the exercise leaves out."""
    if case.method is None:
        return
    asked = case.method.equipment_hazards
    if case.exercise.specimen is not None:
        asked += case.method.specimen_hazards
    for hazard in asked:
        if hazard not in case.exercise.hazards:
            yield Complaint(
                ("hazards",),
                f"the equipment of {case.method.standard} brings the hazard '{hazard}', which is not named here",
                f"add '{hazard}'; its controls stand in procedures/hazards.yaml",
            )


def exercise_number(case: ExerciseCase) -> Iterator[Complaint]:
    """Numbers of specimens that can never do, and numbers without specimens."""
    number_asked, method = case.exercise.number_of_specimens, case.method
    if case.exercise.specimen is None:
        if number_asked:
            yield Complaint(
                ("number_of_specimens",),
                f"{number_asked} specimens are planned, but the exercise has no 'specimen'",
                "add the specimen, or take the number out",
            )
        return
    if method is None:
        return
    fewest = method.specimen_number.fewer
    if number_asked is None:
        yield Complaint(
            ("specimen",),
            "the exercise breaks specimens but does not say how many",
            f"add number_of_specimens; {method.standard} asks for {method.specimen_number.number}",
        )
    elif number_asked < fewest:
        yield Complaint(
            ("number_of_specimens",),
            f"{number_asked} specimens are planned; {method.standard} asks for {method.specimen_number.number}, "
            f"and for {fewest} at the very least ({method.specimen_number.origin.clause})",
            "plan more specimens",
        )


def hazard_twice(case: HazardsCase) -> Iterator[Complaint]:
    """Hazards that stand on the list twice."""
    seen: set[str] = set()
    for index, hazard in enumerate(case.around.library.hazard_ids):
        if hazard in seen:
            yield Complaint(("hazards", index, "id"), f"the hazard '{hazard}' is already on the list", "merge the two")
        seen.add(hazard)


def typical_range(case: MaterialCase) -> Iterator[Complaint]:
    """Typical ranges upside down, or of a notch that is none."""
    for index, typical in enumerate(case.material.typical):
        low, high = typical.strength_kJ_m2
        if low > high:
            yield Complaint(
                ("typical", index, "strength_kJ_m2"),
                f"the range runs from {number(low)} down to {number(high)} kJ/m²",
                "write the lower value first",
            )
        method = case.around.library.methods.get(typical.method)
        if method is not None and typical.notch != "none" and method.notch(typical.notch) is None:
            known = ["none", *(notch.id for notch in method.notches)]
            yield Complaint(
                ("typical", index, "notch"),
                f"{method.standard} has no notch '{typical.notch}'",
                nearest(typical.notch, known),
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
    letters = {each.letter for each in method.breaks.types}
    for index, group in enumerate(method.breaks.averaged_together):
        for place, letter in enumerate(group):
            if letter not in letters:
                yield Complaint(
                    ("breaks", "averaged_together", index, place),
                    f"there is no break type '{letter}'",
                    nearest(letter, letters),
                )
    yield from _specimen_types(case)


def _specimen_types(case: MethodCase) -> Iterator[Complaint]:
    method = case.method
    for specimen_type in method.specimen_types:
        keys = ("specimen_types", specimen_type.id)
        if method.support == "three-point" and specimen_type.span_mm is None:
            yield Complaint(keys, "a specimen for three-point bending needs its span_mm", "add the span")
        for index, arrangement in enumerate(specimen_type.arrangements):
            if arrangement.notch != "none" and method.notch(arrangement.notch) is None:
                yield Complaint(
                    (*keys, "arrangements", index, "notch"),
                    f"there is no notch '{arrangement.notch}' in this method",
                    nearest(arrangement.notch, [notch.id for notch in method.notches]),
                )


EXERCISE_CHECKS = (
    Check(EXERCISE_HAZARDS, exercise_hazards),
    Check(EXERCISE_NUMBER, exercise_number),
)
HAZARDS_CHECKS = (Check(HAZARD_TWICE, hazard_twice),)
MATERIAL_CHECKS = (Check(TYPICAL_RANGE, typical_range),)
METHOD_CHECKS = (Check(METHOD_CONSISTENT, method_consistent),)
