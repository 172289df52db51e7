"""Data as the text of a JSON file."""

import json
import re
from collections.abc import Mapping

_ALL_BUT_THE_LAST = re.compile("#(?=#)")


def json_text(data: object) -> str:
    """Data as JSON (RFC 8259) of which a terminal and a log show every character.

    What would move a cursor, turn the writing or command a runner of pipelines is escaped within its string, so that
    every reader of JSON gets the text as it was. Half a character is escaped too: the text is always UTF-8.

    Raises ValueError for a number that is not finite, which JSON does not have.
    """
    lines = json.dumps(data, ensure_ascii=False, allow_nan=False, indent=1).split("\n")
    return "".join(f"{_disarmed(line if line.isprintable() else _escaped(line))}\n" for line in lines)


def object_text(values: Mapping[str, str]) -> str:
    """An object as `json_text` gives it, from its values as such texts: they may have been made at another time."""
    entries = (f" {json_text(key)[:-1]}: {text[:-1].replace(chr(10), f'{chr(10)} ')}" for key, text in values.items())
    return "{\n" + ",\n".join(entries) + "\n}\n" if values else "{}\n"


def _escaped(line: str) -> str:
    return "".join(each if each.isprintable() else json.dumps(each)[1:-1] for each in line)


def _disarmed(line: str) -> str:
    # a number sign stands in strings alone, and no line begins with the text of one
    return _ALL_BUT_THE_LAST.sub(r"\\u0023", line) if "##" in line else line
