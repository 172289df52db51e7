"""One strict YAML 1.2 document to plain data, with the place of everything that is refused.

libyaml composes the nodes; their values come from `scalars`, because PyYAML's own resolver is one of YAML 1.1: it reads
`no` as false, `12:30` as 750 and `1e3` as text.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

import yaml
from yaml.nodes import MappingNode, ScalarNode

from notchbook.reading import rules
from notchbook.reading.nodes import (
    COMPOSED_DEPTH,
    MOST_NODES,
    OWN_TAGS,
    PLAIN,
    TEXT,
    Flaw,
    TooMuchError,
    compose,
    place_at,
    start_of,
    too_deep,
    too_many,
    without_old_breaks,
)
from notchbook.reading.scalars import NumberError, plain_value

if TYPE_CHECKING:
    from yaml.nodes import Node

    from notchbook.findings import Rule

DEEPEST = 20
_MOST_TAG_DIRECTIVES = 20

# What libyaml's reader refuses anyway, found first because libyaml gives no line for it (YAML 1.2.2, 5.1).
_NOT_PRINTABLE = re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
# An anchor, an alias, or the tag `!` that leaves no trace in the nodes.
_MAYBE_FEATURE = re.compile(r"(?:^|[\s,\[{:?\ufeff-])(?:[&*][^\s,\[\]{}]|!(?:[\s,\]}]|\Z))", re.MULTILINE)


def parse(text: str) -> tuple[Any, list[Flaw]]:
    """Plain data of one document, and what is refused in it.

    The data is None where the document could not be read at all; a refused value stands in it as None.
    """
    odd = _NOT_PRINTABLE.search(text)
    if odd:
        message = f"holds the control character U+{ord(odd.group()):04X}"
        return None, [Flaw(rules.FILE_TEXT, message, "delete the character", *place_at(text, odd.start()))]
    directives = text.count("%TAG")
    if directives > _MOST_TAG_DIRECTIVES:
        # libyaml compares each of them with all before it
        message = f"has %TAG {directives} times; tags are not used"
        return None, [Flaw(rules.YAML_FEATURE, message, "delete them", *place_at(text, text.index("%TAG")))]
    if _MAYBE_FEATURE.search(text):
        flaws = _features(text)
        if flaws:
            return None, flaws
    try:
        node = compose(text)
    except TooMuchError as error:
        return None, [error.flaw]
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
    flaws: list[Flaw] = []
    depth = 0
    try:
        for number, event in enumerate(yaml.parse(without_old_breaks(text)[0], Loader=yaml.CSafeLoader)):
            name = getattr(event, "anchor", None)
            if name:
                what = "alias" if isinstance(event, yaml.AliasEvent) else "anchor"
                message = f"{what} '{name}' is not allowed in a data file"
                hint = "write the value out, or quote the text if it is meant to begin with & or *"
                flaws.append(_flaw(rules.YAML_FEATURE, event, message, hint))
            if isinstance(event, (yaml.ScalarEvent, yaml.CollectionStartEvent)) and event.tag == "!":
                flaws.append(_tag_flaw(event))
            depth += isinstance(event, yaml.CollectionStartEvent) - isinstance(event, yaml.CollectionEndEvent)
            if number > 2 * MOST_NODES or depth > COMPOSED_DEPTH:
                flaws.append((too_many if number > 2 * MOST_NODES else too_deep)(event.start_mark).flaw)
                break
    except yaml.YAMLError as error:
        flaws.append(_syntax_flaw(error))
    return flaws


def _syntax_flaw(error: yaml.YAMLError) -> Flaw:
    if isinstance(error, yaml.MarkedYAMLError):
        line, column = start_of(error.problem_mark or error.context_mark)
        words = ", ".join(part for part in (error.context, error.problem) if part)
        if error.problem == "but found another document":
            return Flaw(rules.YAML_SYNTAX, "holds more than one document", "keep one document a file", line, column)
        return Flaw(
            rules.YAML_SYNTAX, f"is not YAML here: {words}", "look at this line and the one before it", line, column
        )
    return Flaw(rules.YAML_SYNTAX, f"is not YAML: {error}", "", 1, 1)


def _flaw(rule: Rule, node: Node | yaml.Event, message: str, hint: str = "") -> Flaw:
    line, column = start_of(node.start_mark)
    return Flaw(rule, message, hint, line, column)


def _mapping(node: MappingNode, flaws: list[Flaw], depth: int) -> dict[str, Any]:
    result: dict[str, Any] = {}
    for key_node, value_node in node.value:
        if type(key_node) is not ScalarNode:
            flaws.append(_flaw(rules.YAML_SYNTAX, key_node, "a key must be plain text", "put a word before the colon"))
            continue
        if key_node.tag not in OWN_TAGS:
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
    if node.tag not in OWN_TAGS:
        flaws.append(_tag_flaw(node))
    return result


def _value(node: Node, flaws: list[Flaw], depth: int) -> Any:
    if isinstance(node, ScalarNode):
        tag = node.tag
        if tag == PLAIN:
            return _plain(node, flaws)
        if tag == TEXT:
            return node.value
        flaws.append(_tag_flaw(node))
        return None
    if depth >= DEEPEST:
        flaws.append(_flaw(rules.NESTING, node, f"is nested more than {DEEPEST} levels deep", "flatten the file"))
        return None
    if isinstance(node, MappingNode):
        return _mapping(node, flaws, depth + 1)
    if node.tag not in OWN_TAGS:
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
