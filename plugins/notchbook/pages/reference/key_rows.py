"""The keys of a kind of file as rows of a table, from its schema, so that no table can fall behind."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from notchbook.reading.schemas import schema
from notchbook.wording.yaml_text import on_one_line

_Schema = dict[str, Any]
STEP = " › "
ANY_KEY, EACH = "(id)", "(each)"
"""What stands in a path for a key that the writer of the file chooses, and for every entry of a list."""


@dataclass(frozen=True, slots=True)
class KeyRow:
    """One key."""

    path: str
    """The keys that lead to it, from the outermost."""
    title: str
    """Its name in words, with the unit."""
    description: str
    """What stands under it, with the unit."""
    required: str
    """`required`, `optional`, or when it is required."""
    examples: tuple[str, ...]
    """How values are written; none where the keys below it have their own."""
    form: str = ""
    """Name of the form that the keys under it have, where several keys share one."""


@dataclass(frozen=True, slots=True)
class Form:
    """Keys that several others have under them."""

    name: str
    description: str
    rows: list[KeyRow]


def key_rows(kind: str) -> tuple[list[KeyRow], list[Form]]:
    """The keys of a kind of file in the order of its schema, and the forms that they share."""
    whole = schema(kind)
    forms = [each for each in whole.get("$defs", {}).values() if each.get("type") == "object"]
    return list(_rows(whole, whole, "")), [
        Form(each["title"], each["description"].replace("`", ""), list(_rows(whole, each, ""))) for each in forms
    ]


def _rows(whole: _Schema, mapping: _Schema, before: str) -> Iterator[KeyRow]:
    """The rows of the keys in a mapping, each followed by those of the keys under it."""
    when = _when_required(mapping)
    for key, about in mapping.get("properties", {}).items():
        shared = _shared(whole, about)
        is_form = shared.get("type") == "object"
        described = {**shared, **about}
        below = [] if is_form else list(_below(whole, described, before + key))
        yield KeyRow(
            before + key,
            described["title"],
            described["description"].replace("`", ""),
            when.get(key, "optional"),
            () if below or is_form else tuple(on_one_line(each) for each in described.get("examples", ())),
            shared["title"] if is_form else "",
        )
        yield from below


def _below(whole: _Schema, about: _Schema, path: str) -> Iterator[KeyRow]:
    """The rows of the keys under a key: in its mapping, its entries, or what stands under keys of one's own."""
    yield from _rows(whole, about, path + STEP)
    for name, step in (("items", EACH), ("additionalProperties", ANY_KEY)):
        inner = about.get(name)
        if isinstance(inner, dict):
            yield from _below(whole, inner, path + STEP + step)


def _shared(whole: _Schema, about: _Schema) -> _Schema:
    """What a key's description refers to; empty where it stands by itself."""
    name = str(about.get("$ref", "")).rpartition("/")[2]
    found: _Schema = whole["$defs"][name] if name else {}
    return found


def _when_required(mapping: _Schema) -> dict[str, str]:
    """For each key that is ever required, when it is."""
    found = dict.fromkeys(mapping.get("required", ()), "required")
    for key, words in _conditions(mapping, []):
        found.setdefault(key, words)
    for other, keys in mapping.get("dependentRequired", {}).items():
        for key in keys:
            found.setdefault(key, f"required with {other}")
    return found


def _conditions(mapping: _Schema, absent: list[str]) -> Iterator[tuple[str, str]]:
    """The keys that a condition requires, in the words of the condition."""
    condition = mapping.get("if")
    if condition is None:
        return
    keys = condition.get("required", [])
    values = [(key, each["const"]) for key, each in condition.get("properties", {}).items()]
    positive = " and ".join([*(f"with {key}" for key in keys), *(f"where {key} is {value}" for key, value in values)])
    for key in mapping.get("then", {}).get("required", ()):
        yield key, f"required {positive}"
    otherwise = mapping.get("else", {})
    without = [*absent, *keys]
    for key in otherwise.get("required", ()):
        yield key, f"required without {' and '.join(without)}"
    yield from _conditions(otherwise, without)
