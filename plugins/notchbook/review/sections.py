"""A review as titled lists of rows, what weighs most first: the same for a terminal and for a comment."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from notchbook.findings import Finding
from notchbook.review.changes import Edit, FileChange, ResultMove, Review, SetupChange
from notchbook.review.words import (
    STATES,
    against,
    edit_line,
    edit_values,
    lines_words,
    move_words,
    numbers,
    value_words,
)
from notchbook.wording.lists import counted, first_of, listed

_EDIT = ("Change", "Place", "Value", "Was", "Is")


class Foreign(str):
    """A text that somebody else wrote, such as a path or a value."""


@dataclass(frozen=True, slots=True)
class Row:
    """One thing that is told."""

    line: str
    """For a terminal."""
    cells: tuple[str, ...]
    """For a table: words of ours, and foreign ones."""


@dataclass(frozen=True, slots=True)
class Section:
    """A list of things of one kind."""

    title: str
    head: tuple[str, ...]
    rows: list[Row]


def sections(review: Review) -> list[Section]:
    """Every section that holds something, in the order of its weight."""
    return [each for each in _all(review) if each.rows]


def _all(review: Review) -> Iterator[Section]:
    declared = set(review.declarations)
    safe = {(each.path, each.what, each.old, each.new) for each in review.safety}
    yield Section("What can hurt, changed", _EDIT, _edits(review.safety))
    yield Section("Could not be compared", ("What",), [Row(each, (Foreign(each),)) for each in review.not_compared])
    yield Section("Settings changed", (*_EDIT, "What it decides"), [
        Row(
            edit_line(each.edit) + (f" ({each.grave})" if each.grave else ""),
            (*_edit_cells(each.edit), each.grave or "–"),
        )
        for each in review.settings
    ])  # fmt: skip
    yield _files("Code, templates, scripts and styles changed", [each for each in review.files if each.acts])
    yield _files("Hand-written pages and other files changed", [each for each in review.files if not each.acts])
    yield Section("Raw readings changed after publication", _EDIT, _edits(review.readings))
    yield Section("What was tested, changed after publication", _EDIT, _edits(review.identities))
    yield from _setup("Setup changed", [each for each in review.setup if each.asked], safe)
    yield Section(
        "Results that moved",
        ("Record", "Breaks", "Was, kJ/m²", "Is, kJ/m²", "Moved", "Against its uncertainty", "From"),
        [_move(each) for each in review.moves],
    )
    yield _named("Removed", review.removed)
    yield _named("Published, and cannot be read now", review.unreadable)
    yield Section("Declared deviations and acknowledged warnings", _EDIT, _edits(review.declarations))
    yield _findings("New findings", review.new_findings)
    yield Section("Said beside the readings", _EDIT, _edits(
        each for each in review.statements if each not in declared
    ))  # fmt: skip
    yield _named("Added", review.added)
    yield Section("Renamed", ("Kind", "Was", "Is"), [
        Row(f"{each.kind} {each.old} -> {each.new}", (each.kind, Foreign(each.old), Foreign(each.new)))
        for each in review.renamed
    ])  # fmt: skip
    yield from _setup("Other changes of the setup", [
        each for each in review.setup if not each.asked
    ], safe)  # fmt: skip
    yield _findings("Findings that are gone", review.gone_findings)


def _edits(edits: Iterable[Edit]) -> list[Row]:
    return [Row(edit_line(each), _edit_cells(each)) for each in edits]


def _edit_cells(edit: Edit) -> tuple[str, ...]:
    old, new = edit_values(edit)
    return (
        STATES[edit.state],
        Foreign(f"{edit.path}:{edit.line}"),
        Foreign(edit.what) if edit.what else "the file",
        "–" if edit.old is None else Foreign(old),
        "–" if edit.new is None else Foreign(new),
    )


def _setup(
    title: str, changes: list[SetupChange], told: set[tuple[str, str, str | None, str | None]]
) -> Iterator[Section]:
    """What was changed, apart from what is told before, and then what rests on it."""
    rows = []
    for change in changes:
        left = [each for each in change.edits if (each.path, each.what, each.old, each.new) not in told]
        rows += _edits(left)
        if not change.edits:
            state = STATES[change.state]
            name = f"{change.kind} {change.id}"
            cells = (state, Foreign(change.path), Foreign(name), "–", "–")
            rows.append(Row(f"{name}: {state}", cells))
    yield Section(title, _EDIT, rows)
    resting = []
    for change in changes:
        for records, one, many in (
            (change.dependents, "rests on it", "rest on it"),
            (change.shown_over, "stands under its words", "stand under its words"),
        ):
            if records:
                name = f"{change.kind} {change.id}"
                line = f"{name}: {counted(len(records), f'published {one}', f'published {many}')}: {first_of(records)}"
                resting.append(Row(line, (Foreign(name), f"{len(records):,} {many}", Foreign(first_of(records)))))
    yield Section("Published results over the changed setup", ("Changed", "Published", "Records"), resting)


def _files(title: str, files: list[FileChange]) -> Section:
    return Section(title, ("Change", "Kind", "File", "Lines"), [
        Row(
            f"{each.kind} {each.path}: {STATES[each.state]}" + (f", {words}" if words else ""),
            (STATES[each.state], each.kind, Foreign(each.path), words or "–"),
        )
        for each, words in ((each, lines_words(each)) for each in files)
    ])  # fmt: skip


def _move(move: ResultMove) -> Row:
    causes = ", ".join(move.causes)
    line = f"{move.record}, {listed(move.breaks)}: {move_words(move)}" + (f", from {causes}" if causes else "")
    return Row(line, (
        Foreign(move.record),
        Foreign(listed(move.breaks)),
        *numbers(move),
        against(move).removesuffix(" of its expanded uncertainty") or "–",
        Foreign(causes) if causes else "–",
    ))  # fmt: skip


def _named(title: str, files: Iterable[tuple[str, str]]) -> Section:
    return Section(title, ("Kind", "Id"), [Row(f"{kind} {name}", (kind, Foreign(name))) for kind, name in files])


def _findings(title: str, findings: Iterable[Finding]) -> Section:
    return Section(title, ("Severity", "Place", "Rule", "What"), [
        Row(
            str(each),
            (
                str(each.severity),
                Foreign(f"{each.path}:{each.line}"),
                Foreign(each.rule),
                Foreign(value_words(each.message)),
            ),
        )
        for each in findings
    ])  # fmt: skip
