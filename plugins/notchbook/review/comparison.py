"""Two states of a handbook against each other."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from notchbook.review.changes import Renamed, Review
from notchbook.review.edits import edit_of
from notchbook.review.leaves import changes_between
from notchbook.review.moves import result_moves
from notchbook.review.setup import setup_changes

if TYPE_CHECKING:
    from notchbook.findings import Finding
    from notchbook.handbook import Handbook
    from notchbook.reading.document import Document

PUBLISHED = ("test", "verification")
"""Kinds of files that hold what was read."""
_READINGS = {
    "test": {"specimens", "free_swings", "conditioning", "test_atmosphere"},
    "verification": {"weighing", "period", "measured", "free_swings"},
}
_IDENTITY = {
    "test": {"date", "group", "exercise", "rig", "hammer", "material", "batch", "specimen"},
    "verification": {"date", "rig", "hammer", "checked_by", "valid_until"},
}


def compare(old: Handbook, new: Handbook, base: str) -> Review:
    """What changed for a reader.

    Arguments:
        old: the handbook as it was.
        new: as it is now, checked on the same day.
        base: name of the older state.
    """
    review = Review(base)
    for kind in PUBLISHED:
        _published(old, new, kind, review)
    review.setup = setup_changes(old, new)
    renamed = {each.new: each.old for each in review.renamed if each.kind == "test"}
    review.moves = result_moves(old, new, renamed, review)
    _findings(old, new, review)
    return review


def _of_kind(handbook: Handbook, kind: str) -> dict[str, Document]:
    return {name: document for (of, name), document in handbook.documents.items() if of == kind}


def _published(old: Handbook, new: Handbook, kind: str, review: Review) -> None:
    before, after = _of_kind(old, kind), _of_kind(new, kind)
    gone = {name: document for name, document in before.items() if name not in after}
    came = {name: document for name, document in after.items() if name not in before}
    for name, document in sorted(came.items()):
        same = next((each for each in sorted(gone) if not changes_between(gone[each].data, document.data)), None)
        if same is None:
            review.added.append((kind, name))
        else:
            del gone[same]
            review.renamed.append(Renamed(kind, same, name))
    for name in sorted(gone):
        unreadable = name in new.library.unreadable.get(kind, ())
        (review.unreadable if unreadable else review.removed).append((kind, name))
    for name in sorted(set(before) & set(after)):
        for change in changes_between(before[name].data, after[name].data):
            edit = edit_of(before[name], after[name], change)
            if change.label[0] in _READINGS[kind]:
                review.readings.append(edit)
            elif change.label[0] in _IDENTITY[kind]:
                review.identities.append(edit)
            else:
                review.statements.append(edit)


def _findings(old: Handbook, new: Handbook, review: Review) -> None:
    """Findings that came and went; one that only stands on another line did neither."""

    def known_by(finding: Finding) -> tuple[str, str, str, str]:
        return finding.path, finding.rule, str(finding.severity), finding.message

    before, after = Counter(map(known_by, old.findings)), Counter(map(known_by, new.findings))
    for findings, other, into in (
        (new.findings, before, review.new_findings),
        (old.findings, after, review.gone_findings),
    ):
        left = Counter(other)
        for each in findings:
            if left[known_by(each)]:
                left[known_by(each)] -= 1
            else:
                into.append(each)
