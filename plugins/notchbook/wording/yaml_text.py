"""Values as the text of a YAML file: scalars that every reader takes for what they are, and mappings on one line.

Plain texts follow the core schema of YAML 1.2.2 (10.3.2); the words that only YAML 1.1 takes for true and false are
put in quotation marks too. Escapes are those of YAML 1.2.2, 5.7.
"""

import math
import re
from dataclasses import dataclass

from notchbook.wording.lines import disarmed

# Texts of these characters alone mean themselves everywhere in YAML, also between braces.
_PLAIN_TEXT = re.compile(r"[A-Za-z](?:[A-Za-z0-9 _./()%°;-]*[A-Za-z0-9_.)%°])?\Z")
_DATE = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}\Z")
_OTHER_MEANING = frozenset({"true", "false", "null", "yes", "no", "on", "off"})
_SHORT_ESCAPES = {'"': '\\"', "\\": "\\\\", "\n": "\\n", "\t": "\\t", "\r": "\\r"}


@dataclass(frozen=True, slots=True)
class Figure:
    """A number that keeps the digits it was written with, because 4.10 says more than 4.1."""

    written: str


def scalar(value: object, *, quoted: bool = False) -> str:
    """A number or text as it stands in a file; a text plain where it can be and is not asked to be quoted.

    Raises ValueError for what is neither, for a number that is not finite and for half a character.
    """
    if isinstance(value, Figure):
        return value.written
    if isinstance(value, str):
        plain = not quoted and _PLAIN_TEXT.match(value) and value.lower() not in _OTHER_MEANING
        return value if plain else _in_quotation_marks(value)
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise ValueError(f"{value!r} is neither text nor a finite number")
    return repr(value)


def date_scalar(text: str) -> str:
    """A date, which is text in a data file and stands there without quotation marks."""
    return text if _DATE.match(text) else scalar(text)


def on_one_line(value: object) -> str:
    """Any value of a data file on one line, as a person writes it there.

    Raises ValueError for what YAML's core schema has not.
    """
    if isinstance(value, dict):
        return "{" + ", ".join(f"{on_one_line(key)}: {on_one_line(each)}" for key, each in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(on_one_line(each) for each in value) + "]"
    if isinstance(value, bool):
        return "true" if value else "false"
    return date_scalar(value) if isinstance(value, str) else scalar(value)


def _in_quotation_marks(text: str) -> str:
    # what a printed record could command a runner of pipelines stands there as an escape, which YAML has too
    return '"' + disarmed("".join(_SHORT_ESCAPES.get(each) or _escaped(each) for each in text)) + '"'


def _escaped(character: str) -> str:
    # what is not printable, and spaces and line ends other than the common space
    if character == " " or character.isprintable():
        return character
    number = ord(character)
    if 0xD800 <= number <= 0xDFFF:
        raise ValueError(f"U+{number:04X} is half a character")
    return f"\\u{number:04X}" if number <= 0xFFFF else f"\\U{number:08X}"
