"""What differs between two versions of a file, as a reviewer reads it: values, and entries that came, went or moved."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from notchbook.reading.document import Document
from notchbook.reading.nodes import Keys
from notchbook.review.changes import Edit
from notchbook.review.pairs import STEP, entry_words, meaning, paired, text_at, written

_Label = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ValueChange:
    """A value, or an entry of a list, that differs between two versions of a file."""

    label: tuple[str, ...]
    """Its keys in words; entries of a list by their id where they have one, else by their number from 1."""
    old: str | None
    """As it was written; None where it was not there."""
    new: str | None
    """As it is written; None where it is not there any more."""
    keys: Keys
    """Where it stands in the newer file, or where it stood in the older one."""
    moved: bool = False
    """Whether the entry only stands at another place; both texts then begin with its number."""


def changes_between(old: dict[str, Any], new: dict[str, Any]) -> list[ValueChange]:
    """What differs, in the order of the newer file; of each mapping and list what was taken away comes last.

    An entry of a list is compared with the one that it was: by its id, else by what it says. Moving an entry that has
    an id is no change.
    """
    return list(_differences(old, new, (), (), ()))


def _differences(
    old: Any, new: Any, label: _Label, old_keys: Keys, new_keys: Keys, was: str | None = None, now: str | None = None
) -> Iterator[ValueChange]:
    if isinstance(old, dict) and isinstance(new, dict):
        yield from _in_mapping(old, new, label, old_keys, new_keys)
    elif isinstance(old, list) and isinstance(new, list):
        yield from _in_list(old, new, label, old_keys, new_keys)
    elif meaning(old) != meaning(new):
        yield ValueChange(label, was or entry_words(old), now or entry_words(new), new_keys)


def _in_mapping(
    old: dict[Any, Any], new: dict[Any, Any], label: _Label, old_keys: Keys, new_keys: Keys
) -> Iterator[ValueChange]:
    for key, value in new.items():
        below = (*label, str(key))
        if key not in old:
            yield from _whole(value, below, (*new_keys, key), text_at(new, key), came=True)
        else:
            texts = (text_at(holder, key) for holder in (old, new))
            yield from _differences(old[key], value, below, (*old_keys, key), (*new_keys, key), *texts)
    for key, value in old.items():
        if key not in new:
            yield from _whole(value, (*label, str(key)), (*old_keys, key), text_at(old, key), came=False)


def _in_list(old: list[Any], new: list[Any], label: _Label, old_keys: Keys, new_keys: Keys) -> Iterator[ValueChange]:
    pairs = paired(old, new)
    found: list[tuple[int, list[ValueChange]]] = []
    for before, after in pairs.both:
        below, keys = (*label, new[after]["id"] if pairs.ids else str(after + 1)), (*new_keys, after)
        changes = list(_differences(old[before], new[after], below, (*old_keys, before), keys))
        if after in pairs.moved:
            was, now = f"{before + 1}. {entry_words(old[before])}", f"{after + 1}. {entry_words(new[after])}"
            changes.insert(0, ValueChange(below, was, now, keys, moved=True))
        found.append((after, changes))
    for place in pairs.came:
        below = (*label, new[place]["id"] if pairs.ids else str(place + 1))
        found.append((place, [ValueChange(below, None, entry_words(new[place]), (*new_keys, place))]))
    for _, changes in sorted(found, key=lambda each: each[0]):
        yield from changes
    for place in pairs.gone:
        below = (*label, old[place]["id"] if pairs.ids else str(place + 1))
        yield ValueChange(below, entry_words(old[place]), None, (*old_keys, place))


def _whole(value: Any, label: _Label, keys: Keys, text: str | None, *, came: bool) -> Iterator[ValueChange]:
    """Everything under a key that came or went; each entry of a list as one."""
    if isinstance(value, dict) and value:
        for key, each in value.items():
            yield from _whole(each, (*label, str(key)), (*keys, key), text_at(value, key), came=came)
        return
    if isinstance(value, list) and value:
        yield from _in_list([], value, label, (), keys) if came else _in_list(value, [], label, keys, ())
        return
    text = written(value) if text is None else text
    yield ValueChange(label, None if came else text, text if came else None, keys)


def edits_between(before: Document, after: Document) -> Iterator[tuple[ValueChange, Edit]]:
    """What differs between two versions of a file, and with its line, in the older one where it was taken away."""
    changes = changes_between(before.data, after.data)
    new_lines = iter(after.lines([each.keys for each in changes if each.new is not None]))
    old_lines = iter(before.lines([each.keys for each in changes if each.new is None]))
    for each in changes:
        path, line = (before.path, next(old_lines)) if each.new is None else (after.path, next(new_lines))
        state = "moved" if each.moved else "added" if each.old is None else "removed" if each.new is None else "changed"
        yield each, Edit(path, line, STEP.join(each.label), each.old, each.new, state)
