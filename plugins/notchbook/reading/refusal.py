"""What a schema refuses, in words that say what to type."""

from __future__ import annotations

import difflib
import re
from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from notchbook.reading import rules

if TYPE_CHECKING:
    from jsonschema.exceptions import ValidationError

    from notchbook.findings import Rule
    from notchbook.reading.nodes import Keys


@dataclass(frozen=True, slots=True)
class Refusal:
    """One error of a schema, as far as a message needs it."""

    keyword: str
    """The keyword of the schema that was not met."""
    wanted: Any
    """What stands under the keyword."""
    instance: Any
    """What was found instead."""
    keys: Keys
    """Where it was found."""
    schema: dict[str, Any]
    """The part of the schema that holds the keyword."""
    around: dict[str, Any]
    """The part of the schema that holds the condition, where the keyword stands in one."""
    about_a_key: bool
    """Whether a key's own name is refused, not its value."""

    @classmethod
    def of(cls, error: ValidationError) -> Refusal:
        """The refusal of an error of the validator."""
        parent: Any = error.parent.schema if isinstance(error.parent, type(error)) else {}
        schema: Any = error.schema
        return cls(
            str(error.validator),
            error.validator_value,
            error.instance,
            tuple(error.absolute_path),
            schema,
            parent,
            "propertyNames" in error.absolute_schema_path,
        )


Said = tuple[str, str, "Rule"]
"""Message, hint and rule."""
_TYPE_WORDS = {
    "object": "a mapping of keys to values",
    "array": "a list",
    "string": "text",
    "number": "a number",
    "integer": "a whole number",
    "boolean": "true or false",
    "null": "nothing",
}
_NUMBER_IN_TEXT = re.compile(r"\s*([-+]?[0-9]+(?:[.,][0-9]+)?)\s*(?:[^\W\d_]\S*|[%°]\S*)?\s*")
_GROUPED_NUMBER = re.compile(r"[-+]?[0-9]{1,3}(?:[_ \u202f\u2009'’][0-9]{3})+(?:\.[0-9]+)?")


def name(refusal: Refusal) -> str:
    """The name of the value that an error is about, as its key and number in a list."""
    parts = refusal.keys
    if not parts:
        return "the file"
    if isinstance(parts[-1], int):
        return f"'{parts[-2]}' number {parts[-1] + 1}" if len(parts) > 1 else f"number {parts[-1] + 1}"
    return f"'{parts[-1]}'"


def shown(value: object) -> str:
    """A value as it would be written in YAML, cut to a length that fits a line."""
    if isinstance(value, Mapping):
        return "a mapping"
    if isinstance(value, list):
        return "a list"
    text = "nothing" if value is None else str(value).lower() if isinstance(value, bool) else str(value)
    return f"'{text[:60]}…'" if len(text) > 60 else f"'{text}'"


def _say_type(refusal: Refusal) -> Said:
    wanted = refusal.wanted
    words = _TYPE_WORDS.get(wanted, str(wanted)) if isinstance(wanted, str) else " or ".join(wanted)
    hint = f"write {words}"
    if wanted in ("number", "integer") and isinstance(refusal.instance, str):
        number = _NUMBER_IN_TEXT.fullmatch(refusal.instance)
        if _GROUPED_NUMBER.fullmatch(refusal.instance):
            hint = f"write {re.sub('[^0-9.+-]', '', refusal.instance)} without anything between its digits"
        elif number:
            hint = f"write {number.group(1).replace(',', '.')} without quotes, unit or decimal comma"
    if wanted == "string" and isinstance(refusal.instance, (int, float)):
        # not the value itself: 01 was read as 1
        hint = 'put it in quotes as it stands there, such as "01"'
    return f"{name(refusal)} is {shown(refusal.instance)}, where {words} is expected", hint, rules.VALUE_TYPE


