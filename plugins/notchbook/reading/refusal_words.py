"""What a schema refuses, in words that say what to type."""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING

from notchbook.reading import rules
from notchbook.reading.refusal import name, shown
from notchbook.reading.wrong_forms import say_choice, say_pattern
from notchbook.reading.wrong_types import say_type

if TYPE_CHECKING:
    from collections.abc import Callable

    from notchbook.reading.refusal import Refusal, Said


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
    "type": say_type,
    "enum": say_choice,
    "const": say_choice,
    "pattern": say_pattern,
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
