"""Pages of the rigs, and their index."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING

from notchbook.pages.page import Page, page_uri
from notchbook.pages.rig.losses import over_time
from notchbook.wording.dates import day_words

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Container, Iterator

    from notchbook.evaluation.hammers import SwungHammer
    from notchbook.evaluation.losses import Losses
    from notchbook.evaluation.verifications import VerificationResult
    from notchbook.handbook import Handbook
    from notchbook.model.method import Method, PendulumClass
    from notchbook.model.rig import Rig
    from notchbook.model.verification import Verification

INDEX = "rigs/index.md"
FOLDER = "rigs"


@dataclass(frozen=True, slots=True)
class HammerLine:
    """One hammer as a rig's page shows it."""

    hammer: SwungHammer
    method: Method | None
    asked: PendulumClass | None
    newest: Verification | None
    losses: Losses | None
    day: dt.date
    """The day of the build."""

    @property
    def state(self) -> str:
        """Whether the hammer may be used, in words with the day until when."""
        if self.newest is None:
            return "not verified"
        until = day_words(self.newest.valid_until)
        return f"verified until {until}" if self.day <= self.newest.valid_until else f"verification ended {until}"

    @property
    def in_force(self) -> bool:
        """Whether a verification was in force on the day of the build."""
        return self.newest is not None and self.newest.date <= self.day <= self.newest.valid_until

    @property
    def window_J(self) -> tuple[float, float] | None:
        """The energies that a test with this hammer may absorb."""
        if self.method is None:
            return None
        window = self.method.energy_window
        energy = self.hammer.potential_energy_J
        return energy * window.low_pct / 100.0, energy * window.high_pct / 100.0


@dataclass(frozen=True, slots=True)
class VerificationLine:
    """One verification as a rig's page shows it."""

    verification: Verification
    result: VerificationResult | None
    conforms: bool


def hammer_lines(handbook: Handbook, rig: Rig) -> list[HammerLine]:
    """The rig's hammers by method and energy, each with its newest verification."""
    lines = []
    for (rig_id, hammer_id), hammer in handbook.evaluation.hammers.items():
        if rig_id != rig.id:
            continue
        method = handbook.library.methods.get(hammer.method)
        newest = next(iter(handbook.evaluation.by_hammer.get((rig_id, hammer_id), ())), None)
        result = handbook.evaluation.verifications.get(newest.id) if newest else None
        asked = method.pendulums.of_energy(hammer.nominal_energy_J) if method else None
        lines.append(HammerLine(hammer, method, asked, newest, result.losses if result else None, handbook.day))
    return sorted(lines, key=lambda each: (each.hammer.method, each.hammer.nominal_energy_J))


def next_due(hammers: list[HammerLine]) -> list[list[HammerLine]]:
    """The hammers in the order in which they need a verification, those of one day together.

    Hammers without a verification come first, then those whose last day is the nearest or has passed.
    """
    ordered = sorted(
        hammers, key=lambda each: (each.newest is not None, each.newest.valid_until if each.newest else each.day)
    )
    return [list(alike) for _, alike in groupby(ordered, key=lambda each: each.state)]


def wall_card_name(rig_id: str, rigs: Container[str]) -> str:
    """File name of a rig's wall card: no rig's page, because no id holds an underscore."""
    name = f"{rig_id}--wall-card"
    return f"{name}_" if name in rigs else name


def rig_pages(handbook: Handbook) -> Iterator[Page]:
    """One page a rig."""
    for rig_id in sorted(handbook.library.rigs):
        rig = handbook.library.rigs[rig_id]
        verifications = [
            VerificationLine(
                each, handbook.evaluation.verifications.get(each.id), handbook.verdicts.verifications[each.id]
            )
            for each in sorted(
                handbook.library.verifications.values(), key=lambda each: (each.date, each.id), reverse=True
            )
            if each.rig == rig_id
        ]
        hammers = hammer_lines(handbook, rig)
        values = {
            "rig": rig,
            "hammers": hammers,
            "next_due": next_due(hammers),
            "losses": over_time(handbook, rig, hammers),
            "verifications": verifications,
            "wall_card": wall_card_name(rig_id, handbook.library.rigs),
        }
        document = handbook.documents["rig", rig_id]
        yield Page(page_uri(FOLDER, rig_id), "rig.md.j2", rig.title, values, document.path)


def rigs_index(handbook: Handbook) -> Page:
    """The list of rigs with their hammers."""
    rigs = [handbook.library.rigs[each] for each in sorted(handbook.library.rigs)]
    return Page(INDEX, "rigs.md.j2", "Rigs", {"rigs": [(rig, hammer_lines(handbook, rig)) for rig in rigs]})
