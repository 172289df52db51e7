"""Characters that look like another: letters of other scripts, wide forms, blanks and marks that nobody sees.

Among what follows from them are a key and its value that run into each other, because what should part them is missing
or another sign.
"""

import re
import unicodedata
from collections.abc import Container
from dataclasses import dataclass

# Small and capital letters of Cyrillic and Greek that are drawn like Latin ones. They are among the confusable
# characters of Unicode Technical Standard 39; written from memory.
_LETTERS = str.maketrans(
    "аеорсхуіјѕһԁԛԝкАВЕКМНОРСТХУІЈЅ" "οανρτυικχΑΒΕΖΗΙΚΜΝΟΡΤΥΧ" "ıɡ‐‑‒–—−﹣",
    "aeopcxyijshdqwkABEKMHOPCTXYIJS" "oavptuikxABEZHIKMNOPTYX" "ig-------",
)  # fmt: skip
# Format characters: no width, soft hyphens, directions, byte order marks.
_INVISIBLE = re.compile("[\u00ad\u034f\u061c\u180e\u200b-\u200f\u202a-\u202e\u2060-\u2064\u2066-\u206f\ufeff]")
ODD_SPACE = re.compile("[\u00a0\u00ad\u1680\u180e\u2000-\u200f\u202f\u205f\u2060\u3000\ufeff]")
"""A blank that is not the one of the space bar, or a mark without width."""

CURLY_QUOTES = "“”„‟‘’‚‛«»"
DASHES = "–—−‐‑•·◦▪"
"""Dashes and bullets that are typed or made for the dash of a list."""
_NAME = r"[\"']?(?P<key>[\w.-]+)[\"']?"
_NO_SPACE = re.compile(rf"{_NAME}(?P<sign>:)(?P<value>.+)", re.DOTALL)
_OTHER_SIGN = re.compile(rf"{_NAME}\s*(?P<sign>=>|:=|->|=|;|：)\s*(?P<value>\S.*)", re.DOTALL)
_NO_COLON = re.compile(rf"{_NAME}(?P<sign>\s+)(?P<value>\S.*)", re.DOTALL)


def plain_form(text: str) -> str:
    """The text as it would be typed on a Latin keyboard, as far as it looks like that."""
    return _INVISIBLE.sub("", unicodedata.normalize("NFKC", text).translate(_LETTERS))


def first_strange(text: str) -> str:
    """The first character of the text that only looks like the plain one; nothing where all are plain."""
    return next((each for each in text if plain_form(each) != each), "")


def described(character: str) -> str:
    """A character by its number and name in Unicode, with itself in front where it can be seen."""
    name = unicodedata.name(character, "").capitalize()
    number = f"U+{ord(character):04X}" + (f", {name}" if name else "")
    seen = not (character.isspace() or _INVISIBLE.match(character))
    return f"'{character}' ({number})" if seen else number


@dataclass(frozen=True, slots=True)
class Joined:
    """The two that were meant."""

    key: str
    value: str
    message: str


def part(text: str, known: Container[str]) -> Joined | None:
    """The key, one of those that are known, and the value that a text was meant to be; None for any other text."""
    for form in (_NO_SPACE, _OTHER_SIGN, _NO_COLON):
        found = form.fullmatch(text)
        key = plain_form(found["key"]) if found else ""
        if found is None or key not in known:
            continue
        odd = ODD_SPACE.search(text)
        if odd:
            message = f"has a character behind '{key}' that looks like a space and is none: {described(odd.group())}"
        elif found["sign"] == ":":
            message = f"has no space behind the colon of '{key}'"
        elif found["sign"].isspace():
            message = f"has no colon behind '{key}'"
        else:
            message = f"has {found['sign']} behind '{key}', where a colon belongs"
        return Joined(key, ODD_SPACE.sub(" ", found["value"]).strip(), message)
    return None
