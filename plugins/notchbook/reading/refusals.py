"""What the schema of a kind refuses in a file, in the words of those who write such files."""

import copy
import functools
import itertools
import re
from collections import Counter
from collections.abc import Callable, Iterator
from typing import Any

from jsonschema import Draft202012Validator
from jsonschema.exceptions import ValidationError
from jsonschema.validators import extend

from notchbook.reading import rules
from notchbook.reading.document import MOST_FINDINGS
from notchbook.reading.nodes import Flaw, Keys
from notchbook.reading.refusal import Refusal, Said, name, shown
from notchbook.reading.schemas import schema
from notchbook.reading.unknown_keys import Explanation, Stranger, explain, fallen_out
from notchbook.reading.wrong_forms import say_choice, say_pattern
from notchbook.reading.wrong_types import say_type

# Enough for a missing key to meet the misspelling that explains it; nobody reads a hundred thousand errors of one file.
_MOST_ERRORS = 20 * MOST_FINDINGS
Renamed = tuple[Keys, str, str]
"""The keys of a mapping, a key in it that is unknown there, and the one that was meant."""


def _say_range(refusal: Refusal) -> Said:
    message = f"{name(refusal)} is {refusal.instance:.10g}; it must be {_RANGES[refusal.keyword]} {refusal.wanted:g}"
    return message, refusal.schema.get("description", "") or "check the reading and its unit", rules.VALUE_RANGE


def _say_size(refusal: Refusal) -> Said:
    words, of = _SIZES[refusal.keyword]
    message = f"{name(refusal)} has {len(refusal.instance)} {of}; it must have {words} {refusal.wanted}"
    return message, refusal.schema.get("description", ""), rules.VALUE_FORM


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


_RANGES = {
    "minimum": "at least",
    "maximum": "at most",
    "exclusiveMinimum": "more than",
    "exclusiveMaximum": "less than",
}
_SIZES = {
    f"{limit}{of}": (words, told)
    for limit, words in (("min", "at least"), ("max", "at most"))
    for of, told in (("Length", "characters"), ("Items", "entries"), ("Properties", "keys"))
}
_SAY: dict[str, Callable[[Refusal], Said]] = {
    "type": say_type,
    "enum": say_choice,
    "const": say_choice,
    "pattern": say_pattern,
    **dict.fromkeys(_RANGES, _say_range),
    **dict.fromkeys(_SIZES, _say_size),
    "uniqueItems": _say_unique,
    "dependentRequired": _say_dependent,
}


def say(refusal: Refusal) -> Said:
    """Message, hint and rule of a refusal, whatever its keyword."""
    if refusal.keyword in _SAY:
        return _SAY[refusal.keyword](refusal)
    return f"{name(refusal)} is not as its schema asks: '{refusal.keyword}' is not met", "", rules.VALUE_FORM


@functools.cache
def _validator(kind: str) -> Draft202012Validator:
    own = extend(Draft202012Validator, {"uniqueItems": _unique, "pattern": _pattern})  # type: ignore[no-untyped-call]
    validator: Draft202012Validator = own(schema(kind))
    return validator


def _unique(_validator: object, wanted: bool, instance: object, _schema: object) -> Iterator[ValidationError]:
    """Lists of texts hold each once; the library's own comparison of every entry with every other is quadratic."""
    texts = [each for each in instance if isinstance(each, str)] if isinstance(instance, list) else []
    if wanted and len(set(texts)) < len(texts):
        yield ValidationError("an entry stands twice")


def _pattern(_validator: object, wanted: str, instance: object, _schema: object) -> Iterator[ValidationError]:
    """A pattern as ECMA-262 reads it, where `$` is the very end; Python's is also before a line break at the end."""
    if isinstance(instance, str) and not re.search(re.sub(r"\$\Z", r"\\Z", wanted), instance):
        yield ValidationError("is not in its form")


def flaws(kind: str, data: dict[str, Any], *, refused_values: bool = False) -> list[Flaw]:
    """What the schema of the kind refuses in the data; what follows from a slip in a key is not told beside it.

    Where values were refused already, an empty value is the trace of one and is not told again.
    """
    first = itertools.islice(_validator(kind).iter_errors(data), _MOST_ERRORS)
    errors = [Refusal.of(error) for error in first]
    if refused_values:
        errors = [error for error in errors if error.instance is not None]
    if not errors:
        return []
    found: list[Flaw] = []
    spoiled: set[Keys] = set()
    meant: list[Renamed] = []
    for error in errors:
        for key, explained in _unknown_keys(error) if error.keyword == "additionalProperties" else ():
            keys = (*error.keys, key)
            found.append(Flaw(rules.KEY_UNKNOWN, explained.message, explained.hint, keys=keys, at_key=True))
            if explained.spoiled is not None:
                spoiled.add((*error.keys, explained.spoiled))
            if explained.meant is not None:
                meant.append((error.keys, key, explained.meant))
    lacking = _lacking(kind, data, meant) if meant else None
    for error in errors:
        if error.keyword == "required":
            found.extend(_missing(error, lacking))
        elif error.keyword != "additionalProperties" and error.keys not in spoiled and _is_left(error, lacking):
            found.append(_other(error))
    return list(dict.fromkeys(found))


def _is_left(error: Refusal, lacking: set[Keys] | None) -> bool:
    return error.keyword != "dependentRequired" or lacking is None or error.keys in lacking


def _unknown_keys(error: Refusal) -> Iterator[tuple[str, Explanation]]:
    properties = error.schema.get("properties", {})
    allowed = list(properties)
    fallen = fallen_out(error.instance, properties)
    swallowed: set[str] = set()
    strangers = (key for key in error.instance if key not in properties)
    for key in itertools.islice(strangers, MOST_FINDINGS + 1):
        if key not in swallowed:
            explained = fallen.get(key) or explain(Stranger(key, error.instance, allowed))
            swallowed.update(explained.swallowed)
            yield key, explained


def _lacking(kind: str, data: dict[str, Any], meant: list[Renamed]) -> set[Keys]:
    """What would be missing if the unknown keys were those that were meant, and the mappings that lack some key."""
    renamed = copy.deepcopy(data)
    for keys, old, new in meant:
        place: Any = renamed
        for key in keys:
            place = place[key]
        place.setdefault(new, place[old])
    lacking: set[Keys] = set()
    for error in itertools.islice(_validator(kind).iter_errors(renamed), _MOST_ERRORS):
        if error.validator in ("required", "dependentRequired"):
            keys = tuple(error.absolute_path)
            lacking.add(keys)
            lacking.update((*keys, key) for key in error.validator_value if key not in error.instance)
    return lacking


def _missing(error: Refusal, lacking: set[Keys] | None) -> Iterator[Flaw]:
    for key in error.wanted:
        if key in error.instance or (lacking is not None and (*error.keys, key) not in lacking):
            continue
        about = _description(error.schema, key) or _description(error.around, key)
        yield Flaw(
            rules.KEY_MISSING,
            f"'{key}' is missing" + (f" in {name(error)}" if error.keys else ""),
            f"add '{key}'" + (f": {about}" if about else ""),
            keys=error.keys,
            at_key=bool(error.keys),
        )


def _description(schema: dict[str, Any], key: str) -> str:
    return str(schema.get("properties", {}).get(key, {}).get("description", ""))


def _other(error: Refusal) -> Flaw:
    message, hint, rule = say(error)
    if error.about_a_key:
        return Flaw(rule, message, hint, keys=(*error.keys, str(error.instance)), at_key=True)
    return Flaw(rule, message, hint, keys=error.keys, at_key=rule is rules.KEY_MISSING and bool(error.keys))
