"""Changes of what results rest on: rigs, methods, exercises, materials and hazards, each with what rests on it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from notchbook.review.changes import SetupChange
from notchbook.review.edits import edit_of
from notchbook.review.leaves import changes_between

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from notchbook.handbook import Handbook
    from notchbook.reading.document import Document
    from notchbook.review.leaves import ValueChange

_KINDS = ("rig", "method", "exercise", "material", "hazards")
_ONLY_WORDS = {
    "rig": {"title", "location"},
    "method": {"title", "sources"},
    "exercise": {
        "title", "aim", "outcomes", "hazards", "needs", "prepare", "steps", "finish", "questions", "duration_min",
    },
}  # fmt: skip
"""Keys that no result rests on."""


def setup_changes(old: Handbook, new: Handbook) -> list[SetupChange]:
    """The files of the setup that differ, by kind and id."""
    found = []
    for kind in _KINDS:
        names = sorted({name for handbook in (old, new) for of, name in handbook.documents if of == kind})
        for name in names:
            change = _change(old, new, kind, name)
            if change is not None:
                found.append(change)
    return found


def _change(old: Handbook, new: Handbook, kind: str, name: str) -> SetupChange | None:
    before, after = old.documents.get((kind, name)), new.documents.get((kind, name))
    if before is not None and after is not None:
        changes = changes_between(before.data, after.data)
        if not changes:
            return None
        edits = tuple(edit_of(before, after, each) for each in changes)
        return SetupChange(kind, name, after.path, "changed", edits, _dependents(old, new, after, changes))
    document = after or before
    if document is None:
        return None
    state = "added" if before is None else "removed"
    # what rested on a file that is gone is told as it was
    resting = () if before is None else tuple(_resting(old, kind, name))
    return SetupChange(kind, name, document.path, state, (), resting)


def _dependents(
    old: Handbook, new: Handbook, document: Document, changes: Sequence[ValueChange]
) -> tuple[str, ...]:
    """The records whose results rest on one of the values that changed."""
    kind, name = document.kind, document.id
    telling = [each.label for each in changes if each.label[0] not in _ONLY_WORDS.get(kind, set())]
    if not telling:
        return ()
    hammers = None
    if kind == "rig" and all(label[0] == "hammers" and len(label) > 1 for label in telling):
        hammers = _built_on(document, {label[1] for label in telling})
    published = set(old.library.records)
    resting = {*_resting(old, kind, name, hammers), *_resting(new, kind, name, hammers)}
    return tuple(sorted(resting & published))


def _resting(handbook: Handbook, kind: str, name: str, hammers: set[str] | None = None) -> Iterator[str]:
    """Ids of the records that rest on a file; of a rig only those of some hammers, where these are given."""
    for record_id, record in sorted(handbook.library.records.items()):
        swung = handbook.evaluation.hammers.get((record.rig, record.hammer))
        rests = {
            "rig": record.rig == name and (hammers is None or record.hammer in hammers),
            "method": swung is not None and swung.method == name,
            "exercise": record.exercise == name,
        }
        if rests.get(kind, False):
            yield record_id


def _built_on(rig: Document, changed: set[str]) -> set[str]:
    """The changed hammers and all that take over from them."""
    hammers = rig.data.get("hammers", {})
    found = set(changed)
    for _ in hammers:
        found |= {name for name, hammer in hammers.items() if isinstance(hammer, dict) and hammer.get("base") in found}
    return found
