"""The numbers of a data file: where each stands in the text, what it is called, and its neighbours."""

import itertools
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from notchbook.reading import schemas
from notchbook.reading.nodes import Keys, compose
from notchbook.reading.strict_yaml import parse


@dataclass(frozen=True, slots=True)
class Leaf:
    """One number of a data file."""

    keys: Keys
    """The keys that lead to it."""
    start: int
    """Place of its first character in the text."""
    end: int
    """Place after its last character."""
    written: str
    """The number as it stands in the text."""
    parents: tuple[Node, ...]
    """Mappings and lists that hold it, the file itself first."""

    @property
    def value(self) -> float:
        """The number."""
        return float(self.written)


def numeric_leaves(text: str) -> list[Leaf]:
    """Every number of a file in the order of the text; the file must be one that the reader takes."""
    data, flaws = parse(text)
    node = compose(text)
    if flaws or node is None:
        raise ValueError(f"a file with flaws has no numbers to change: {[flaw.message for flaw in flaws]}")
    return list(_leaves(data, node, (), ()))


def _leaves(data: Any, node: Node, keys: Keys, parents: tuple[Node, ...]) -> Iterator[Leaf]:
    if isinstance(node, MappingNode):
        for key, value in node.value:
            yield from _leaves(data[key.value], value, (*keys, key.value), (*parents, node))
    elif isinstance(node, SequenceNode):
        for index, item in enumerate(node.value):
            yield from _leaves(data[index], item, (*keys, index), (*parents, node))
    elif isinstance(node, ScalarNode) and isinstance(data, (int, float)) and not isinstance(data, bool):
        yield Leaf(keys, node.start_mark.index, node.end_mark.index, node.value, parents)


def next_key(leaf: Leaf, leaves: list[Leaf]) -> Leaf | None:
    """The next number in the same mapping or list; None after the last."""
    siblings = [each for each in leaves if each.keys[:-1] == leaf.keys[:-1]]
    place = siblings.index(leaf)
    return siblings[place + 1] if place + 1 < len(siblings) else None


def next_entry(kind: str, leaf: Leaf, leaves: list[Leaf]) -> Leaf | None:
    """The number under the same key of the next entry that has one; None after the last, or where there are no entries.

    An entry is a mapping in a list, or under an id in a mapping of such: the next bar, the next hammer.
    """
    if len(leaf.keys) < 2 or _steps(kind, leaf.keys)[-2] not in ("[]", ".*"):
        return None
    entries = [each for each in leaves if each.keys[:-2] == leaf.keys[:-2] and each.keys[-1] == leaf.keys[-1]]
    place = entries.index(leaf)
    return entries[place + 1] if place + 1 < len(entries) else None


def path_pattern(kind: str, data: dict[str, Any], keys: Keys) -> str:
    """What a number is called, whichever bar, run or hammer it belongs to: `test specimens[].width_mm`.

    `[]` stands for an entry of a list, `*` for an id that the file chooses; `[excluded]` is a bar that does not count.
    """
    place: Any = data
    words = []
    for key, step in zip(keys, _steps(kind, keys), strict=True):
        place = place[key]
        words.append("[excluded]" if step == "[]" and isinstance(place, dict) and "excluded" in place else step)
    return f"{kind} {''.join(words).removeprefix('.')}"


def _steps(kind: str, keys: Keys) -> list[str]:
    """How each key is called: `.name` where the schema names it, `.*` where the file does, `[]` in a list."""
    whole = schemas.schema(kind)
    part: dict[str, Any] = whole
    found = []
    for key in keys:
        if "$ref" in part:
            part = _referred(whole, part["$ref"])
        if isinstance(key, int):
            found.append("[]")
            part = part["items"]
        elif key in part.get("properties", {}):
            found.append(f".{key}")
            part = part["properties"][key]
        else:
            found.append(".*")
            part = part["additionalProperties"]
    return found


def _referred(whole: dict[str, Any], reference: str) -> dict[str, Any]:
    """The part of a schema that a reference inside it names."""
    part = whole
    for name in itertools.islice(reference.split("/"), 1, None):
        part = part[name]
    return part
