"""Text on one line: of a terminal or a log, where nothing in it may steer, and of a page, where all can be shown."""

import re
import unicodedata

# A runner of pipelines takes a printed line for a command where it begins with two colons, or where two number signs
# and a word stand before a square bracket, wherever in the line that is.
_COMMAND = re.compile(r"^(?P<before>[^\S\n]*):(?=:)|#(?=#\w{0,40}\[)", re.MULTILINE)
# What HTML and XML cannot hold, code points that are no characters, halves of characters, and what turns the direction
# of the text around it.
_NO_CHARACTERS = "".join(f"{chr(plane + 0xFFFE)}{chr(plane + 0xFFFF)}" for plane in range(0, 0x110000, 0x10000))
_UNSHOWABLE = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069"
    f"\ud800-\udfff\ufdd0-\ufdef{_NO_CHARACTERS}]"
)
_SPACE = re.compile(r"\s+")


def one_line(text: str) -> str:
    """The text with its spaces as single ones and U+FFFD for what no page can show; not escaped for any."""
    if text.isprintable() and "  " not in text:
        return text
    return _SPACE.sub(" ", _UNSHOWABLE.sub("\N{REPLACEMENT CHARACTER}", text))


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
