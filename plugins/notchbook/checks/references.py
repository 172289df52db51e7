"""What a file refers to exists, and belongs to what else it refers to."""

from collections.abc import Iterable, Iterator, Mapping

from notchbook.checks.subject import (
    Check,
    Complaint,
    ExerciseCase,
    MaterialCase,
    RecordCase,
    RigCase,
    Surroundings,
    SwingsCase,
    VerificationCase,
)
from notchbook.findings import Rule
from notchbook.model.method import Method
from notchbook.model.procedure import SpecimenChoice
from notchbook.model.rig import Rig
from notchbook.wording.nearest import nearest, nearest_of

_WHY = "What is named but not there cannot be shown, checked or computed with."
_BASIS = "contract of the data files"


def _known(kind: str, missing: str) -> Rule:
    """The rule that what is named exists, with what to add where it does not."""
    hint = f"Correct the id, or add {missing}."
    return Rule(f"{kind}-known", f"The {kind} that is named exists", _WHY, _BASIS, hint)


RIG_KNOWN = _known("rig", "the rig's file first")
HAMMER_KNOWN = Rule(
    "hammer-known",
    "The hammer that is named belongs to the rig",
    "Moment, release angle and losses are those of one hammer on one rig.",
    _BASIS,
    "Take the hammer's key from the rig's file, or add the hammer there.",
)
EXERCISE_KNOWN = _known("exercise", "the exercise's file first")
MATERIAL_KNOWN = _known("material", "the material's file first")
METHOD_KNOWN = _known("method", "a file for the department's own method")
HAZARD_KNOWN = Rule(
    "hazard-known",
    "The hazard that is named is on the department's list",
    "A hazard without its controls protects nobody.",
    _BASIS,
    "Correct the id, or add the hazard with its controls to the department's list.",
)
HAMMER_METHOD = Rule(
    "hammer-method",
    "The hammer is one of the exercise's method",
    "Charpy and Izod hammers differ in striking edge, velocity and what they may lose.",
    "ISO 179-1, 5.1; ISO 180, 5.1",
    "Write the hammer that was really in use, and an exercise of that hammer's method.",
)
SWINGS_EXERCISE = Rule(
    "swings-exercise",
    "Free swings of a group are those of an exercise without specimens",
    "Under an exercise that breaks bars nobody looks for them; those of a day of tests stand in its record.",
    _BASIS,
    "Name the exercise about losses, or put the swings into the record of the tests.",
)
SPECIMEN_AGREES = Rule(
    "specimen-agrees",
    "Type, notch and direction are those of the exercise",
    "A record under an exercise is compared with the others under it.",
    _BASIS,
    "Write what was really broken, and name the exercise that asks for it.",
)
SPECIMEN_ARRANGEMENT = Rule(
    "specimen-arrangement",
    "The method has that specimen type with that notch and direction",
    "The designation of a result says how the bar was struck; one that the method does not have says nothing.",
    "ISO 179-1, Tables 2 and 3; ISO 180, Table 2",
    "Take type, notch and direction from the page of the method.",
)


def _absent(around: Surroundings, kind: str, object_id: str) -> Iterator[Complaint]:
    """A complaint where the id under the key of that kind's name refers to nothing."""
    known = getattr(around.library, f"{kind}s")
    if around.missing(kind, object_id, known):
        hint = f"{nearest(object_id, known)} (a file in procedures/{kind}s each)"
        yield Complaint((kind,), f"there is no {kind} '{object_id}'", hint)


def _no_hammer(rig: Rig | None, hammer: str) -> Iterator[Complaint]:
    """A complaint where the rig has no such hammer."""
    if rig is not None and hammer not in rig.hammers:
        yield Complaint(("hammer",), f"rig '{rig.id}' has no hammer '{hammer}'", nearest(hammer, rig.hammers))


def _no_such(kind: str, object_id: str, known: Iterable[str], *keys: str | int) -> Complaint:
    return Complaint(keys, f"there is no {kind} '{object_id}'", nearest(object_id, known))


