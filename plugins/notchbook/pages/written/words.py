"""Values as a person writes them in a data file."""

from __future__ import annotations

import json
import re

# Texts of these characters alone mean themselves everywhere in YAML.
_PLAIN_TEXT = re.compile(r"[A-Za-z](?:[A-Za-z0-9 _./()%°;-]*[A-Za-z0-9_.)%°])?\Z")
_DATE = re.compile(r"\d{4}-\d\d-\d\d\Z")
_OTHER_MEANING = frozenset({"true", "false", "null", "yes", "no", "on", "off"})


def written(value: object) -> str:
    """A value on one line of YAML: numbers plain, texts in quotation marks only where they need them."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{written(key)}: {written(each)}" for key, each in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(written(each) for each in value) + "]"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        # a date is text in a data file, and stands without quotation marks
        plain = _PLAIN_TEXT.match(value) or _DATE.match(value)
        return value if plain and value.lower() not in _OTHER_MEANING else json.dumps(value, ensure_ascii=False)
    return str(value)
