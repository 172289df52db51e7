"""The lines of settings at the head of a hand-written page, as MkDocs takes them off before it reads the rest."""

import re
from dataclasses import dataclass, field
from typing import Any

import yaml

from notchbook.reading.nodes import BoundedLoader

# The forms are those of MkDocs' `utils.meta`: YAML between lines of hyphens, or `key: value` up to an empty line.
_YAML = re.compile(r"-{3}[ \t]*\n(?P<inner>.*?\n)(?:\.{3}|-{3})[ \t]*\n", re.DOTALL)
_PAIR = re.compile(r"[ ]{0,3}(?P<key>[A-Za-z0-9_-]+):\s*(?P<value>.*)")
_MORE = re.compile(r"(?:[ ]{4}|\t)\s*\S")


@dataclass(frozen=True, slots=True)
class FrontMatter:
    """What stands at the head of a page."""

    values: dict[Any, Any] = field(default_factory=dict)
    end: int = 0
    """Where the rest of the page begins, from 0."""


def front_matter(text: str) -> FrontMatter:
    """The settings at the head of a page whose lines end as on Unix; none where they cannot be read."""
    found = _YAML.match(text)
    if found is None:
        return _pairs(text)
    try:
        values = yaml.load(found["inner"], Loader=BoundedLoader)  # noqa: S506  # a safe loader
    except (yaml.YAMLError, ValueError, LookupError, AttributeError, TypeError, RecursionError):
        return FrontMatter()
    return FrontMatter(values, _past_breaks(text, found.end())) if isinstance(values, dict) else FrontMatter()


def _pairs(text: str) -> FrontMatter:
    values: dict[str, str] = {}
    key, position = "", 0
    for line in text.split("\n"):
        found = _PAIR.match(line)
        if found:
            key = found["key"].lower()
            values[key] = f"{values[key]} {found['value'].strip()}" if key in values else found["value"].strip()
        elif key and _MORE.match(line):
            values[key] += f" {line.strip()}"
        else:
            position += 0 if line.strip() else len(line) + 1
            break
        position += len(line) + 1
    return FrontMatter(values, _past_breaks(text, min(position, len(text))))


def _past_breaks(text: str, position: int) -> int:
    while text.startswith("\n", position):
        position += 1
    return position