def rig_methods(case: RigCase) -> Iterator[Complaint]:
    """Rigs: the method of each hammer."""
    known = case.around.library.methods
    for hammer in case.rig.hammers.values():
        stated = [(hammer.method, ("method",)), *((each, ("methods", at)) for at, each in enumerate(hammer.methods))]
        for method, keys in stated:
            if method is not None and case.around.missing("method", method, known):
                yield _no_such("method", method, known, "hammers", hammer.id, *keys)


def repaired_hammers(case: RigCase) -> Iterator[Complaint]:
    """Rigs: the hammer of each repair."""
    known = case.rig.hammers
    for index, repair in enumerate(case.rig.repairs):
        if repair.hammer is not None and repair.hammer not in known:
            yield _no_such("hammer", repair.hammer, known, "repairs", index, "hammer")


def _watched(kind: str, case: RigCase) -> Iterator[Complaint]:
    """Rigs: the exercise or the material that is watched."""
    known: Mapping[str, object] = getattr(case.around.library, f"{kind}s")
    if case.rig.watch is not None and case.around.missing(kind, getattr(case.rig.watch, kind), known):
        yield _no_such(kind, getattr(case.rig.watch, kind), known, "watch", kind)


def material_methods(case: MaterialCase) -> Iterator[Complaint]:
    """Materials: the method of each typical range."""
    known = case.around.library.methods
    for index, typical in enumerate(case.material.typical):
        if case.around.missing("method", typical.method, known):
            yield _no_such("method", typical.method, known, "typical", index, "method")


def misspelt_hazards(case: ExerciseCase) -> set[str]:
    """The hazards of the department's list that an exercise names with a slip, which is told where it was made."""
    known = case.around.library.hazards
    meant = (nearest_of(each, known) for each in case.exercise.hazards if each not in known)
    return {each for each in meant if each is not None}


def exercise_hazards(case: ExerciseCase) -> Iterator[Complaint]:
    """Exercises: each hazard, and those of the steps."""
    exercise, known, misspelt = case.exercise, case.around.library.hazards, misspelt_hazards(case)
    if case.around.library.unreadable.get("hazards"):
        return
    for index, hazard in enumerate(exercise.hazards):
        if hazard not in known:
            yield _no_such("hazard", hazard, known, "hazards", index)
    for part in ("prepare", "steps", "finish"):
        for index, step in enumerate(getattr(exercise, part)):
            if step.hazard is not None and step.hazard not in exercise.hazards and step.hazard not in misspelt:
                yield Complaint(
                    (part, index, "hazard"),
                    f"the step names the hazard '{step.hazard}', which the exercise does not list",
                    f"add it to 'hazards', or {nearest(step.hazard, exercise.hazards)}",
                )


def hammer_method(case: RecordCase | SwingsCase) -> Iterator[Complaint]:
    """Test records and free swings: hammer and exercise are of one method."""
    hammer, exercise, methods = case.hammer, case.exercise, case.around.library.methods
    if hammer is None or exercise is None or not {hammer.method, exercise.method} <= methods.keys():
        return
    if hammer.method != exercise.method:
        fitting = [
            each.id
            for (rig, _), each in case.around.evaluation.hammers.items()
            if rig == hammer.rig and exercise.method in each.methods
        ]
        yield Complaint(
            ("hammer",),
            f"hammer '{hammer.id}' is one of {', '.join(hammer.methods)}, the exercise '{exercise.id}' is one of "
            f"{exercise.method}",
            f"hammers of {exercise.method} on this rig: {', '.join(fitting) or 'none'}",
        )


def record_specimen(case: RecordCase) -> Iterator[Complaint]:
    """Test records: the specimens are those that the exercise asks for."""
    exercise, mine = case.exercise, case.record.specimen
    if exercise is None:
        return
    if exercise.specimen is None:
        yield Complaint(("exercise",), f"the exercise '{exercise.id}' breaks no specimens", "name another exercise")
        return
    method = case.around.library.methods.get(exercise.method)
    if any(_arrangement(method, exercise.specimen)):
        # nobody is asked to write what is told as wrong at the exercise
        return
    for key in ("type", "notch", "direction"):
        here, there = getattr(mine, key), getattr(exercise.specimen, key)
        if here != there:
            yield Complaint(
                ("specimen", key),
                f"{key} is '{here}', the exercise '{exercise.id}' asks for '{there}'",
                f"write '{there}', or name the exercise that was done",
            )


