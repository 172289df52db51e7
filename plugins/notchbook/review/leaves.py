"""Data files as single values under their keys, and how a value or an entry of a list is written on one line."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Hashable, Iterator

Keys = tuple[str | int, ...]
"""Where a value stands in a file: keys of mappings and places in lists, from the outermost."""
STEP = " › "
"""Between the keys that lead to a value."""


@dataclass(frozen=True, slots=True)
class Leaf:
    """A single value of a data file; an empty mapping or list is one too."""

    label: tuple[str, ...]
    """Its keys in words; entries of a list by their number from 1."""
    keys: Keys
    """Where it really stands."""
    value: Any
    text: str
    """How it is written in the file."""


def leaves_of(value: Any, label: tuple[str, ...] = (), keys: Keys = (), text: str | None = None) -> Iterator[Leaf]:
    """Every single value, in the order of the file."""
    if isinstance(value, dict) and value:
        for key, each in value.items():
            yield from leaves_of(each, (*label, str(key)), (*keys, key), text_at(value, key))
    elif isinstance(value, list) and value:
        for place, each in enumerate(value):
            yield from leaves_of(each, (*label, str(place + 1)), (*keys, place))
    else:
        yield Leaf(label, keys, value, written(value) if text is None else text)


def text_at(holder: dict[Any, Any], key: Any) -> str | None:
    """How a number of a mapping is written, where that is another way than the usual one."""
    return getattr(holder, "written", {}).get(key)


def written(value: Any) -> str:
    """A single value as it stands in a file."""
    if value is None:
        return "null"
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, dict):
        return "{}"
    if isinstance(value, list):
        return "[]"
    return str(value)


def entry_words(value: Any) -> str:
    """A whole entry of a list on one line, with the keys of its values."""
    parts = []
    for leaf in leaves_of(value):
        name = STEP.join(leaf.label)
        parts.append(f"{name}: {leaf.text}" if name else leaf.text)
    return "; ".join(parts)


def meaning(value: Any) -> Hashable:
    """What a value says, to be compared: 4.0 and 4.00 say the same, a number and a text do not."""
    if isinstance(value, dict):
        return "mapping", frozenset((str(key), meaning(each)) for key, each in value.items())
    if isinstance(value, list):
        return "list", tuple(map(meaning, value))
    if isinstance(value, bool) or value is None:
        return "word", value
    if isinstance(value, int | float):
        return "number", float(value)
    return "text", str(value)
