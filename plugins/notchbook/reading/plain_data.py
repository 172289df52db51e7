"""The nodes of a document to plain data, with the place of everything in it that is refused."""

from typing import Any

import yaml
from yaml.nodes import MappingNode, Node, ScalarNode

from notchbook.findings import Rule
from notchbook.reading import rules
from notchbook.reading.nodes import OWN_TAGS, PLAIN, TEXT, Flaw, start_of
from notchbook.reading.scalars import NumberError, WrittenNumbers, is_written_otherwise, plain_value

DEEPEST = 20


def flaw_at(rule: Rule, node: Node | yaml.Event, message: str, hint: str = "") -> Flaw:
    """A flaw where the node or event begins."""
    line, column = start_of(node.start_mark)
    return Flaw(rule, message, hint, line, column)


def tag_flaw(node: Node | yaml.ScalarEvent | yaml.CollectionStartEvent) -> Flaw:
    """The flaw of a tag."""
    hint = "delete it, or put the text in quotes if it is meant to begin with !"
    return flaw_at(rules.YAML_FEATURE, node, f"tag '{node.tag}' is not allowed in a data file", hint)


def mapping(node: MappingNode, flaws: list[Flaw], depth: int = 1) -> dict[str, Any]:
    """The data of a mapping at that depth of the document; what is refused in it is added to the flaws."""
    result: dict[str, Any] = {}
    written: dict[str, str] = {}
    for key_node, value_node in node.value:
        if type(key_node) is not ScalarNode:
            flaws.append(
                flaw_at(rules.YAML_SYNTAX, key_node, "a key must be plain text", "put a word before the colon")
            )
            continue
        if key_node.tag not in OWN_TAGS:
            flaws.append(tag_flaw(key_node))
        key = key_node.value
        if key in result:
            flaws.append(
                flaw_at(
                    rules.DUPLICATE_KEY,
                    key_node,
                    f"'{key}' stands here a second time",
                    "keep one of the two values and delete the other",
                )
            )
            continue
        value = result[key] = _value(value_node, flaws, depth)
        if type(value) is float and is_written_otherwise(value_node.value):
            written[key] = value_node.value
    if node.tag not in OWN_TAGS:
        flaws.append(tag_flaw(node))
    return WrittenNumbers(result, written) if written else result


def _value(node: Node, flaws: list[Flaw], depth: int) -> Any:
    if isinstance(node, ScalarNode):
        tag = node.tag
        if tag == PLAIN:
            return _plain(node, flaws)
        if tag == TEXT:
            return node.value
        flaws.append(tag_flaw(node))
        return None
    if depth >= DEEPEST:
        flaws.append(flaw_at(rules.NESTING, node, f"is nested more than {DEEPEST} levels deep", "flatten the file"))
        return None
    if isinstance(node, MappingNode):
        return mapping(node, flaws, depth + 1)
    if node.tag not in OWN_TAGS:
        flaws.append(tag_flaw(node))
    return [_value(item, flaws, depth + 1) for item in node.value]


def _plain(node: ScalarNode, flaws: list[Flaw]) -> Any:
    try:
        return plain_value(node.value)
    except NumberError as error:
        hint = "write the number as it was measured, or leave the key out"
        flaws.append(flaw_at(rules.NUMBER_FINITE, node, str(error), hint))
        return None
