"""Published means that are other ones now, by how much and what from; and published files that are other ones now.

Of tests, verifications and free swings it is told which readings, statements of what was tested and words beside are
other ones.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Collection, Mapping

from notchbook.evaluation.records import SetResult
from notchbook.facts.facts import Facts
from notchbook.handbook import Handbook
from notchbook.reading.document import Document
from notchbook.review.changes import Edit, Renamed, ResultMove, Review
from notchbook.review.differences import edits_between
from notchbook.review.pairs import meaning
from notchbook.review.site_folders import is_in

_SAME = 1e-12
"""Relative: two computations of the same numbers may differ in their last bits."""
_READINGS = {
    "test": {
        "specimens",
        "free_swings",
        "conditioning",
        "test_atmosphere",
        "notch_radius_mm",
        "clamp_torque_Nm",
        "transfer_s",
        "zero_reading_deg",
        "zero_reading_J",
    },
    "verification": {"weighing", "period", "measured", "free_swings"},
    "swings": {"free_swings", "series"},
}
_IDENTITY = {
    "test": {"date", "group", "exercise", "rig", "hammer", "material", "batch", "specimen"},
    "verification": {"date", "rig", "hammer", "checked_by", "valid_until"},
    "swings": {"date", "group", "exercise", "rig", "hammer"},
}
_DECLARED = {"deviations", "acknowledged"}
"""By which a result is published that would not be, or not without a warning."""


def result_moves(old: Facts, new: Facts, renamed: Mapping[str, str], review: Review) -> list[ResultMove]:
    """The sets of published records whose mean moved, came or went, and what of the review that comes from.

    `renamed` holds the older ids of records by those that they have now.
    """
    found = []
    files, setup = _changed(review)
    for record_id in new.records:
        before_id = renamed.get(record_id, record_id)
        if before_id not in old.records:
            continue
        before, after = _sets(old, before_id), _sets(new, record_id)
        causes: tuple[str, ...] | None = None
        for breaks in [*after, *(each for each in before if each not in after)]:
            was, now = before.get(breaks), after.get(breaks)
            if was and now and math.isclose(was.summary.mean, now.summary.mean, rel_tol=_SAME):
                continue
            if causes is None:
                told = _causes(old, new, before_id, record_id, files)
                causes = tuple(dict.fromkeys([*told, *setup.get(record_id, ()), *setup.get(before_id, ())]))
            found.append(
                ResultMove(
                    record_id,
                    breaks,
                    was.summary.mean if was else None,
                    now.summary.mean if now else None,
                    _expanded(old, before_id, was) or _expanded(new, record_id, now),
                    causes,
                )
            )
    return found


def _sets(facts: Facts, record_id: str) -> dict[tuple[str, ...], SetResult]:
    result = facts.record(record_id).result
    return {each.breaks: each for each in result.sets} if result else {}


def _expanded(facts: Facts, record_id: str, of_set: SetResult | None) -> float | None:
    uncertainty = facts.record(record_id).uncertainty if of_set is not None else None
    found = uncertainty.of_set(of_set) if uncertainty is not None and of_set is not None else None
    return found.expanded if found is not None else None


def _changed(review: Review) -> tuple[dict[str, list[str]], dict[str, list[str]]]:
    """What a move may come from: changes of the files at their paths, and of what the records rest on by their ids."""
    files, setup = defaultdict(list), defaultdict(list)
    for edits, what in ((review.readings, "its readings"), (review.identities, "what it says was tested")):
        for edit in edits:
            files[edit.path].append(what)
    for change in review.setup:
        for record_id in change.dependents:
            setup[record_id].append(f"{change.kind} {change.id}")
    return files, setup


def _causes(old: Facts, new: Facts, before_id: str, record_id: str, files: Mapping[str, list[str]]) -> list[str]:
    """What the record rests on and what of it changed."""
    causes = [*files.get(new.document("test", record_id).path, ())]
    before, after = old.record(before_id), new.record(record_id)
    if before.unbroken != after.unbroken:
        causes.append(f"{after.unbroken_words} bars that did not break, {before.unbroken_words} before")
    was, now = before.result, after.result
    if was is not None and now is not None and not now.own_free_swings:
        if was.verification != now.verification:
            causes.append(f"another verification in force, {now.verification or 'none'}")
        elif now.verification is not None and new.document("verification", now.verification).path in files:
            causes.append(f"verification {now.verification}")
    return causes


def compare_published(old: Handbook, new: Handbook, review: Review, behind: Collection[str]) -> None:
    """Tell what became of every published file.

    Nothing is told of paths behind links: what lies there is not the same file on both sides, or may not be.
    """
    for kind in _READINGS:
        _of_kind(old, new, kind, review, behind)


def lists_for(review: Review, kind: str, key: str) -> list[list[Edit]]:
    """Where a change under a key of a published file is told."""
    if key in _READINGS[kind]:
        return [review.readings]
    if key in _IDENTITY[kind]:
        return [review.identities]
    return [review.declarations, review.statements] if key in _DECLARED else [review.statements]


def _of_kind(old: Handbook, new: Handbook, kind: str, review: Review, behind: Collection[str]) -> None:
    before, after = _documents(old, kind), _documents(new, kind)
    gone, came = (
        {name: each for name, each in documents.items() if name not in others and not is_in(each.path, behind)}
        for documents, others in ((before, after), (after, before))
    )
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
        for change, edit in edits_between(before[name], after[name]):
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
