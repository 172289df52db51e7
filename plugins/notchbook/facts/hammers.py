"""A hammer on its rig: what it may be used for, by which verification, and until when."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import groupby

from notchbook.evaluation.after_break import reading_after_break, rise_after_break_deg
from notchbook.evaluation.hammers import SwungHammer
from notchbook.evaluation.lookup import (
    LookupTable,
    ScaleTable,
    lookup_table,
    scale_table,
)
from notchbook.evaluation.loss_trend import LossTrend
from notchbook.evaluation.losses import Losses
from notchbook.evaluation.resolved import Swung
from notchbook.evaluation.scale import Section, bar_section, scale_of
from notchbook.evaluation.watch import Watch
from notchbook.facts import hammer_words
from notchbook.facts.verifications import VerificationFacts
from notchbook.model.rig import Indicator, Rig
from notchbook.model.verification import Verification
from notchbook.wording.dates import day_words


@dataclass(frozen=True, slots=True, kw_only=True)
class HammerFacts(Swung):
    """One hammer on the day of the handbook.

    It may be used while a verification is in force, the same one that a test of the day would rest on. What is known of
    its losses is told by that one, else by the one that ended last, else by the first that is to come.
    """

    rig: Rig
    hammer: SwungHammer
    day: dt.date
    verifications: tuple[VerificationFacts, ...]
    """All of this hammer, the newest first."""
    nearest: Verification | None
    """The verification in force on the day, else the one nearest to it."""

    @property
    def scale_read(self) -> Indicator:
        """The scale that it is read on, with the division of its own ring where it has one."""
        return scale_of(self.rig, self.hammer)

    @property
    def in_force(self) -> Verification | None:
        """The verification in force on the day."""
        return self.nearest if self.nearest is not None and self.nearest.holds_on(self.day) else None

    @property
    def shown(self) -> VerificationFacts | None:
        """The verification whose losses are shown."""
        return next((each for each in self.verifications if each.verification is self.nearest), None)

    @property
    def losses(self) -> Losses | None:
        """The losses by that verification."""
        return self.shown.losses if self.shown is not None else None

    @property
    def usable(self) -> bool:
        """Whether a verification is in force on the day, and the hammer may be used by it."""
        return self.in_force is not None and self.shown is not None and self.shown.stands

    @property
    def state(self) -> str:
        """Whether the hammer may be used, in words with the day until when."""
        if self.nearest is None:
            return "not verified"
        if self.usable:
            return f"verified until {day_words(self.nearest.valid_until)}"
        if self.in_force is not None:
            return f"verification of {day_words(self.nearest.date)} does not conform"
        if self.nearest.date > self.day:
            return f"verified from {day_words(self.nearest.date)}"
        return f"verification ended {day_words(self.nearest.valid_until)}"

    @property
    def why_not(self) -> str:
        """Why the hammer may not be used, short enough for a row of a table; empty where it may."""
        if self.nearest is None:
            return "not verified"
        if self.in_force is not None:
            return "" if self.usable else "does not conform"
        if self.nearest.date > self.day:
            return f"from {self.nearest.date.isoformat()}"
        return f"ended {self.nearest.valid_until.isoformat()}"

    @property
    def name(self) -> str:
        """Its title, with the standard where the pendulum serves several."""
        if self.method is None or not self.hammer.edges:
            return self.hammer.title
        return f"{self.hammer.title}, {self.method.standard}"

    @property
    def energy(self) -> str:
        """Its energy with four figures, as nominal where it rests on what is stamped on a mass."""
        return hammer_words.energy(self.hammer, self.in_force)

    @property
    def scale_division(self) -> str:
        """One division of the scale that it is read on, with its unit."""
        return hammer_words.division(self.scale_read)

    def section(self, specimen_type: str, notch: str) -> Section | None:
        """The nominal section of a bar of its method."""
        return bar_section(self.method, specimen_type, notch) if self.method is not None else None

    @property
    def window_shown(self) -> str:
        """Between which readings of an energy dial a test may end, J; empty on a scale of angles or where not known."""
        if self.rig.indicator.reads == "angle" or self.method is None or self.window_J is None:
            return ""
        scale, correction = self.scale_read, self.method.loss_correction
        low, high = (reading_after_break(scale, self.hammer, self.losses, correction, each) for each in self.window_J)
        return hammer_words.span((low, high), 2)

    def lookup(self, section: Section, own: tuple[float, float] | None) -> LookupTable | None:
        """Energies and strengths over its scale; None where it is not verified or no reading will do.

        Arguments:
            section: of the nominal bar.
            own: the least and the greatest reading of own bars, between which rows are closer.
        """
        if self.method is None or self.losses is None:
            return None
        return lookup_table(self.scale_read, self.hammer, self.method, self.losses, section, own)

    def scale(self, sections: Sequence[Section], most: int) -> ScaleTable | None:
        """Energies and strengths division by division in at most so many rows; None as above."""
        if self.method is None or self.losses is None:
            return None
        return scale_table(self.scale_read, self.hammer, self.method, self.losses, sections, most)

    def rise_after_break_deg(self, energy_J: float) -> float | None:
        """Angle of rise after a bar that absorbed the energy; None where the pendulum cannot pass it."""
        if self.method is None:
            return None
        return rise_after_break_deg(self.hammer, self.losses, self.method.loss_correction, energy_J)


@dataclass(frozen=True, slots=True)
class RigFacts:
    """A rig with hammers as they are fitted, the lightest of a method first."""

    rig: Rig
    hammers: list[HammerFacts]
    loss_drift: float
    """Standard uncertainty of a loss on another day than that of its verification, as a share of it."""
    trends: dict[str, LossTrend]
    """By hammer, where it has three losses or more since its last repair."""
    watch: Watch | None
    """Its everyday material; None where nothing was broken on it."""

    @property
    def growing(self) -> list[tuple[HammerFacts, LossTrend]]:
        """The pendulums whose loss grows by more than chance, with the line through their losses."""
        found = [(each, self.trends.get(each.hammer.id)) for each in self.pendulums]
        return [(each, trend) for each, trend in found if trend is not None and trend.grows]

    @property
    def pendulums(self) -> list[HammerFacts]:
        """Its pendulums, each once."""
        return pendulums(self.hammers)

    @property
    def divisions(self) -> str:
        """One division of its scale, and of the rings of single hammers, with their units."""
        rings = [
            f"{each.scale_division} with the {each.hammer.title}" for each in self.pendulums if each.hammer.has_ring
        ]
        shared = [hammer_words.division(self.rig.indicator)] if len(rings) < len(self.pendulums) or not rings else []
        return ", ".join([*shared, *rings])

    def of_method(self, method_id: str) -> RigFacts:
        """The rig with its hammers of one method alone."""
        return replace(self, hammers=[each for each in self.hammers if each.hammer.method == method_id])


def pendulums(hammers: Sequence[HammerFacts]) -> list[HammerFacts]:
    """Each pendulum once, whatever it is fitted with."""
    return list({(each.hammer.rig, each.hammer.id): each for each in reversed(hammers)}.values())[::-1]


def next_due(hammers: Sequence[HammerFacts]) -> list[list[HammerFacts]]:
    """The pendulums in the order in which they need a verification, those of one day together.

    Hammers without a verification come first, then those whose last day is the nearest or has passed.
    """

    def last_day(each: HammerFacts) -> tuple[bool, dt.date]:
        return each.nearest is not None, each.nearest.valid_until if each.nearest is not None else each.day

    return [list(alike) for _, alike in groupby(sorted(pendulums(hammers), key=last_day), key=lambda each: each.state)]
