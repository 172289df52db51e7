"""A hammer on its rig: what it may be used for, by which verification, and until when."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from notchbook.evaluation.hammers import SwungHammer
from notchbook.evaluation.lookup import LookupTable, ScaleTable, lookup_table, rise_after_break_deg, scale_table
from notchbook.evaluation.losses import Losses
from notchbook.evaluation.resolved import Swung
from notchbook.evaluation.scale import Section, bar_section
from notchbook.facts.verifications import VerificationFacts
from notchbook.model.rig import Rig
from notchbook.model.verification import Verification
from notchbook.wording.dates import day_words


@dataclass(frozen=True, slots=True, kw_only=True)
class HammerFacts(Swung):
    """One hammer on the day of the handbook.

    It may be used while a verification is in force, the same one that a test of the day would rest on. What is known
    last of a hammer is told by its newest verification, which may have ended or be still to come.
    """

    rig: Rig
    hammer: SwungHammer
    day: dt.date
    verifications: tuple[VerificationFacts, ...]
    """All of this hammer, the newest first."""
    in_force: Verification | None
    """The verification in force on the day."""
    newest: Verification | None

    @property
    def shown(self) -> VerificationFacts | None:
        """The verification whose losses are shown: the one in force, else the newest."""
        chosen = self.in_force or self.newest
        return next((each for each in self.verifications if each.verification is chosen), None)

    @property
    def losses(self) -> Losses | None:
        """The losses by that verification."""
        return self.shown.losses if self.shown is not None else None

    @property
    def conforms(self) -> bool:
        """Whether that verification met what the method asks."""
        return self.shown is not None and self.shown.conforms

    @property
    def usable(self) -> bool:
        """Whether a verification that conforms is in force on the day."""
        return self.in_force is not None and self.conforms

    @property
    def state(self) -> str:
        """Whether the hammer may be used, in words with the day until when."""
        if self.in_force is not None:
            return f"verified until {day_words(self.in_force.valid_until)}"
        if self.newest is None:
            return "not verified"
        if self.newest.date > self.day:
            return f"verified from {day_words(self.newest.date)}"
        return f"verification ended {day_words(self.newest.valid_until)}"

    @property
    def why_not(self) -> str:
        """Why no verification is in force, short enough for a row of a table; empty where one is."""
        if self.in_force is not None:
            return ""
        if self.newest is None:
            return "not verified"
        if self.newest.date > self.day:
            return f"from {self.newest.date.isoformat()}"
        return f"ended {self.newest.valid_until.isoformat()}"

    def section(self, specimen_type: str, notch: str) -> Section | None:
        """The nominal section of a bar of its method."""
        return bar_section(self.method, specimen_type, notch) if self.method is not None else None

    def lookup(self, section: Section) -> LookupTable | None:
        """Energies and strengths over its scale; None where it is not verified or no reading will do."""
        if self.method is None or self.losses is None:
            return None
        return lookup_table(self.rig.indicator, self.hammer, self.method, self.losses, section)

    def scale(self, sections: Sequence[Section], most: int) -> ScaleTable | None:
        """Energies and strengths division by division in at most so many rows; None as above."""
        if self.method is None or self.losses is None:
            return None
        return scale_table(self.rig.indicator, self.hammer, self.method, self.losses, sections, most)

    def rise_after_break_deg(self, energy_J: float) -> float | None:
        """Angle of rise after a bar that absorbed the energy; None where the pendulum cannot pass it."""
        if self.method is None:
            return None
        return rise_after_break_deg(self.hammer, self.losses, self.method.loss_correction, energy_J)


@dataclass(frozen=True, slots=True)
class RigFacts:
    """A rig with hammers, the lightest of a method first."""

    rig: Rig
    hammers: list[HammerFacts]

    def of_method(self, method_id: str) -> RigFacts:
        """The rig with its hammers of one method alone."""
        return RigFacts(self.rig, [each for each in self.hammers if each.hammer.method == method_id])


def next_due(hammers: Sequence[HammerFacts]) -> list[list[HammerFacts]]:
    """The hammers in the order in which they need a verification, those of one day together.

    Hammers without a verification come first, then those whose last day is the nearest or has passed.
    """

    def last_day(each: HammerFacts) -> tuple[bool, dt.date]:
        chosen = each.in_force or each.newest
        return chosen is not None, chosen.valid_until if chosen is not None else each.day

    return [list(alike) for _, alike in groupby(sorted(hammers, key=last_day), key=lambda each: each.state)]
