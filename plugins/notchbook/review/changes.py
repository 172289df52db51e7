"""What a review finds: plain values, the same for every form that it is printed in."""

from dataclasses import dataclass, field

from notchbook.findings import Finding


@dataclass(frozen=True, slots=True)
class Edit:
    """One value of a file, or one entry of a list, that was changed."""

    path: str
    """Of the file, relative to the handbook's root."""
    line: int
    """Where the value stands now, or in the older file where it was taken away."""
    what: str
    """The value's keys in words; empty for the whole file."""
    old: str | None
    """As it was written; None where it is new. What only moved begins with its number in the list."""
    new: str | None
    """As it is written; None where it was taken away."""
    state: str = "changed"
    """`changed`, `added`, `removed` or `moved`."""


@dataclass(frozen=True, slots=True)
class SettingEdit:
    """A value of a settings file that was changed."""

    edit: Edit
    grave: str
    """What it does, in words, where it is one that decides what is published or run; else empty."""


@dataclass(frozen=True, slots=True)
class FileChange:
    """A file beside the data that is published or run and was changed."""

    kind: str
    """`page`, `script`, `style`, `code`, `template` or `file`."""
    path: str
    """Relative to the handbook's root."""
    state: str
    """`changed`, `added` or `removed`."""
    lines_came: int | None
    """Lines of a page that are new; None where they cannot be counted."""
    lines_went: int | None
    """Lines of a page that are gone; None where they cannot be counted."""

    @property
    def acts(self) -> bool:
        """Whether it runs, or makes every page look as it does."""
        return self.kind not in ("page", "file")


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
    """A rig, method, exercise, material or list of hazards that was changed, and what rests on it."""

    kind: str
    id: str
    path: str
    state: str
    """`changed`, `added`, `removed` or `unreadable`."""
    edits: tuple[Edit, ...]
    dependents: tuple[str, ...]
    """Records whose published results rest on what was changed."""
    shown_over: tuple[str, ...] = ()
    """Records whose published results stand under words that were changed, such as a material's title."""
    beyond_words: bool = False
    """Whether more than words was changed, so that it is asked about whatever rests on it."""

    @property
    def under_results(self) -> bool:
        """Whether something published rests on it, stands under it, or may have."""
        return bool(self.dependents or self.shown_over or self.state in ("removed", "unreadable"))

    @property
    def asked(self) -> bool:
        """Whether somebody has to say why."""
        return self.under_results or self.beyond_words


@dataclass(frozen=True, slots=True)
class Renamed:
    """A file that has another name and says the same."""

    kind: str
    old: str
    new: str


@dataclass(slots=True)
class Review:
    """Everything that changed for a reader, what weighs most first."""

    base: str
    """Short name of the commit that is compared with."""
    safety: list[Edit] = field(default_factory=list)
    """What can hurt: hazards and their controls, steps, what is needed, how hard a hammer strikes."""
    not_compared: list[str] = field(default_factory=list)
    """What could not be compared and why, in words."""
    settings: list[SettingEdit] = field(default_factory=list)
    """Values of the settings files, the grave ones first."""
    grave: list[str] = field(default_factory=list)
    """What changed settings decide that is published or run, in words."""
    files: list[FileChange] = field(default_factory=list)
    """Code, templates, scripts, styles, hand-written pages and other files of the site."""
    readings: list[Edit] = field(default_factory=list)
    """Raw readings that were changed after they were published."""
    identities: list[Edit] = field(default_factory=list)
    """What a published record or verification is of: its date, group, rig, hammer, material, bars."""
    declarations: list[Edit] = field(default_factory=list)
    """Deviations that are declared and warnings that are acknowledged; they are among the statements too."""
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
