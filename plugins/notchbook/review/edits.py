"""Changed values of a file as a reviewer reads them: with the line where they stand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from notchbook.review.changes import Edit
from notchbook.review.leaves import STEP

if TYPE_CHECKING:
    from collections.abc import Sequence

    from notchbook.reading.document import Document
    from notchbook.review.differences import ValueChange


def edits_of(before: Document, after: Document, changes: Sequence[ValueChange]) -> list[Edit]:
    """The changes with the line where each stands, or stood where it was taken away."""
    gone = [each.new is None for each in changes]
    new_lines = iter(after.lines([each.keys for each, went in zip(changes, gone, strict=True) if not went]))
    old_lines = iter(before.lines([each.keys for each, went in zip(changes, gone, strict=True) if went]))
    found = []
    for change, went in zip(changes, gone, strict=True):
        path, line = (before.path, next(old_lines)) if went else (after.path, next(new_lines))
        found.append(edit_of(change, path, line))
    return found


def edit_of(change: ValueChange, path: str, line: int) -> Edit:
    """A change at its place."""
    state = "added" if change.old is None else "removed" if change.new is None else "changed"
    return Edit(path, line, STEP.join(change.label), change.old, change.new, "moved" if change.moved else state)
