"""Slips between brackets: one that is open or left over, a comma that is missing, a colon that belongs to a text."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from notchbook.reading.slips.slip import Slip, excerpt, first_letter, quoted

CLOSING = {"{": "}", "[": "]"}
_OPENING = {"}": "{", "]": "["}
_NAMES = {"{": "brace", "[": "bracket", "}": "brace", "]": "bracket"}
_REMARK = re.compile(r"(?:^|\s+)#.*$")
_TEXT_END = re.compile(r"[,\]}]|$")


@dataclass(frozen=True, slots=True)
class Opening:
    """A bracket that was opened."""

    sign: str
    line: int
    column: int
    """From 0."""
    indent: int
    """Of the line that it stands in."""

    def named(self, line: int) -> str:
        """The bracket by its place, as it is told on a line."""
        place = f"column {self.column + 1}" if self.line == line else f"line {self.line}"
        return f"the {_NAMES[self.sign]} {self.sign} of {place}"


def left_open(number: int, line: str, opened: Sequence[Opening]) -> Slip:
    """Brackets that are still open at the end of the last line that belongs to them."""
    text = _REMARK.sub("", line).rstrip()
    remark = line[len(text) :]
    if re.match(r" #\S.*[\]}]", remark):
        message = "has a # behind a space, which begins a remark and hides the rest of the line"
        hint = "put the text that holds it in quotes"
        return Slip(number, len(text) + 2, message, hint, {number: f"{text} {remark[2:]}"})
    closing = "".join(CLOSING[each.sign] for each in reversed(opened))
    message = f"{opened[-1].named(number)} is not closed"
    mended = {number: f"{text}{closing}{line[len(text) :]}"}
    return Slip(number, len(text) + 1, message, f"write {closing} at the end of this line", mended)


def other_closing(number: int, line: str, column: int, mark: str, opened: Sequence[Opening]) -> Iterator[Slip]:
    """A closing bracket of another kind than the one that was opened last."""
    wanted, last = CLOSING[opened[-1].sign], opened[-1].named(number)
    if wanted == mark:
        return
    if any(CLOSING[each.sign] == mark for each in opened):
        mended = f"{line[:column]}{wanted}{line[column:]}"
        message = f"lacks a {wanted} before this {mark}: {last} is still open"
        yield Slip(number, column + 1, message, f"write {wanted}{mark}", {number: mended})
    else:
        mended = f"{line[:column]}{wanted}{line[column + 1 :]}"
        message = f"closes {last} with {mark}"
        yield Slip(number, column + 1, message, f"write {wanted} in its place", {number: mended})


def not_opened(number: int, line: str, places: Sequence[int]) -> Iterator[Slip]:
    """The opening bracket that a line lacks which ends in a closing one or a comma, at the columns, from 0, for it."""
    text = _REMARK.sub("", line).rstrip()
    closing = text[-1:]
    if closing == ",":
        opening, message = "{", "ends in a comma, but no brace { was opened for a list of entries"
    elif closing in _OPENING and text.count(_OPENING[closing]) < text.count(closing):
        opening = _OPENING[closing]
        message = f"ends in {closing}, but no {_NAMES[closing]} {opening} was opened"
    else:
        return
    for place in dict.fromkeys(first_letter(line, column) for column in places):
        piece = f"{opening}{line[place:].split(',', maxsplit=1)[0]}"
        mended = {number: f"{line[:place]}{opening}{line[place:]}"}
        yield Slip(number, place + 1, message, f"write {excerpt(piece)}", mended)


def no_space(number: int, line: str, column: int) -> Slip:
    """A bracket, at the column, from 0, directly behind the colon of its key."""
    key = re.split(r"[,{\[\s]", line[: column - 1])[-1]
    mended = {number: f"{line[:column]} {line[column:]}"}
    message = f"has no space behind the colon of '{key}'"
    return Slip(number, column, message, f"write {key}: {line[column]}", mended)


def left_over(number: int, line: str, column: int) -> Slip:
    """Something behind the end of a value, at the column, from 0, where the line could end."""
    place = first_letter(line, column)
    sign, rest = line[place], line[place:].strip()
    without = {number: f"{line[:place]}{line[place + 1 :]}".rstrip()}
    if sign in _OPENING:
        return Slip(number, place + 1, f"has a closing {_NAMES[sign]} {sign} too many", "delete it", without)
    if sign in ",;":
        name = "comma" if sign == "," else "semicolon"
        message = f"has a {name} behind the entry, which the end of the line ends already"
        return Slip(number, place + 1, message, "delete it", without)
    message = f"has '{excerpt(rest)}' behind the end of the value"
    hint = f"delete it, or write # {excerpt(rest)} if it is a remark"
    return Slip(number, place + 1, message, hint, {number: f"{line[:column]}  # {rest}"})


def no_comma(number: int, line: str, gap: tuple[int, int], key: str) -> Slip:
    """Two entries with something else than a comma between them, in these columns from 0."""
    start, end = gap
    piece = re.split(r"[,{\[]\s*", line[:start])[-1].strip()
    hint = f"write {excerpt(piece)}, {key}" if piece else f"write a comma before {key}"
    mended = {number: f"{line[:start]}, {line[end:]}"}
    semicolon = line.find(";", start, end)
    if semicolon >= 0:
        message = f"has a semicolon before '{key}', where a comma ends an entry"
        return Slip(number, semicolon + 1, message, hint, mended)
    return Slip(number, start + 1, f"lacks a comma before '{key}'", hint, mended)


def no_comma_at_end(number: int, line: str) -> Slip:
    """An entry that goes on below, without a comma behind it."""
    text = _REMARK.sub("", line).rstrip()
    piece = re.split(r"[,{\[]\s*", text)[-1].strip()
    message = "lacks a comma at its end, before the entry on the line below"
    return Slip(number, len(text) + 1, message, f"write {excerpt(piece)},", {number: f"{text},{line[len(text) :]}"})


def colon_in_text(number: int, line: str, start: int, column: int) -> Slip:
    """A second colon in an entry, in a text that begins at the first of the columns, from 0."""
    end = _TEXT_END.search(line, column).start()  # type: ignore[union-attr]  # `$` always matches
    place = first_letter(line, start)
    text = line[place:end].rstrip()
    message = f"the text {excerpt(text)} holds a colon with a space behind it, and stands without quotation marks"
    mended = {number: f"{line[:place]}{quoted(text)}{line[end:]}"}
    return Slip(number, column + 1, message, f"write {excerpt(quoted(text))}", mended)
