"""Exercises, hazards and materials."""

from collections.abc import Iterator

from notchbook.checks.references import misspelt_hazards
from notchbook.checks.subject import Check, Complaint, ExerciseCase, HazardsCase, MaterialCase
from notchbook.findings import Rule, Severity
from notchbook.wording.nearest import nearest
from notchbook.wording.numbers import number

_SHORTEST_min, _LONGEST_min = 20.0, 720.0
_SHORTEST_A_BAR_min = 2.0
"""Measuring, placing, clearing the swing, releasing, reading and writing down."""
_WIDEST = 10.0

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
EXERCISE_TIME = Rule(
    "exercise-time",
    "An exercise has time for its bars and fits into a day",
    "Whoever is short of time hurries at a raised pendulum; a slipped point in the time or the number plans for it.",
    "at least two minutes a bar and twenty in all, at most twelve hours: common practice, no source",
    "Check the time and the number of specimens; plan fewer bars, or two sessions.",
    Severity.WARNING,
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
TYPICAL_WIDTH = Rule(
    "typical-width",
    "A typical range is narrow enough to choose a hammer by",
    "A hammer serves from a tenth to eight tenths of its energy; none serves a range of more than a factor of ten.",
    "ISO 179-1, 7.3; the factor of ten: common practice, no source",
    "Check the decimal points; if they are right, give one range for each form or condition of the material.",
    Severity.WARNING,
)


def exercise_hazards(case: ExerciseCase) -> Iterator[Complaint]:
    """Hazards of the equipment that the exercise leaves out."""
    if case.method is None:
        return
    asked = case.method.equipment_hazards
    if case.exercise.specimen is not None:
        asked += case.method.specimen_hazards
    named = {*case.exercise.hazards, *misspelt_hazards(case)}
    for hazard in asked:
        if hazard not in named:
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


def exercise_time(case: ExerciseCase) -> Iterator[Complaint]:
    """Times in which the bars cannot be broken, and times beyond a day."""
    duration, bars = case.exercise.duration_min, case.exercise.number_of_specimens or 0
    shortest = max(_SHORTEST_min, bars * _SHORTEST_A_BAR_min)
    if duration < shortest:
        planned = f" for {bars} bars" if bars else ""
        yield Complaint(
            ("duration_min",),
            f"{number(duration)} min are planned{planned}; at least {number(shortest)} min are needed",
            "check the time and the number of specimens",
        )
    elif duration > _LONGEST_min:
        yield Complaint(
            ("duration_min",),
            f"{number(duration)} min are planned; a day at the rig has at most {number(_LONGEST_min)} min",
            "check the time: it is in minutes",
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


def typical_width(case: MaterialCase) -> Iterator[Complaint]:
    """Typical ranges too wide to choose a hammer by."""
    for index, typical in enumerate(case.material.typical):
        low, high = typical.strength_kJ_m2
        if 0.0 < _WIDEST * low < high:
            yield Complaint(
                ("typical", index, "strength_kJ_m2"),
                f"the range from {number(low)} to {number(high)} kJ/m² is wider than a factor of {_WIDEST:g}",
                "check the decimal points of both values",
            )


EXERCISE_CHECKS = (
    Check(EXERCISE_HAZARDS, exercise_hazards),
    Check(EXERCISE_NUMBER, exercise_number),
    Check(EXERCISE_TIME, exercise_time),
)
HAZARDS_CHECKS = (Check(HAZARD_TWICE, hazard_twice),)
MATERIAL_CHECKS = (Check(TYPICAL_RANGE, typical_range), Check(TYPICAL_WIDTH, typical_width))
