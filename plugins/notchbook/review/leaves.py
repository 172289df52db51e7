"""Data files as single values under their keys, and what differs between two of them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterator

Keys = tuple[str | int, ...]
"""Where a value stands in a file: keys of mappings and places in lists, from the outermost."""


@dataclass(frozen=True, slots=True)
class Leaf:
    """A single value of a data file."""

    keys: Keys
    """Where it really stands."""
    value: Any


@dataclass(frozen=True, slots=True)
class ValueChange:
    """A value that differs between two versions of a file."""

    label: tuple[str, ...]
    """Its keys in words, entries of a list by their id where they have one."""
    old: str | None
    """As it was written; None where it was not there."""
    new: str | None
    """As it is written; None where it is not there any more."""
    keys: Keys
    """Where it stands in the newer file, or where it stood in the older one."""


def changes_between(old: dict[str, Any], new: dict[str, Any]) -> list[ValueChange]:
    """Values that differ, were added or taken away, in the order of the newer file; those taken away come last.

    Entries of a list that have an id are compared by it, so that moving one is no change.
    """
    before, after = leaves_of(old), leaves_of(new)
    found = [
        ValueChange(label, written(before[label].value) if label in before else None, written(leaf.value), leaf.keys)
        for label, leaf in after.items()
        if label not in before or not _same(before[label].value, leaf.value)
    ]
    gone = [
        ValueChange(label, written(leaf.value), None, leaf.keys) for label, leaf in before.items() if label not in after
    ]
    return found + gone


def leaves_of(data: dict[str, Any]) -> dict[tuple[str, ...], Leaf]:
    """Every single value of a file by its label; an empty mapping or list is a value too."""
    return {label: Leaf(keys, value) for label, keys, value in _walk(data, (), ())}


def written(value: Any) -> str:
    """A value as it stands in a file, on one line."""
    if value is None:
        return "null"
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, dict):
        return "{}"
    if isinstance(value, list):
        return "[]"
    return str(getattr(value, "written", value))


def _same(old: Any, new: Any) -> bool:
    """Whether two values say the same; 4.0 and 4.00 do, a number and a text do not."""
    number = (int, float)
    if isinstance(old, number) and isinstance(new, number) and not isinstance(old, bool) and not isinstance(new, bool):
        return float(old) == float(new)
    return type(old) is type(new) and bool(old == new)


def _walk(value: Any, label: tuple[str, ...], keys: Keys) -> Iterator[tuple[tuple[str, ...], Keys, Any]]:
    if isinstance(value, dict) and value:
        for key, each in value.items():
            yield from _walk(each, (*label, str(key)), (*keys, key))
    elif isinstance(value, list) and value:
        for place, (name, each) in enumerate(zip(_names(value), value, strict=True)):
            yield from _walk(each, (*label, name), (*keys, place))
    else:
        yield label, keys, value


def _names(entries: list[Any]) -> list[str]:
    """What the entries of a list are called: by their ids where each has one of its own, else by their number."""
    ids = [each.get("id") if isinstance(each, dict) else None for each in entries]
    if all(isinstance(each, str) for each in ids) and len(set(ids)) == len(ids):
        return [str(each) for each in ids]
    return [str(number) for number in range(1, len(entries) + 1)]
