"""What a review finds: plain values, the same for every form that it is printed in."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from notchbook.findings import Finding


@dataclass(frozen=True, slots=True)
class Edit:
    """One value of a file that was changed."""

    path: str
    """Of the file, relative to the handbook's root."""
    line: int
    """Where the value stands now, or in the older file where it was taken away."""
    what: str
    """The value's keys in words."""
    old: str | None
    """As it was written; None where it is new."""
    new: str | None
    """As it is written; None where it was taken away."""


@dataclass(frozen=True, slots=True)
class ResultMove:
    """A published mean that is another one now."""

    record: str
    breaks: tuple[str, ...]
    """Letters of the set's break types."""
    old_kJ_m2: float | None
    """None where there was no such set."""
    new_kJ_m2: float | None
    """None where there is no such set any more."""
    expanded_kJ_m2: float | None
    """Expanded uncertainty of the mean, of the older one where it is known; None where neither is."""
    causes: tuple[str, ...]
    """What it comes from, as far as can be told."""

    @property
    def moved_kJ_m2(self) -> float | None:
        """By how much it moved."""
        if self.old_kJ_m2 is None or self.new_kJ_m2 is None:
            return None
        return self.new_kJ_m2 - self.old_kJ_m2

    @property
    def in_uncertainties(self) -> float | None:
        """By how many expanded uncertainties it moved."""
        if self.moved_kJ_m2 is None or not self.expanded_kJ_m2:
            return None
        return abs(self.moved_kJ_m2) / self.expanded_kJ_m2


@dataclass(frozen=True, slots=True)
class SetupChange:
    """A rig, method, exercise or list of hazards that was changed, and what rests on it."""

    kind: str
    id: str
    path: str
    state: str
    """`changed`, `added` or `removed`."""
    edits: tuple[Edit, ...]
    dependents: tuple[str, ...]
    """Records whose published results rest on what was changed."""


@dataclass(frozen=True, slots=True)
class Renamed:
    """A file that has another name and says the same."""

    kind: str
    old: str
    new: str


@dataclass(slots=True)
class Review:
    """Everything that changed for a reader."""

    base: str
    """Short name of the commit that is compared with."""
    readings: list[Edit] = field(default_factory=list)
    """Raw readings that were changed after they were published: the first thing to ask about."""
    identities: list[Edit] = field(default_factory=list)
    """What a published record or verification is of: its date, group, rig, hammer, material, bars."""
    statements: list[Edit] = field(default_factory=list)
    """What a published file says beside its readings: reported values, deviations, notes."""
    added: list[tuple[str, str]] = field(default_factory=list)
    """Kind and id of the tests and verifications that are new."""
    removed: list[tuple[str, str]] = field(default_factory=list)
    """Kind and id of those that are gone."""
    unreadable: list[tuple[str, str]] = field(default_factory=list)
    """Kind and id of those that were published and cannot be read now."""
    renamed: list[Renamed] = field(default_factory=list)
    moves: list[ResultMove] = field(default_factory=list)
    setup: list[SetupChange] = field(default_factory=list)
    new_findings: list[Finding] = field(default_factory=list)
    gone_findings: list[Finding] = field(default_factory=list)

    @property
    def questions(self) -> list[str]:
        """What there is to ask about, in words, the most telling first; empty where there is nothing."""
        serious = [each for each in self.new_findings if each.severity != "note"]
        telling = [each for each in self.statements if "deviations" in each.what.split(" › ")]
        resting = [each for each in self.setup if each.dependents or each.state == "removed"]
        counted = (
            (self.readings, "raw reading", "changed after publication"),
            (self.identities, "statement of what was tested", "changed after publication"),
            (self.removed, "published file", "removed"),
            (self.unreadable, "published file", "cannot be read now"),
            (self.moves, "published result", "moved"),
            (serious, "finding", "new"),
            (telling, "declared deviation", "changed"),
            (resting, "part of the setup", "changed under published results"),
        )
        return [_words(len(listed), noun, verb) for listed, noun, verb in counted if listed]

    @property
    def anything(self) -> bool:
        """Whether anything changed at all."""
        return bool(
            self.questions or self.added or self.renamed or self.statements or self.setup
            or self.new_findings or self.gone_findings
        )  # fmt: skip


def _words(number: int, noun: str, verb: str) -> str:
    first, space, rest = noun.partition(" of ")
    return f"{number} {noun if number == 1 else f'{first}s{space}{rest}'} {verb}"
