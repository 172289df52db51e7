"""Quotation marks that are left open, or that end a text too early."""

import re
from collections.abc import Iterator

from notchbook.reading.slips.slip import Break, Slip, content_start, depth_of, excerpt, indent_of, quoted

_LONGEST = 200
"""Lines that a quoted text may go over; a longer one is looked at as if it were left open."""
_INSIDE = {'"': re.compile(r'(?:[^"\\]|\\.)*'), "'": re.compile(r"(?:[^']|'')*")}
# What stands before a quotation mark that opens a text between brackets.
_BEFORE_TEXT = re.compile(r"(?:[,\[{]\s*|:\s+)\Z")
_TEXT_END = re.compile(r"\s*(?:[,\]}]|$)")

_KEY_END = re.compile(r":(?=\s|$)")


def end_of(at: Break, number: int, column: int) -> tuple[int, int] | None:
    """Line from 1 and column from 0 behind the mark that closes the one at that place; None where it is left open.

    A text may go over several lines. It is taken to be left open where one of them begins no deeper than the line
    that it began in, as the next key or entry does.
    """
    line = at.text(number)
    mark, indent = line[column], depth_of(line)
    inside = _INSIDE[mark]
    start = column + 1
    for below in range(number, min(number + _LONGEST, len(at.lines)) + 1):
        text = at.text(below)
        if below > number:
            if text.strip() and indent_of(text) <= indent:
                return None
            start = 0
        end = inside.match(text, start).end()  # type: ignore[union-attr]
        if text[end : end + 1] == mark:
            return below, end + 1
    return None


def meant_end(line: str, column: int, *, within: bool) -> int:
    """The column, from 0, at which a text whose mark is left open may have been meant to end."""
    if within:
        end = _TEXT_END.search(line, column + 1)
    else:
        end = _KEY_END.search(line, column + 1) if column == content_start(line) else None
    return end.start() if end else len(line.rstrip())


def left_open(at: Break, number: int, column: int, *, within: bool) -> Slip:
    """A quotation mark that nothing closes, at the column, from 0, of the line; within brackets or not."""
    line = at.text(number)
    stop = meant_end(line, column, within=within)
    text, mark = line[column:stop], line[column]
    message = f"the quotation mark {mark} in column {column + 1} is not closed"
    hint = f"close it behind the text: {excerpt(text)}{mark}"
    mended = {number: f"{line[:column]}{text}{mark}{line[stop:]}"}
    return Slip(number, column + 1, message, hint, mended, swallows=True)


def text_behind(at: Break, opened: tuple[int, int], number: int, column: int, *, within: bool) -> Iterator[Slip]:
    """Slips that make a text go on behind the mark that closes it, within brackets or not.

    That mark stands on the line of the number, before the column, which counts from 0 as that of the opening mark does.
    """
    if opened[0] < number:
        yield left_open(at, *opened, within=within)
        return
    line, start = at.text(number), opened[1]
    mark = line[start]
    if within and _BEFORE_TEXT.search(line[start : column - 1]):
        # the mark that ends this text is meant to open the next one
        yield left_open(at, number, start, within=True)
    last = line.rfind(mark)
    if last >= column:
        # a text in quotation marks that holds such a mark itself
        what = "an apostrophe" if mark == "'" and line[column : column + 1].isalpha() else f"the mark {mark}"
        message = f"{what} ends the text {excerpt(line[start:column])} here"
        text = quoted(line[start + 1 : last].replace("''", "'") if mark == "'" else line[start + 1 : last])
        hint = f"put the text in the other quotation marks: {excerpt(text)}"
        yield Slip(number, column, message, hint, {number: f"{line[:start]}{text}{line[last + 1 :]}"})
    elif not within:
        rest = line[start:].rstrip()
        message = f"goes on behind the quotation mark that closes {excerpt(line[start:column])}"
        hint = f"put the whole text in quotes: {excerpt(quoted(rest))}"
        yield Slip(number, column + 1, message, hint, {number: f"{line[:start]}{quoted(rest)}"})
