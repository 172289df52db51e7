"""Characters that look like another: letters of other scripts, wide forms, blanks and marks that nobody sees."""

from __future__ import annotations

import re
import unicodedata

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
