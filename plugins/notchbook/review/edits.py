"""Changed values of a file as a reviewer reads them: with the line where they stand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from notchbook.review.changes import Edit

if TYPE_CHECKING:
    from notchbook.reading.document import Document
    from notchbook.review.leaves import ValueChange

STEP = " › "
"""Between the keys that lead to a value."""


def edit_of(before: Document, after: Document, change: ValueChange) -> Edit:
    """A change of a value with the line where it stands, or stood where it was taken away."""
    document = before if change.new is None else after
    line, _ = document.position(change.keys)
    return Edit(document.path, line, STEP.join(change.label), change.old, change.new)
