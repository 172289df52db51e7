"""Any YAML file's values as they were written: for comparing settings that are for other programs to understand.

Nothing is resolved. Tags stay, because one may name code that runs; a key that stands twice is there twice.
"""

import itertools
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import yaml
from yaml.nodes import MappingNode, Node, ScalarNode

from notchbook.reading.files import Refused, text_of
from notchbook.reading.nodes import COMPOSED_DEPTH, MOST_NODES, OWN_TAGS, TEXT, compose
from notchbook.reading.scalars import NumberError, plain_value

_STANDARD = "tag:yaml.org,2002:"


class NotReadError(Exception):
    """A file that cannot be compared; the text says why."""


def values_as_written(path: Path) -> tuple[str, dict[str, Any]]:
    """The text of a YAML file and its mapping of keys to texts, lists and mappings.

    Raises NotReadError where it is no such file, or too much of one.
    """
    text = text_of(path)
    if isinstance(text, Refused):
        raise NotReadError(text.message)
    try:
        node = compose(text)
    # PyYAML lets the errors of Python through where a value is not what its tag says
    except (yaml.YAMLError, ValueError, LookupError, AttributeError, RecursionError) as error:
        raise NotReadError(f"cannot be read: {getattr(error, 'problem', None) or error}") from error
    values = _value(node, itertools.count(1)) if node is not None else {}
    if not isinstance(values, dict):
        raise NotReadError("holds no keys with values")
    return text, values


def _value(node: Node, numbers: Iterator[int], depth: int = 0) -> Any:
    """The value of a node, within bounds and numbered: what an alias names is written out wherever it stands."""
    if next(numbers) > MOST_NODES or depth > COMPOSED_DEPTH:
        raise NotReadError(f"holds more than {MOST_NODES:,} keys and values, or is nested too deep")
    tag = "" if node.tag in OWN_TAGS else str(node.tag)
    if tag.startswith(_STANDARD):
        tag = f"!!{tag.removeprefix(_STANDARD)}"
    if isinstance(node, ScalarNode):
        return f"{tag} {node.value}".rstrip() if tag else _scalar(node)
    if not isinstance(node, MappingNode):
        entries = [_value(each, numbers, depth + 1) for each in node.value]
        return {tag: entries} if tag else entries
    found: dict[str, Any] = {}
    for key_node, value_node in node.value:
        key = name = str(key_node.value) if isinstance(key_node, ScalarNode) else "a key that is no text"
        number = 1
        while key in found:
            number += 1
            key = f"{name} ({number})"
        found[key] = _value(value_node, numbers, depth + 1)
    return {tag: found} if tag else found


def _scalar(node: ScalarNode) -> str:
    """The text of a value; in quotation marks where without them it would be no text."""
    if node.tag != TEXT:
        return str(node.value)
    try:
        is_text = plain_value(node.value) == node.value
    except NumberError:
        is_text = False
    return str(node.value) if is_text else f'"{node.value}"'