def _say_choice(refusal: Refusal) -> Said:
    choices = refusal.wanted if isinstance(refusal.wanted, list) else [refusal.wanted]
    nearest = difflib.get_close_matches(str(refusal.instance), [str(choice) for choice in choices], 1, 0.5)
    hint = f"did you mean '{nearest[0]}'?" if nearest else f"write {' or '.join(str(choice) for choice in choices)}"
    allowed = ", ".join(str(choice) for choice in choices)
    return f"{name(refusal)} is {shown(refusal.instance)}; it can be {allowed}", hint, rules.VALUE_FORM


def _say_pattern(refusal: Refusal) -> Said:
    examples = refusal.schema.get("examples", ())
    about = refusal.schema.get("description", "")
    if isinstance(refusal.instance, str) and not refusal.instance.strip():
        return f"{name(refusal)} is blank", about or "write something, or leave the key out", rules.VALUE_FORM
    form = f"the form of {_lowered(refusal.schema['title'])}" if "title" in refusal.schema else "the form of a key here"
    hint = f"write it like {examples[0]}" if examples else f"it must match {refusal.wanted}"
    value = f"{name(refusal)} is {shown(refusal.instance)}, which"
    if refusal.about_a_key:
        value = f"the key {shown(refusal.instance)} in {name(refusal)}"
    message = f"{value} is not in {form}"
    return message, f"{hint}: {about}" if about else hint, rules.VALUE_FORM


def _lowered(title: str) -> str:
    return title[:1].lower() + title[1:]


def _say_range(words: str) -> Callable[[Refusal], Said]:
    def say(refusal: Refusal) -> Said:
        about = refusal.schema.get("description", "")
        return (
            f"{name(refusal)} is {refusal.instance:.10g}; it must be {words} {refusal.wanted:g}",
            about or "check the reading and its unit",
            rules.VALUE_RANGE,
        )

    return say


def _say_size(words: str, of: str) -> Callable[[Refusal], Said]:
    def say(refusal: Refusal) -> Said:
        return (
            f"{name(refusal)} has {len(refusal.instance)} {of}; it must have {words} {refusal.wanted}",
            refusal.schema.get("description", ""),
            rules.VALUE_FORM,
        )

    return say


def _say_dependent(refusal: Refusal) -> Said:
    pairs = [
        f"'{key}' needs '{need}'"
        for key, needs in refusal.wanted.items()
        if key in refusal.instance
        for need in needs
        if need not in refusal.instance
    ]
    return f"{', '.join(pairs)} beside it", "add the key that is needed, or take the other out", rules.KEY_MISSING


def _say_unique(refusal: Refusal) -> Said:
    times = Counter(each for each in refusal.instance if isinstance(each, str))
    twice = next((each for each, number in times.items() if number > 1), None)
    return f"{name(refusal)} holds {shown(twice)} a second time", "delete one of the two", rules.VALUE_FORM


def _say_anything(refusal: Refusal) -> Said:
    return f"{name(refusal)} is not as its schema asks: '{refusal.keyword}' is not met", "", rules.VALUE_FORM


_SAY: dict[str, Callable[[Refusal], Said]] = {
    "type": _say_type,
    "enum": _say_choice,
    "const": _say_choice,
    "pattern": _say_pattern,
    "minimum": _say_range("at least"),
    "maximum": _say_range("at most"),
    "exclusiveMinimum": _say_range("more than"),
    "exclusiveMaximum": _say_range("less than"),
    "minLength": _say_size("at least", "characters"),
    "maxLength": _say_size("at most", "characters"),
    "minItems": _say_size("at least", "entries"),
    "maxItems": _say_size("at most", "entries"),
    "minProperties": _say_size("at least", "keys"),
    "maxProperties": _say_size("at most", "keys"),
    "uniqueItems": _say_unique,
    "dependentRequired": _say_dependent,
}


def say(refusal: Refusal) -> Said:
    """Message, hint and rule of a refusal, whatever its keyword."""
    return _SAY.get(refusal.keyword, _say_anything)(refusal)