def swings_exercise(case: SwingsCase) -> Iterator[Complaint]:
    """Free swings: the exercise is one without bars."""
    exercise = case.exercise
    if exercise is not None and exercise.specimen is not None:
        known = [each.id for each in case.around.library.exercises.values() if each.specimen is None]
        yield Complaint(
            ("exercise",),
            f"the exercise '{exercise.id}' breaks specimens",
            f"name one without: {', '.join(known) or 'there is none'}",
        )


def _arrangement(method: Method | None, chosen: SpecimenChoice | None) -> Iterator[Complaint]:
    """A complaint where the method does not have the specimen."""
    if method is None or chosen is None:
        return
    specimen_type = method.specimen_type(chosen.type)
    if specimen_type is None:
        known = [each.id for each in method.specimen_types]
        yield Complaint(
            ("specimen", "type"),
            f"{method.standard} has no specimen type '{chosen.type}' here",
            nearest(chosen.type, known),
        )
    elif specimen_type.arrangement(chosen.direction, chosen.notch) is None:
        known = [f"{each.direction} with notch {each.notch}" for each in specimen_type.arrangements]
        yield Complaint(
            ("specimen", "notch"),
            f"{method.standard} has no specimen type {chosen.type} struck {chosen.direction} with notch "
            f"'{chosen.notch}' here",
            f"it has {', '.join(known)}",
        )


def record_arrangement(case: RecordCase) -> Iterator[Complaint]:
    """Test records: the method has the specimen, where it is not told already to be another than the exercise's."""
    if not any(record_specimen(case)):
        yield from _arrangement(case.method, case.record.specimen)


RECORD_CHECKS: tuple[Check[RecordCase], ...] = (
    Check(RIG_KNOWN, lambda case: _absent(case.around, "rig", case.record.rig)),
    Check(HAMMER_KNOWN, lambda case: _no_hammer(case.rig, case.record.hammer)),
    Check(EXERCISE_KNOWN, lambda case: _absent(case.around, "exercise", case.record.exercise)),
    Check(MATERIAL_KNOWN, lambda case: _absent(case.around, "material", case.record.material)),
    Check(HAMMER_METHOD, hammer_method),
    Check(SPECIMEN_AGREES, record_specimen),
    Check(SPECIMEN_ARRANGEMENT, record_arrangement),
)
VERIFICATION_CHECKS: tuple[Check[VerificationCase], ...] = (
    Check(RIG_KNOWN, lambda case: _absent(case.around, "rig", case.verification.rig)),
    Check(HAMMER_KNOWN, lambda case: _no_hammer(case.rig, case.verification.hammer)),
)
SWINGS_CHECKS: tuple[Check[SwingsCase], ...] = (
    Check(RIG_KNOWN, lambda case: _absent(case.around, "rig", case.record.rig)),
    Check(HAMMER_KNOWN, lambda case: _no_hammer(case.rig, case.record.hammer)),
    Check(EXERCISE_KNOWN, lambda case: _absent(case.around, "exercise", case.record.exercise)),
    Check(HAMMER_METHOD, hammer_method),
    Check(SWINGS_EXERCISE, swings_exercise),
)
EXERCISE_CHECKS: tuple[Check[ExerciseCase], ...] = (
    Check(METHOD_KNOWN, lambda case: _absent(case.around, "method", case.exercise.method)),
    Check(HAZARD_KNOWN, exercise_hazards),
    Check(SPECIMEN_ARRANGEMENT, lambda case: _arrangement(case.method, case.exercise.specimen)),
)
RIG_CHECKS: tuple[Check[RigCase], ...] = (
    Check(METHOD_KNOWN, rig_methods),
    Check(HAMMER_KNOWN, repaired_hammers),
    Check(EXERCISE_KNOWN, lambda case: _watched("exercise", case)),
    Check(MATERIAL_KNOWN, lambda case: _watched("material", case)),
)
MATERIAL_CHECKS = (Check(METHOD_KNOWN, material_methods),)
