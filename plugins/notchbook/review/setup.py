"""Changes of what results rest on: rigs, methods, exercises, materials and hazards, each with what rests on it.

Which of them can hurt is told too, to be asked about before anything else.
"""

from collections.abc import Iterator, Mapping

from notchbook.handbook import Handbook
from notchbook.reading.document import Document
from notchbook.review.changes import Edit, Review, SetupChange
from notchbook.review.differences import ValueChange, edits_between

_STEPS = {"prepare", "steps", "finish"}
_CAN_HURT = {
    "hazards": {"hazards"},
    "exercise": {"hazards", "needs", *_STEPS},
    "method": {"equipment_hazards", "specimen_hazards"},
}
_ENERGY_OF_THE_BLOW = {"base", "nominal_energy_J", "release_angle_deg", "added_masses", "fittings"}
"""Keys of a hammer. Its moment is weighed anew at each verification, and a rig's change is asked about anyway."""
_WHOLE_FILES = {"hazards", "exercise", "rig"}
"""Kinds of which a whole file that came or went can hurt."""
_KINDS = ("hazards", "exercise", "rig", "method", "material")
_OF_A_MATERIAL = {"title", "symbol", "form", "typical", "notes"}
_ONLY_WORDS = {
    "rig": {"title", "location", "repairs", "watch"},
    "method": {"title", "sources"},
    "exercise": {"title", "aim", "outcomes", "hazards", "needs", "questions", "duration_min", *_STEPS},
    "material": _OF_A_MATERIAL,
    "hazards": {"hazards"},
}
"""Keys that no result rests on."""
_SHOWN = {"rig": {"title"}, "method": {"title"}, "exercise": {"title"}, "material": _OF_A_MATERIAL}
"""Keys of words that stand over published results, or beside them."""


def can_hurt(kind: str, change: ValueChange) -> bool:
    """Whether a change of a file of that kind bears on whether somebody gets hurt."""
    label = change.label
    if kind == "rig":
        return label[0] == "hammers" and (len(label) <= 2 or label[2] in _ENERGY_OF_THE_BLOW)
    if label[0] not in _CAN_HURT.get(kind, ()):
        return False
    # only steps are done in their order; with the other lists it says nothing
    return not change.moved or label[0] in _STEPS


def _title(document: Document | None) -> str | None:
    if document is None:
        return None
    title = document.data.get("title")
    return f"{document.kind} {title}" if isinstance(title, str) else f"{document.kind} {document.id}"


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
    found = list(edits_between(before, after))
    if not found:
        return
    kind, name = after.kind, after.id
    review.safety += [edit for change, edit in found if can_hurt(kind, change)]
    telling = [change.label for change, _ in found if not _is_among(_ONLY_WORDS, kind, change)]
    dependents: tuple[str, ...] = ()
    if telling:
        hammers = None
        if kind == "rig" and all(label[0] == "hammers" and len(label) > 1 for label in telling):
            hammers = _built_on(after, {label[1] for label in telling})
        dependents = _published(old, new, kind, name, hammers)
    shown = any(_is_among(_SHOWN, kind, change) for change, _ in found)
    review.setup.append(
        SetupChange(
            kind,
            name,
            after.path,
            "changed",
            tuple(edit for _, edit in found),
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
    review.setup.append(SetupChange(kind, name, document.path, state, (), resting))
    if kind in _WHOLE_FILES:
        review.safety.append(Edit(document.path, 1, "", _title(before), _title(after), state))


def _is_among(keys: Mapping[str, set[str]], kind: str, change: ValueChange) -> bool:
    """Whether a change is under one of the keys of its kind, or is the title of a hammer, which goes with a rig's."""
    top, *below = change.label
    return top in keys.get(kind, ()) or (kind == "rig" and top == "hammers" and below[1:] == ["title"])


def _published(old: Handbook, new: Handbook, kind: str, name: str, hammers: set[str] | None = None) -> tuple[str, ...]:
    """The records that were published and rest on a file, as it was or as it is."""
    resting = {*_resting(old, kind, name, hammers), *_resting(new, kind, name, hammers)}
    return tuple(sorted(resting & set(old.library.records)))


def _resting(handbook: Handbook, kind: str, name: str, hammers: set[str] | None = None) -> Iterator[str]:
    """Ids of the records that rest on a file; of a rig only those of some hammers, where these are given."""
    for record_id, record in sorted(handbook.library.records.items()):
        swung = handbook.evaluation.hammer_of(record)
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
