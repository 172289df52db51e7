"""Tests and verifications after they were published: readings, what was tested, what is said beside."""

from __future__ import annotations

from typing import TYPE_CHECKING

from notchbook.review.changes import Renamed
from notchbook.review.differences import changes_between
from notchbook.review.edits import edits_of
from notchbook.review.leaves import meaning

if TYPE_CHECKING:
    from collections.abc import Collection

    from notchbook.handbook import Handbook
    from notchbook.reading.document import Document
    from notchbook.review.changes import Edit, Review

_KINDS = ("test", "verification")
_READINGS = {
    "test": {"specimens", "free_swings", "conditioning", "test_atmosphere"},
    "verification": {"weighing", "period", "measured", "free_swings"},
}
_IDENTITY = {
    "test": {"date", "group", "exercise", "rig", "hammer", "material", "batch", "specimen"},
    "verification": {"date", "rig", "hammer", "checked_by", "valid_until"},
}
_DECLARED = {"deviations", "acknowledged"}
"""By which a result is published that would not be, or not without a warning."""


def compare_published(old: Handbook, new: Handbook, review: Review, behind: Collection[str]) -> None:
    """Tell what became of every published file.

    Arguments:
        old: the handbook as it was.
        new: as it is now.
        review: where it is told.
        behind: paths of files that are not the same file on both sides, or may not be: what lies behind links.
    """
    for kind in _KINDS:
        _of_kind(old, new, kind, review, behind)


def lists_for(review: Review, kind: str, key: str) -> list[list[Edit]]:
    """Where a change under a key of a published file is told."""
    if key in _READINGS[kind]:
        return [review.readings]
    if key in _IDENTITY[kind]:
        return [review.identities]
    return [review.declarations, review.statements] if key in _DECLARED else [review.statements]


def is_behind(path: str, behind: Collection[str]) -> bool:
    """Whether a path is, or lies below, one of those that are not looked into."""
    parts = path.split("/")
    return any("/".join(parts[:count]) in behind for count in range(1, len(parts) + 1))


def _of_kind(old: Handbook, new: Handbook, kind: str, review: Review, behind: Collection[str]) -> None:
    before, after = _documents(old, kind), _documents(new, kind)
    gone = {name: each for name, each in before.items() if name not in after and not is_behind(each.path, behind)}
    came = {name: each for name, each in after.items() if name not in before and not is_behind(each.path, behind)}
    _renamed(kind, gone, came, review)
    for name, document in sorted(came.items()):
        if name in old.library.unreadable.get(kind, ()):
            review.not_compared.append(f"{kind} {name}: it could not be read as it was, {document.path}")
        else:
            review.added.append((kind, name))
    for name in sorted(gone):
        unreadable = name in new.library.unreadable.get(kind, ())
        (review.unreadable if unreadable else review.removed).append((kind, name))
    for name in sorted(set(before) & set(after)):
        changes = changes_between(before[name].data, after[name].data)
        for change, edit in zip(changes, edits_of(before[name], after[name], changes), strict=True):
            for told in lists_for(review, kind, change.label[0]):
                told.append(edit)


def _renamed(kind: str, gone: dict[str, Document], came: dict[str, Document], review: Review) -> None:
    """Tell the files that say the same under another name, and take them out of both."""
    names: dict[object, list[str]] = {}
    for name in sorted(gone, reverse=True):
        names.setdefault(meaning(gone[name].data), []).append(name)
    for name in sorted(came):
        same = names.get(meaning(came[name].data))
        if same:
            review.renamed.append(Renamed(kind, same[-1], name))
            del gone[same.pop()], came[name]


def _documents(handbook: Handbook, kind: str) -> dict[str, Document]:
    return {name: document for (of, name), document in handbook.documents.items() if of == kind}
