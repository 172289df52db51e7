"""What a check is given to look at, and what it says."""

import datetime as dt
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import Generic, TypeVar

from notchbook.checks.bar_tables import BarTables
from notchbook.checks.batch_tables import Batches
from notchbook.checks.customs import Climates, DimensionHabits, Names
from notchbook.checks.likeness import Likeness
from notchbook.evaluation.hammers import SwungHammer
from notchbook.evaluation.library import Evaluation
from notchbook.evaluation.resolved import ResolvedRecord, ResolvedSwings, ResolvedVerification
from notchbook.evaluation.watch import Watched
from notchbook.findings import Rule
from notchbook.model.library import Library
from notchbook.model.method import Method
from notchbook.model.procedure import Exercise, Material
from notchbook.model.rig import Rig


@dataclass(frozen=True, slots=True)
class Complaint:
    """One thing that a check found, at a place in the file it looked at."""

    keys: tuple[str | int, ...]
    """The keys that lead to the offending value."""
    message: str
    hint: str = ""
    hammers: tuple[str, ...] = ()
    """For a rig: the hammers that are concerned; empty where all hammers of the method are."""
    method: str | None = None
    """For a rig: the method that is concerned; None where all are."""

    def concerns(self, hammer: str, method: str | None) -> bool:
        """Whether it bears on what is done with a hammer for a method."""
        return (not self.hammers or hammer in self.hammers) and self.method in (None, method)


Case_contra = TypeVar("Case_contra", contravariant=True)


@dataclass(frozen=True, slots=True)
class Check(Generic[Case_contra]):
    """A rule and the function that finds where it is broken."""

    rule: Rule
    find: Callable[[Case_contra], Iterable[Complaint]]


@dataclass(frozen=True, slots=True)
class Surroundings:
    """Everything that a check may compare its subject with."""

    library: Library
    evaluation: Evaluation
    today: dt.date
    tables: BarTables
    """All bars of all test records."""
    likenesses: dict[str, list[Likeness]]
    """By the ids of test records, the other records that they agree with beyond chance."""
    dimensions: DimensionHabits
    """How bars are measured in this handbook."""
    climates: dict[str, Climates]
    """By method, how long and in what humidity the bars of its records were conditioned."""
    batches: Batches
    names: Names
    watches: dict[str, Watched] = field(default_factory=dict)
    """By rig, the records of its everyday material that signalled something, as far as they were asked for."""
    coarse_rigs: dict[str, bool] = field(default_factory=dict)
    """By rig, whether all its readings are coarser than its scale, as far as it was asked for."""

    def missing(self, kind: str, object_id: str, known: Iterable[str]) -> bool:
        """Whether an id refers to nothing: neither to an object nor to a file that could not be read."""
        return object_id not in known and object_id not in self.library.unreadable.get(kind, ())


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordCase(ResolvedRecord):
    """A test record with what it refers to."""

    around: Surroundings


@dataclass(frozen=True, slots=True)
class RigCase:
    """A rig with its hammers as they swing."""

    rig: Rig
    hammers: dict[str, SwungHammer]
    around: Surroundings

    def with_methods(self) -> list[tuple[SwungHammer, Method]]:
        """The hammers as they are fitted for each of their methods that is known, with it."""
        methods = self.around.library.methods
        fitted = [each for hammer in self.hammers.values() for each in hammer.fittings]
        return [(each, methods[each.method]) for each in fitted if each.method in methods]

    def methods(self) -> list[Method]:
        """The methods of the rig's hammers, each once."""
        return list({method.id: method for _, method in self.with_methods()}.values())


@dataclass(frozen=True, slots=True, kw_only=True)
class VerificationCase(ResolvedVerification):
    """A verification with the rig and hammer it is about."""

    around: Surroundings


@dataclass(frozen=True, slots=True, kw_only=True)
class SwingsCase(ResolvedSwings):
    """Free swings of a group with what they refer to."""

    around: Surroundings


@dataclass(frozen=True, slots=True)
class ExerciseCase:
    """An exercise with its method."""

    exercise: Exercise
    method: Method | None
    around: Surroundings


@dataclass(frozen=True, slots=True)
class MaterialCase:
    """A material."""

    material: Material
    around: Surroundings


@dataclass(frozen=True, slots=True)
class MethodCase:
    """A method."""

    method: Method
    around: Surroundings


@dataclass(frozen=True, slots=True)
class HazardsCase:
    """The department's list of hazards."""

    around: Surroundings
