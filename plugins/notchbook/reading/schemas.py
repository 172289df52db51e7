"""The schemas of the data files, and what they refuse in one."""

from __future__ import annotations

import difflib
import functools
import itertools
import json
import re
from pathlib import Path
from typing import TYPE_CHECKING, Any

from notchbook.reading import rules
from notchbook.reading.document import MOST_FINDINGS
from notchbook.reading.nodes import Flaw
from notchbook.reading.refusal import Refusal, name, say, shown

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jsonschema import Draft202012Validator
    from jsonschema.exceptions import ValidationError

# Enough for a missing key to meet the misspelling that explains it; nobody reads a hundred thousand errors of one file.
_MOST_ERRORS = 20 * MOST_FINDINGS
_PACKAGE = Path(__file__).resolve().parent.parent


def schema_folder() -> Path:
    """The folder of the schemas: inside the package where it was installed, beside it in a checkout."""
    installed = _PACKAGE / "schema"
    return installed if installed.is_dir() else _PACKAGE.parent.parent / "schema"


@functools.cache
def schema(kind: str) -> dict[str, Any]:
    """The schema of a kind of file."""
    loaded: dict[str, Any] = json.loads((schema_folder() / f"{kind}.schema.json").read_text(encoding="utf-8"))
    return loaded


@functools.cache
def _validator(kind: str) -> Draft202012Validator:
    from jsonschema import Draft202012Validator
    from jsonschema.validators import extend

    own = extend(Draft202012Validator, {"uniqueItems": _unique, "pattern": _pattern})  # type: ignore[no-untyped-call]
    validator: Draft202012Validator = own(schema(kind))
    return validator


def _unique(_validator: object, wanted: bool, instance: object, _schema: object) -> Iterator[ValidationError]:
    """Lists of texts hold each once; the library's own comparison of every entry with every other is quadratic."""
    from jsonschema.exceptions import ValidationError

    texts = [each for each in instance if isinstance(each, str)] if isinstance(instance, list) else []
    if wanted and len(set(texts)) < len(texts):
        yield ValidationError("an entry stands twice")


def _pattern(_validator: object, wanted: str, instance: object, _schema: object) -> Iterator[ValidationError]:
    """A pattern as ECMA-262 reads it, where `$` is the very end; Python's is also before a line break at the end."""
    from jsonschema.exceptions import ValidationError

    if isinstance(instance, str) and not re.search(re.sub(r"\$\Z", r"\\Z", wanted), instance):
        yield ValidationError("is not in its form")


def flaws(kind: str, data: dict[str, Any], *, refused_values: bool = False) -> list[Flaw]:
    """What the schema of the kind refuses in the data; keys that a misspelling explains are not also called missing.

    Where values were refused already, an empty value is the trace of one and is not told again.
    """
    first = itertools.islice(_validator(kind).iter_errors(data), _MOST_ERRORS)
    errors = [Refusal.of(error) for error in first]
    if refused_values:
        errors = [error for error in errors if error.instance is not None]
    if not errors:
        return []
    found: list[Flaw] = []
    explained: set[tuple[object, ...]] = set()
    for error in errors:
        if error.keyword == "additionalProperties":
            for key, nearest in _unknown_keys(error):
                found.append(_unknown_key_flaw(error, key, nearest))
                explained.add((*error.keys, nearest))
    for error in errors:
        if error.keyword == "required":
            found.extend(_missing(error, explained))
        elif error.keyword != "additionalProperties":
            found.append(_other(error))
    return list(dict.fromkeys(found))


def _unknown_keys(error: Refusal) -> Iterator[tuple[str, str | None]]:
    allowed = list(error.schema.get("properties", ()))
    instance = error.instance
    free = [key for key in allowed if key not in instance]
    strangers = (key for key in instance if key not in allowed)
    for key in itertools.islice(strangers, MOST_FINDINGS + 1):
        nearest = difflib.get_close_matches(key, free, 1, 0.6) or difflib.get_close_matches(key, allowed, 1, 0.6)
        yield key, nearest[0] if nearest else None


def _unknown_key_flaw(error: Refusal, key: str, nearest: str | None) -> Flaw:
    allowed = ", ".join(error.schema.get("properties", ()))
    hint = f"did you mean '{nearest}'?" if nearest else f"the keys here are {allowed}"
    if key == "<<":
        hint = "merge keys are not used; write the values out"
    elif key.isdecimal() and error.instance[key] is None:
        hint = "a comma begins the next key here; write decimals with a point"
    return Flaw(
        rules.KEY_UNKNOWN,
        f"{shown(key)} is not a key that is known here",
        hint,
        keys=(*error.keys, key),
        at_key=True,
    )


def _missing(error: Refusal, explained: set[tuple[object, ...]]) -> Iterator[Flaw]:
    for key in error.wanted:
        if key in error.instance or (*error.keys, key) in explained:
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
