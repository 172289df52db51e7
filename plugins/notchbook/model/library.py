"""Everything a handbook was read from, by id."""

from dataclasses import dataclass, field

from notchbook.model.method import Method
from notchbook.model.procedure import Exercise, Hazard, Material
from notchbook.model.record import Record
from notchbook.model.rig import Rig
from notchbook.model.swings import SwingsRecord
from notchbook.model.verification import Verification


@dataclass(slots=True)
class Library:
    """The objects of a handbook that could be read; what could not is told by findings instead."""

    methods: dict[str, Method] = field(default_factory=dict)
    rigs: dict[str, Rig] = field(default_factory=dict)
    materials: dict[str, Material] = field(default_factory=dict)
    exercises: dict[str, Exercise] = field(default_factory=dict)
    hazards: dict[str, Hazard] = field(default_factory=dict)
    verifications: dict[str, Verification] = field(default_factory=dict)
    swings: dict[str, SwingsRecord] = field(default_factory=dict)
    records: dict[str, Record] = field(default_factory=dict)
    hazard_ids: tuple[str, ...] = ()
    """Ids of the hazards in the order of their file, one for each entry."""
    unreadable: dict[str, set[str]] = field(default_factory=dict)
    """Ids by kind of the files that are there but could not be read, so that they are not called missing."""
