"""The text of a cell or an option to a value of a record; what cannot be one says what it should be."""

import datetime as dt
import re
from collections.abc import Mapping

from notchbook.wording.nearest import nearest_of
from notchbook.wording.quoting import shown
from notchbook.wording.yaml_text import Figure
from notchbook.writing.heads import LIKE_A_HEAD, UNIT_WORDS, is_other_unit, unit_of, words_of
from notchbook.writing.trouble import ValueTroubleError

_NUMBER = re.compile(r"[-+]?(?:0|[1-9][0-9]*)(?:[.,][0-9]+)?(?:[eE][-+]?[0-9]{1,3})?\Z")
_LONGEST_NUMBER = 40
_SMALLEST, _LARGEST = 1e-12, 1e12
_WITH_UNIT = re.compile(r"(?P<number>[-+]?[0-9][0-9.,]*)\s*(?P<unit>[^\s0-9.,].*)\Z", re.DOTALL)
_LEADING_ZEROS = re.compile(r"[-+]?0[0-9]+(?:[.,][0-9]+)?\Z")
_THOUSANDS = re.compile(r"[-+]?[1-9][0-9]{0,2},[0-9]{3}\Z")
"""A comma that may stand between thousands, in a file whose decimals have points."""
_YEAR_FIRST = re.compile(r"(?P<year>[0-9]{4})[-/.](?P<month>[0-9]{1,2})[-/.](?P<day>[0-9]{1,2})\Z")
_DAY_FIRST = re.compile(r"(?P<day>[0-9]{1,2})\.\s?(?P<month>[0-9]{1,2})\.\s?(?P<year>[0-9]{4})\Z")
_MIDNIGHT = re.compile(r"[ T]00:00(?::00)?\Z")
"""What a spreadsheet puts behind a date that it takes for a time."""
_BREAK_WORDS = (
    ("complete", "complete break", "completely", "broken", "full", "full break", "through"),
    ("hinge", "hinge break", "hinged", "hinged break"),
    ("partial", "partial break", "partially", "partly", "part"),
    ("none", "no break", "no", "non break", "not broken", "unbroken", "did not break", "nb"),
)
"""Words for one break type each (ISO 179-1, 7.8; common practice for the words), its title among them."""
_YES = frozenset({"x", "✓", "✔", "yes", "y", "true", "1", "excluded"})
_NO = frozenset({"", "no", "n", "false", "0", "-", "–", "—", "none", "not excluded"})


def figure(text: str, *, comma_is_decimal: bool, unit: str = "") -> Figure:
    """A number with the digits it was written with, without its unit behind; raises ValueTroubleError."""
    # a typographic minus is one
    plain = text.replace("\N{MINUS SIGN}", "-")
    with_unit = _WITH_UNIT.match(plain)
    if with_unit and unit and unit_of(with_unit["unit"]) == unit:
        plain = with_unit["number"]
    if _is_number(plain):
        if comma_is_decimal or not _THOUSANDS.match(plain):
            return Figure(plain.replace(",", "."))
        message = f"{shown(text)} may be a thousand times as much: a comma stands before three digits"
        hint = "write decimals with a point, or save the file with semicolons between the columns"
        raise ValueTroubleError(message, hint)
    raise ValueTroubleError(*_no_number(text, unit))


def _is_number(text: str) -> bool:
    """Whether a text is a number of a size that an instrument shows."""
    if len(text) > _LONGEST_NUMBER or not _NUMBER.match(text):
        return False
    size = abs(float(text.replace(",", ".")))
    return size == 0 or _SMALLEST <= size <= _LARGEST


def _no_number(text: str, unit: str) -> tuple[str, str]:
    expected = f"a number in {UNIT_WORDS[unit]}" if unit else "a number"
    message = f"{shown(text)} is not {expected}"
    with_unit = _WITH_UNIT.match(text)
    behind = with_unit["unit"] if with_unit else ""
    if text.startswith("#"):
        return message, "the spreadsheet could not work the cell out; put the reading itself there"
    if unit and (is_other_unit(behind) or unit_of(behind) not in (None, unit)):
        return message, f"convert it to {UNIT_WORDS[unit]}"
    if _LEADING_ZEROS.match(text):
        return message, "write it without the zeros in front"
    if text.count(".") + text.count(",") > 1 or re.match(r"[0-9]+\s[0-9]", text):
        return message, "write it without marks between the thousands"
    if len(text) > _LONGEST_NUMBER:
        return f"{message}: it has {len(text)} characters", "write the reading with the digits that were read"
    return message, "write the reading as it was read, with digits and one decimal point or comma"


def date(text: str) -> str:
    """A date in the form of ISO 8601; raises ValueTroubleError.

    The day may stand first only between points: between strokes the month stands first in some countries.
    """
    day = _MIDNIGHT.sub("", text)
    found = _YEAR_FIRST.match(day) or _DAY_FIRST.match(day)
    hint = "write year, month and day, such as 2026-10-06"
    if not found:
        why = ": which of its numbers is the month cannot be known" if re.match(r"[0-9]+/[0-9]+/", text) else ""
        raise ValueTroubleError(f"{shown(text)} is no date{why}", hint)
    try:
        return dt.date(*(int(found[part]) for part in ("year", "month", "day"))).isoformat()
    except ValueError as error:
        raise ValueTroubleError(f"{shown(text)} is no day of the calendar", hint) from error


def plain_text(text: str) -> str:
    """A text; raises ValueTroubleError for characters that no sheet should hold."""
    odd = next((each for each in text if _is_odd(each)), None)
    if odd is not None:
        message = f"{shown(text)} holds the character U+{ord(odd):04X}, which is no part of a text"
        raise ValueTroubleError(message, "delete the character, or type the text again")
    return text


def _is_odd(character: str) -> bool:
    """Whether a character is a control other than a line end or tab, half a character, or none at all."""
    number = ord(character)
    if character in "\t\n\r":
        return False
    return number < 0x20 or 0x7F <= number <= 0x9F or 0xD800 <= number <= 0xDFFF or number & 0xFFFE == 0xFFFE


def break_letter(text: str, titles: Mapping[str, str]) -> str:
    """The letter of a break type that a letter or word means, titles by letter; raises ValueTroubleError."""
    if text.strip() in titles:  # two codes may differ in capitals alone
        return text.strip()
    words = words_of(text)
    for letter, title in titles.items():
        if words in (letter.casefold(), title.casefold()):
            return letter
    every = {
        word: letter
        for letter, title in titles.items()
        for known in _BREAK_WORDS
        if title.casefold() in known
        for word in known
    }
    if words in every:
        return every[words]
    allowed = ", ".join(f"{letter} ({title})" for letter, title in titles.items())
    close = nearest_of(words, every, LIKE_A_HEAD)
    hint = f"did you mean {every[close]} ({close})?" if close else "look at the broken bar again"
    raise ValueTroubleError(f"{shown(text)} is no break type; it can be {allowed}", hint)


def exclusion(text: str, remark: str) -> str | None:
    """Why a bar does not count, or None where it does; a mere yes takes the remark for its reason.

    Raises ValueTroubleError for a yes without a reason.
    """
    word = text.casefold()
    if word in _NO:
        return None
    if word not in _YES:
        return plain_text(text)
    if not remark:
        raise ValueTroubleError(f"{shown(text)} does not say why the bar is excluded", "write the reason in its place")
    return plain_text(remark)
