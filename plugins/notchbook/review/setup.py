"""Changes of what results rest on: rigs, methods, exercises, materials and hazards, each with what rests on it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from notchbook.review.changes import SetupChange
from notchbook.review.differences import changes_between
from notchbook.review.edits import edits_of
from notchbook.review.safety import can_hurt, whole_files

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from notchbook.handbook import Handbook
    from notchbook.reading.document import Document
    from notchbook.review.changes import Edit, Review
    from notchbook.review.differences import ValueChange

_KINDS = ("hazards", "exercise", "rig", "method", "material")
_ONLY_WORDS = {
    "rig": {"title", "location"},
    "method": {"title", "sources"},
    "exercise": {
        "title", "aim", "outcomes", "hazards", "needs", "prepare", "steps", "finish", "questions", "duration_min",
    },
    "material": {"title", "symbol", "form", "typical", "notes"},
    "hazards": {"hazards"},
}  # fmt: skip
"""Keys that no result rests on."""
_SHOWN = {
    "rig": {"title"},
    "method": {"title"},
    "exercise": {"title"},
    "material": {"title", "symbol", "form", "typical", "notes"},
}
"""Keys of words that stand over published results, or beside them."""


def compare_setup(old: Handbook, new: Handbook, review: Review) -> None:
    """Tell the files of the setup that differ, by kind and id, and of them what can hurt."""
    for kind in _KINDS:
        names = sorted({name for handbook in (old, new) for of, name in handbook.documents if of == kind})
        for name in names:
            before, after = old.documents.get((kind, name)), new.documents.get((kind, name))
            if before is not None and after is not None:
                _changed(old, new, before, after, review)
            else:
                _whole(old, new, before, after, review)


def _changed(old: Handbook, new: Handbook, before: Document, after: Document, review: Review) -> None:
    changes = changes_between(before.data, after.data)
    if not changes:
        return
    kind, name = after.kind, after.id
    edits = edits_of(before, after, changes)
    hurting: list[Edit] = [edit for edit, change in zip(edits, changes, strict=True) if can_hurt(kind, change)]
    review.safety += hurting
    telling = [each.label for each in changes if not _only_words(kind, each)]
    dependents: tuple[str, ...] = ()
    if telling:
        hammers = None
        if kind == "rig" and all(label[0] == "hammers" and len(label) > 1 for label in telling):
            hammers = _built_on(after, {label[1] for label in telling})
        dependents = _published(old, new, kind, name, hammers)
    shown = any(_is_shown(kind, each) for each in changes)
    review.setup.append(
        SetupChange(
            kind,
            name,
            after.path,
            "changed",
            tuple(edits),
            dependents,
            _published(old, new, kind, name) if shown else (),
            beyond_words=bool(telling),
        )
    )


def _whole(old: Handbook, new: Handbook, before: Document | None, after: Document | None, review: Review) -> None:
    """Tell a file that is only on one side, or can be read only there."""
    document = after or before
    if document is None:
        return
    kind, name = document.kind, document.id
    if before is None and name in old.library.unreadable.get(kind, ()):
        review.not_compared.append(f"{kind} {name}: it could not be read as it was, {document.path}")
    unreadable = after is None and name in new.library.unreadable.get(kind, ())
    state = "added" if before is None else "unreadable" if unreadable else "removed"
    # what rested on a file that is gone is told as it was
    resting = () if before is None else tuple(_resting(old, kind, name))
    change = SetupChange(kind, name, document.path, state, (), resting)
    review.setup.append(change)
    review.safety += whole_files(change, before, after)


def _only_words(kind: str, change: ValueChange) -> bool:
    label = change.label
    return label[0] in _ONLY_WORDS.get(kind, set()) or (kind == "rig" and _is_title_of_hammer(label))


def _is_shown(kind: str, change: ValueChange) -> bool:
    label = change.label
    return label[0] in _SHOWN.get(kind, set()) or (kind == "rig" and _is_title_of_hammer(label))


def _is_title_of_hammer(label: Sequence[str]) -> bool:
    return label[0] == "hammers" and label[2:] == ("title",)


def _published(old: Handbook, new: Handbook, kind: str, name: str, hammers: set[str] | None = None) -> tuple[str, ...]:
    """The records that were published and rest on a file, as it was or as it is."""
    resting = {*_resting(old, kind, name, hammers), *_resting(new, kind, name, hammers)}
    return tuple(sorted(resting & set(old.library.records)))


def _resting(handbook: Handbook, kind: str, name: str, hammers: set[str] | None = None) -> Iterator[str]:
    """Ids of the records that rest on a file; of a rig only those of some hammers, where these are given."""
    for record_id, record in sorted(handbook.library.records.items()):
        swung = handbook.evaluation.hammers.get((record.rig, record.hammer))
        rests = {
            "rig": record.rig == name and (hammers is None or record.hammer in hammers),
            "method": swung is not None and swung.method == name,
            "exercise": record.exercise == name,
            "material": record.material == name,
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
