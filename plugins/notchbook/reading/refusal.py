"""One thing that a schema refuses, and the names of what it is about."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from notchbook.findings import Rule
from notchbook.reading.nodes import Keys
from notchbook.wording import quoting

if TYPE_CHECKING:  # loaded for a file that is not accepted
    from jsonschema.exceptions import ValidationError


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


Said = tuple[str, str, Rule]
"""Message, hint and rule."""


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
    return quoting.shown(text)
