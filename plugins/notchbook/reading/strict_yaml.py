"""One strict YAML 1.2 document to plain data, with the place of everything that is refused.

libyaml composes the nodes; their values come from `scalars`, because PyYAML's own resolver is one of YAML 1.1: it reads
`no` as false, `12:30` as 750 and `1e3` as text.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import yaml
from yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from notchbook.reading import rules
from notchbook.reading.scalars import NumberError, plain_value

if TYPE_CHECKING:
    from notchbook.findings import Rule

Keys = tuple[str | int, ...]
DEEPEST = 20

_PLAIN = "plain"
_TEXT = "text"
_COLLECTION = "collection"
_OWN_TAGS = frozenset({_PLAIN, _TEXT, _COLLECTION})

# What libyaml's reader refuses anyway, found first because libyaml gives no line for it (YAML 1.2.2, 5.1).
_NOT_PRINTABLE = re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
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


class _Composer(yaml.CSafeLoader):
    """libyaml's composer, telling plain scalars from quoted ones and resolving nothing."""

    def resolve(self, kind: type[Node], value: str | None, implicit: tuple[bool, bool]) -> str:  # noqa: ARG002
        if kind is ScalarNode:
            return _PLAIN if implicit[0] else _TEXT
        return _COLLECTION

    def descend_resolver(self, _parent: Node | None, _index: object) -> None:
        pass

    def ascend_resolver(self) -> None:
        pass


def compose(text: str) -> Node | None:
    """The nodes of one document; raises `yaml.YAMLError` for what is not one YAML document."""
    node: Node | None = _Composer(text).get_single_node()
    return node


def parse(text: str) -> tuple[Any, list[Flaw]]:
    """Plain data of one document, and what is refused in it.

    The data is None where the document could not be read at all; a refused value stands in it as None.
    """
    odd = _NOT_PRINTABLE.search(text)
    if odd:
        line = text.count("\n", 0, odd.start()) + 1
        column = odd.start() - (text.rfind("\n", 0, odd.start()) + 1) + 1
        what = f"U+{ord(odd.group()):04X}"
        return None, [
            Flaw(rules.FILE_TEXT, f"holds the control character {what}", "delete the character", line, column)
        ]
    if _MAYBE_FEATURE.search(text):
        flaws = _features(text)
        if flaws:
            return None, flaws
    try:
        node = compose(text)
    except yaml.YAMLError as error:
        return None, [_syntax_flaw(error)]
    if node is None:
        return None, [Flaw(rules.YAML_SYNTAX, "is empty", "begin with `kind:`", 1, 1)]
    if not isinstance(node, MappingNode):
        return None, [_flaw(rules.YAML_SYNTAX, node, "holds no mapping of keys to values", "begin with `kind:`")]
    flaws = []
    data = _mapping(node, flaws, 1)
    return data, flaws


def _features(text: str) -> list[Flaw]:
    """Flaws for the anchors, aliases and bare tags of a text, found in its events, where no alias is expanded yet."""
    flaws = []
    try:
        for event in yaml.parse(text, Loader=yaml.CSafeLoader):
            name = getattr(event, "anchor", None)
            if name:
                what = "alias" if isinstance(event, yaml.AliasEvent) else "anchor"
                message = f"{what} '{name}' is not allowed in a data file"
                hint = "write the value out, or quote the text if it is meant to begin with & or *"
                flaws.append(_flaw(rules.YAML_FEATURE, event, message, hint))
            if isinstance(event, (yaml.ScalarEvent, yaml.CollectionStartEvent)) and event.tag == "!":
                flaws.append(_tag_flaw(event))
    except yaml.YAMLError as error:
        flaws.append(_syntax_flaw(error))
    return flaws


def _syntax_flaw(error: yaml.YAMLError) -> Flaw:
    if isinstance(error, yaml.MarkedYAMLError):
        line, column = _place(error.problem_mark or error.context_mark)
        words = ", ".join(part for part in (error.context, error.problem) if part)
        if error.problem == "but found another document":
            return Flaw(rules.YAML_SYNTAX, "holds more than one document", "keep one document a file", line, column)
        return Flaw(
            rules.YAML_SYNTAX, f"is not YAML here: {words}", "look at this line and the one before it", line, column
        )
    return Flaw(rules.YAML_SYNTAX, f"is not YAML: {error}", "", 1, 1)


def _flaw(rule: Rule, node: Node | yaml.Event, message: str, hint: str = "") -> Flaw:
    line, column = _place(node.start_mark)
    return Flaw(rule, message, hint, line, column)


def _place(mark: Any) -> tuple[int, int]:
    """Line and column, from 1; libyaml always gives the mark, its types do not say so."""
    return (mark.line + 1, mark.column + 1) if mark is not None else (1, 1)


def _mapping(node: MappingNode, flaws: list[Flaw], depth: int) -> dict[str, Any]:
    result: dict[str, Any] = {}
    for key_node, value_node in node.value:
        if type(key_node) is not ScalarNode:
            flaws.append(_flaw(rules.YAML_SYNTAX, key_node, "a key must be plain text", "put a word before the colon"))
            continue
        if key_node.tag not in _OWN_TAGS:
            flaws.append(_tag_flaw(key_node))
        key = key_node.value
        if key in result:
            flaws.append(
                _flaw(
                    rules.DUPLICATE_KEY,
                    key_node,
                    f"'{key}' stands here a second time",
                    "keep one of the two values and delete the other",
                )
            )
            continue
        result[key] = _value(value_node, flaws, depth)
    if node.tag not in _OWN_TAGS:
        flaws.append(_tag_flaw(node))
    return result


def _value(node: Node, flaws: list[Flaw], depth: int) -> Any:
    if isinstance(node, ScalarNode):
        tag = node.tag
        if tag == _PLAIN:
            return _plain(node, flaws)
        if tag == _TEXT:
            return node.value
        flaws.append(_tag_flaw(node))
        return None
    if depth >= DEEPEST:
        flaws.append(_flaw(rules.NESTING, node, f"is nested more than {DEEPEST} levels deep", "flatten the file"))
        return None
    if isinstance(node, MappingNode):
        return _mapping(node, flaws, depth + 1)
    if node.tag not in _OWN_TAGS:
        flaws.append(_tag_flaw(node))
    return [_value(item, flaws, depth + 1) for item in node.value]


def _tag_flaw(node: Node | yaml.ScalarEvent | yaml.CollectionStartEvent) -> Flaw:
    return _flaw(rules.YAML_FEATURE, node, f"tag '{node.tag}' is not allowed in a data file", "delete the tag")


def _plain(node: ScalarNode, flaws: list[Flaw]) -> Any:
    try:
        return plain_value(node.value)
    except NumberError as error:
        hint = "write the number as it was measured, or leave the key out"
        flaws.append(_flaw(rules.NUMBER_FINITE, node, str(error), hint))
        return None


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
    return _place(place.start_mark)
