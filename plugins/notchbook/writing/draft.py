"""A record that is being put together: its values, where each was given, what stands in the way, and its text."""

import itertools
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from typing import Any

from notchbook.reading import acceptance, strict_yaml
from notchbook.reading.nodes import Keys
from notchbook.reading.schemas import schema
from notchbook.wording.yaml_text import date_scalar, scalar
from notchbook.writing.fields import FIELDS
from notchbook.writing.heads import words_of
from notchbook.writing.trouble import Trouble

Values = dict[str, Any]
"""Plain values of a record under the keys of the contract: texts, numbers or figures, mappings and lists of them."""

_QUOTED = frozenset({"id", "type", "excluded", "reason"})
"""Texts in quotation marks even where they need none, because the next one may."""
_OWN_LINE = "excluded"
"""A reason is as long as it has to be, and stands below the readings of its bar."""


def record_text(values: Mapping[str, Any], head: str = "") -> str:
    """The file of a record, of what is known in any order, one of tests where no kind is; its head is lines of comment.

    Raises ValueError for a key that a record does not have or a value that YAML cannot hold.
    """
    top = schema(values.get("kind", "test"))
    lines = [line for key in ordered(values, top) for line in key_lines(key, values[key], top["properties"][key])]
    return head + "".join(f"{line}\n" for line in lines)


def ordered(values: Mapping[str, Any], about: dict[str, Any]) -> list[str]:
    """The keys of a mapping in the order of its schema; those of one's own choice as they come."""
    known = about.get("properties")
    if known is None:
        return list(values)
    strangers = [key for key in values if key not in known]
    if strangers:
        raise ValueError(f"'{strangers[0]}' is no key of '{about.get('title', 'this')}'")
    return [key for key in known if key in values]


def key_lines(key: str, value: Any, about: dict[str, Any]) -> list[str]:
    """The lines of a key at the top of the file."""
    if isinstance(value, list) and "properties" in about["items"]:
        return [f"{key}:", *(f"  - {flow(each, about['items'], below='     ')}" for each in value)]
    if isinstance(value, dict) and any(isinstance(each, dict) for each in value.values()):
        inner = (_inner_lines(name, value[name], about["properties"][name]) for name in ordered(value, about))
        return [f"{key}:", *itertools.chain.from_iterable(inner)]
    return [f"{key}: {flow(value, about) if isinstance(value, dict) else _scalar(key, value)}"]


def _inner_lines(key: str, value: Any, about: dict[str, Any]) -> list[str]:
    """The lines of a key below another; a mapping by names of one's own choice gets a line a name."""
    if not isinstance(value, dict):
        return [f"  {key}: {_scalar(key, value)}"]
    each_about = about["additionalProperties"]
    rows = [f"    {scalar(name, quoted=True)}: {flow(each, each_about)}" for name, each in value.items()]
    return [f"  {key}:", *rows]


def flow(values: Mapping[str, Any], about: dict[str, Any], below: str = "") -> str:
    """A mapping between braces; a reason for an exclusion on a line of its own, indented by `below`."""
    pairs = [f"{key}: {_scalar(key, values[key])}" for key in ordered(values, about)]
    if below and _OWN_LINE in values and len(pairs) > 1:
        return "{" + ", ".join(pairs[:-1]) + f",\n{below}{pairs[-1]}" + "}"
    return "{" + ", ".join(pairs) + "}"


def _scalar(key: str, value: object) -> str:
    """A value under its key; nothing stays nothing, which is a blank to be filled in."""
    if value is None:
        return ""
    if isinstance(value, list):
        return f"[{', '.join(_scalar(key, each) for each in value)}]"
    if key == "date" and isinstance(value, str):
        return date_scalar(value)
    return scalar(value, quoted=key in _QUOTED)


@dataclass(slots=True)
class Draft:
    """A record that is being put together."""

    values: Values
    places: dict[Keys, str] = field(default_factory=dict)
    """Where each value was given, by its keys in the record."""
    troubles: list[Trouble] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)
    """What is worth a look and no trouble."""
    named: dict[tuple[str, ...], str] = field(default_factory=dict)
    """The text of everything that was given for the record as a whole, also where its value cannot be used."""

    def refuse(self, *, whole: bool = True) -> None:
        """Add what the reader of data files refuses in the values, where they were given; a whole one is complete."""
        data, flaws = strict_yaml.parse(record_text(self.values))
        if data is not None:
            flaws += acceptance.flaws(self.values["kind"], data, refused_values=bool(flaws))
        told = bool(self.troubles) or not whole
        for flaw in flaws:
            place = self.places.get(flaw.keys)
            # what is missing was told before, with the option or the cell that lacks it
            if place is not None or not told:
                self.troubles.append(Trouble(place or "", flaw.message, flaw.hint))

    def tell_missing(self, required: Collection[str] | None = None) -> None:
        """Add what nobody gave of the whole: of keys at the top of a record, or of all that a test record must have."""
        for each in FIELDS:
            if each.is_required and each.keys not in self.named and (required is None or each.keys[0] in required):
                hint = f"give {each.option} {each.form}"
                if required is None:
                    hint += f", or a row '{words_of(each.option)}' above the table"
                self.troubles.append(Trouble("", f"{each.title} is missing", hint))
