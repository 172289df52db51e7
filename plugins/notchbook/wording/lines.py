"""Text as a line of a terminal or a log: nothing in it moves the cursor, turns the writing or commands a runner."""

from __future__ import annotations

import re
import unicodedata

# A runner of pipelines takes a printed line for a command where it begins with two colons, or where two number signs
# and a word stand before a square bracket, wherever in the line that is.
_COMMAND = re.compile(r"^(?P<before>[^\S\n]*):(?=:)|#(?=#\w{0,40}\[)", re.MULTILINE)


def printable(text: str) -> str:
    r"""The text as one line, with every character that steers a terminal or a log written as its escape.

    These are control and direction characters, spaces other than the common one, halves of characters, and the first
    sign of what a runner of pipelines would obey: `\x3a:error::` for two colons at the start of a line, `\x23#[group]`
    for two number signs before a bracket.
    """
    if not text.isprintable():
        text = text.translate({ord(each): escape(each) for each in set(text) if not each.isprintable()})
    return disarmed(text)


def disarmed(text: str) -> str:
    """A text in whose lines a runner of pipelines finds no command."""
    return _COMMAND.sub(_without_its_sign, text) if "::" in text or "##" in text else text


def _without_its_sign(found: re.Match[str]) -> str:
    return f"{found['before']}\\x3a" if found["before"] is not None else "\\x23"


def escape(character: str) -> str:
    r"""A character as its code: `\t`, `\x1b`, `\u202e`."""
    return character.encode("unicode_escape").decode("ascii")


def cells(text: str) -> int:
    """How many cells of a terminal a text takes: some letters take two, accents none."""
    return sum(
        0 if unicodedata.combining(each) else 2 if unicodedata.east_asian_width(each) in "WF" else 1 for each in text
    )
