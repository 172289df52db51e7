"""What the schemas of the data files refuse in one.

Compiled validators say whether a schema refuses anything, which is all there is to say of nearly every file; what it
refuses is then explained by `refusals`, whose validators take some hundred times as long and have the last word.
"""

import functools
import json
from typing import Any

from jsonschema_rs import Draft202012Validator

from notchbook.reading.nodes import Flaw
from notchbook.reading.schemas import DIFFERING, schema

# U+0085 and four control characters are white space to Python's `re`, by which refusals are found, but not to ECMA-262.
_VISIBLE, _VISIBLE_TO_BOTH = json.dumps(r"\S"), json.dumps(r"[^\s\x1c-\x1f\x85]")


@functools.cache
def _compiled(kind: str) -> Draft202012Validator:
    return Draft202012Validator(json.dumps(schema(kind)).replace(_VISIBLE, _VISIBLE_TO_BOTH), validate_formats=False)


def accepts(kind: str, data: dict[str, Any]) -> bool:
    """Whether the compiled schema of the kind accepts the data; it may be stricter than the refusals, never laxer."""
    return _compiled(kind).is_valid(data)


def flaws(kind: str, data: dict[str, Any], *, refused_values: bool = False) -> list[Flaw]:
    """What the schema of the kind refuses in the data; what follows from a slip in a key is not told beside it.

    Where values were refused already, an empty value is the trace of one and is not told again.
    """
    if kind == "method" and "based_on" in data:
        kind = DIFFERING
    if accepts(kind, data):
        return []
    # the validators that explain take longer to load than a handbook in order to check
    from notchbook.reading import refusals

    return refusals.flaws(kind, data, refused_values=refused_values)
