"""One YAML document to libyaml's nodes within bounds, what is refused in it, and the places of both.

No value is resolved: PyYAML's own resolver is one of YAML 1.1.
"""

import functools
import re
from dataclasses import dataclass
from typing import Any

import yaml
from yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from notchbook.findings import Rule
from notchbook.reading import rules

Keys = tuple[str | int, ...]
MOST_NODES = 100_000
"""Keys, values, lists and mappings of one file; a record of a thousand bars has a fifth of them."""
# Deeper than this nothing is looked at: libyaml's own limit of 1,000 leaves it a quadratic way to go.
COMPOSED_DEPTH = 100

PLAIN = "plain"
TEXT = "text"
COLLECTION = "collection"
OWN_TAGS = frozenset({PLAIN, TEXT, COLLECTION})

LINE_BREAK = re.compile(r"\r\n|\r|\n")
# Line breaks of YAML 1.1 and of libyaml, but characters like any other in YAML 1.2.2 (5.4) and in every editor.
_OLD_BREAKS = "\x85\u2028\u2029"


# An anchor, an alias, or the tag `!` that leaves no trace in the nodes.
_MAYBE_FEATURE = re.compile(r"(?:^|[\s,\[{:?\ufeff-])(?:[&*][^\s,\[\]{}]|!(?:[\s,\]}]|\Z))", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Flaw:
    """Something refused in a file; the place is a line and column from 1, or the keys that lead to it."""

    rule: Rule
    message: str
    hint: str = ""
    line: int = 0
    column: int = 0
    keys: Keys = ()
    at_key: bool = False
    """Whether the key is meant, not its value."""


class TooMuchError(yaml.YAMLError):
    """More nodes, or deeper ones, than a file needs; the place is that of the node or of what holds it."""

    def __init__(self, rule: Rule, message: str, hint: str, mark: Any) -> None:
        super().__init__(message)
        self.flaw = Flaw(rule, message, hint, *start_of(mark))


class BoundedLoader(yaml.CSafeLoader):
    """libyaml's composer, which gives up on a document of too many nodes or of too many levels."""

    def __init__(self, text: str) -> None:
        super().__init__(text)
        self._nodes = self._depth = 0

    def descend_resolver(self, parent: Node | None, index: object) -> None:
        """Count a node; libyaml's composer calls this before it composes one."""
        self._nodes += 1
        self._depth += 1
        if self._nodes > MOST_NODES or self._depth > COMPOSED_DEPTH:
            # never so at the first node, the only one without a parent
            mark = index.start_mark if isinstance(index, Node) else parent.start_mark  # type: ignore[union-attr]
            raise too_many(mark) if self._nodes > MOST_NODES else too_deep(mark)

    def ascend_resolver(self) -> None:
        """Leave a node."""
        self._depth -= 1


class _Composer(BoundedLoader):
    """Tells plain scalars from quoted ones and resolves nothing."""

    def resolve(self, kind: type[Node], value: str | None, implicit: tuple[bool, bool]) -> str:  # noqa: ARG002
        if kind is ScalarNode:
            return PLAIN if implicit[0] else TEXT
        return COLLECTION


def too_many(mark: Any) -> TooMuchError:
    """The error of a document of too many nodes."""
    message = f"holds more than {MOST_NODES:,} keys and values up to here"
    return TooMuchError(rules.FILE_SIZE, message, "split it", mark)


def too_deep(mark: Any) -> TooMuchError:
    """The error of a document of too many levels."""
    return TooMuchError(rules.NESTING, f"is nested more than {COMPOSED_DEPTH} levels deep", "flatten the file", mark)


def compose(text: str) -> Node | None:
    """The nodes of one document; raises `yaml.YAMLError` for what is not one YAML document, or is too much of one."""
    text, characters = without_old_breaks(text)
    node: Node | None = _Composer(text).get_single_node()
    if characters and node is not None:
        _restore(node, characters)
    return node


@functools.lru_cache(maxsize=1)
def composed(text: str) -> Node | None:
    """The same to look places up in, kept until another text is asked for: findings come file by file."""
    return compose(text)


def may_have_features(text: str) -> bool:
    """Whether a text may hold an anchor, an alias or a bare tag; what has none of them holds no node twice."""
    return ("&" in text or "*" in text or "!" in text) and _MAYBE_FEATURE.search(text) is not None


def without_old_breaks(text: str) -> tuple[str, dict[int, str]]:
    """The text with stand-ins for the line breaks of YAML 1.1, and the table that puts them back."""
    found = [each for each in _OLD_BREAKS if each in text]
    # characters for private use that the text does not hold itself
    free = (chr(code) for code in range(0xE000, 0xF8FF) if chr(code) not in text)
    back: dict[int, str] = {}
    for old, new in zip(found, free, strict=False):
        text = text.replace(old, new)
        back[ord(new)] = old
    return text, back


def _restore(node: Node, characters: dict[int, str]) -> None:
    todo, seen = [node], {id(node)}
    while todo:
        place = todo.pop()
        if isinstance(place, ScalarNode):
            place.value = place.value.translate(characters)
            continue
        for each in place.value:
            inside = [inner for inner in (each if isinstance(each, tuple) else (each,)) if id(inner) not in seen]
            seen.update(map(id, inside))
            todo += inside


def place_at(text: str, offset: int) -> tuple[int, int]:
    """Line and column, from 1, of a character of the text."""
    if "\r" not in text:
        return text.count("\n", 0, offset) + 1, offset - text.rfind("\n", 0, offset)
    line, begins = 1, 0
    for each in LINE_BREAK.finditer(text, 0, offset):
        line, begins = line + 1, each.end()
    return line, offset - begins + 1


def position(node: Node, keys: Keys, *, at_key: bool = False) -> tuple[int, int]:
    """Line and column, from 1, of the value under the keys, or as far along them as the document goes."""
    place = node
    for index, key in enumerate(keys):
        last = index == len(keys) - 1
        if isinstance(place, MappingNode):
            pair = next((pair for pair in place.value if pair[0].value == str(key)), None)
            if pair is None:
                break
            place = pair[0] if at_key and last else pair[1]
        elif isinstance(place, SequenceNode) and isinstance(key, int) and key < len(place.value):
            place = place.value[key]
        else:
            break
    return start_of(place.start_mark)


def start_of(mark: Any) -> tuple[int, int]:
    """Line and column, from 1; libyaml always gives the mark, its types do not say so."""
    return (mark.line + 1, mark.column + 1) if mark is not None else (1, 1)
