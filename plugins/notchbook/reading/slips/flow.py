"""A walk through the brackets and quotation marks before the break, and what it stumbles over."""

import re
from collections.abc import Iterable, Iterator

from notchbook.reading.slips import brackets, quotes
from notchbook.reading.slips.brackets import CLOSING, Opening
from notchbook.reading.slips.slip import KEY, Break, Slip, content_start, first_letter, indent_of

_PLACES = 6
"""At which the walk stumbled that are looked at, of those nearest to the break."""
_SIGN = re.compile(r"""["'\[\]{},]|:(?=[\s,\[\]{}"']|$)|(?:^|(?<=\s))\#""")
# What a value and the next key look like where no comma stands between them.
_TWO_ENTRIES = re.compile(r"(?P<value>.*?)(?P<gap>\s*;\s*|\s+)(?P<key>[\w.-]+)\s*\Z")


def brackets_and_quotes(at: Break) -> Iterator[Slip]:
    """What is open, left over or missing between brackets and in quotation marks before the break."""
    walk = _Walk(at)
    walk.go()
    for slips in reversed(walk.found[-_PLACES:]):
        yield from slips


class _Walk:
    """The brackets and quotation marks of the lines up to the break; columns count from 0 here."""

    def __init__(self, at: Break) -> None:
        self.at = at
        self.found: list[tuple[Slip, ...]] = []
        """By place: the slips that may have been made there, the likeliest first."""
        self.open: list[Opening] = []
        self.number, self.line, self.column = 0, "", 0
        self.last = 0
        """The last line with something in it."""
        self.is_fresh = True
        """Whether a key or a value may begin here."""
        self.has_colon = False
        """Whether the entry has had the colon of its key."""
        self.value_at = (0, 0)
        """Line and column where the value begins."""
        self.is_closed = False
        """Whether a quoted text or a bracket has ended the value."""
        self.quote: tuple[int, int] | None = None
        """Line and column of the mark that opened the last quoted text."""
        self.resume: tuple[int, int] | None = None
        """Line and column where a quoted text over several lines ends."""

    def go(self) -> None:
        """Walk to the line of the break."""
        for number in range(1, min(self.at.line, len(self.at.lines)) + 1):
            self.number, self.line = number, self.at.text(number)
            if self.resume is not None:
                if number == self.resume[0]:
                    self.column, self.resume, self.last = self.resume[1], None, number
                    self._within() if self.open else self._behind_value()
                continue
            content = self.line.strip()
            if not content or content.startswith("#") or not self.at.structure[number - 1]:
                continue
            if self.open and indent_of(self.line) <= self.open[0].indent and content[0] not in "]}":
                self._left_open()
            self.column = indent_of(self.line)
            if not self.open:
                self._begin()
            else:
                if self.is_closed and content[0] not in ",]}:":
                    self._tell([brackets.no_comma_at_end(self.last, self.at.text(self.last))])
                    self._entry()
                self._within()
            self.last = number
        if self.open and self.at.line >= len(self.at.lines):
            self._left_open()

    def _tell(self, slips: Iterable[Slip]) -> None:
        told = tuple(slips)
        if told:
            self.found.append(told)

    def _entry(self) -> None:
        self.has_colon, self.is_closed, self.is_fresh = False, False, True
        self.value_at = (self.number, self.column)

    def _begin(self) -> None:
        """Walk through a line outside brackets."""
        self._entry()
        start = content_start(self.line)
        key = KEY.match(self.line, start)
        self.column = first_letter(self.line, key.end()) if key else start
        sign = self.line[self.column : self.column + 1]
        if sign in CLOSING:
            self._within()
        elif sign and sign in "\"'":
            self._quoted()
            if self.is_closed and self.resume is None:
                self._behind_value()
        else:
            self._tell(brackets.not_opened(self.number, self.line, (start, self.column)))

    def _quoted(self) -> None:
        """Walk through a quoted text; one that is left open ends where it may have been meant to."""
        column, self.quote = self.column, (self.number, self.column)
        end = quotes.end_of(self.at, self.number, column)
        self.is_closed, self.is_fresh = True, False
        if end is None:
            self._tell([quotes.left_open(self.at, self.number, column, within=bool(self.open))])
            self.column = quotes.meant_end(self.line, column, within=bool(self.open))
        elif end[0] > self.number:
            self.resume = end
        else:
            self.column = end[1]

    def _within(self) -> None:
        """Walk on between brackets to the end of the line, or to where the last of them closes."""
        while sign := _SIGN.search(self.line, self.column):
            self._text_before(sign.start())
            self.column = sign.start()
            mark = sign.group()
            if mark == "#":
                return
            if mark in "\"'":
                if self.is_closed:
                    self._behind_closed()
                if self.is_fresh:
                    self._quoted()
                else:
                    self.column += 1
                if self.resume is not None:
                    return
            else:
                self._bracket_or_comma(mark)
                if not self.open:
                    self._behind_value()
                    return
        self._text_before(len(self.line))

    def _bracket_or_comma(self, mark: str) -> None:
        if mark in CLOSING:
            if re.search(r"[^\s\"']:\Z", self.line[: self.column]):
                self._tell([brackets.no_space(self.number, self.line, self.column)])
            self.open.append(Opening(mark, self.number, self.column, indent_of(self.line)))
        elif mark in "]}":
            self._close(mark)
        elif mark == ":":
            self._colon()
        self.column += 1
        if mark in "[{,":
            self._entry()

    def _text_before(self, column: int) -> None:
        if self.line[self.column : column].strip():
            if self.is_closed:
                self._behind_closed()
            self.is_fresh = self.is_closed = False

    def _close(self, mark: str) -> None:
        self._tell(brackets.other_closing(self.number, self.line, self.column, mark, self.open))
        if any(CLOSING[each.sign] == mark for each in self.open):
            while CLOSING[self.open[-1].sign] != mark:
                self.open.pop()
        self.open.pop()
        self.has_colon, self.is_closed, self.is_fresh = True, True, False

    def _left_open(self) -> None:
        self._tell([brackets.left_open(self.last, self.at.text(self.last), self.open)])
        self.open.clear()

    def _colon(self) -> None:
        if self.has_colon:
            start = self.value_at[1] if self.value_at[0] == self.number else indent_of(self.line)
            two = _TWO_ENTRIES.match(self.line[start : self.column])
            slips = []
            if two and (two["value"].strip() or ";" in two["gap"]):
                gap = (start + two.start("gap"), start + two.end("gap"))
                slips.append(brackets.no_comma(self.number, self.line, gap, two["key"]))
            elif self.value_at[0] < self.number:
                slips.append(brackets.no_comma_at_end(self.last, self.at.text(self.last)))
            slips.append(brackets.colon_in_text(self.number, self.line, start, self.column))
            self._tell(slips)
        self.has_colon, self.is_fresh, self.is_closed = True, True, False
        self.value_at = (self.number, self.column + 1)

    def _behind_closed(self) -> None:
        """Something stands behind a quoted text or a bracket, where only a comma can."""
        slips = [*quotes.text_behind(self.at, self.quote, self.number, self.column, within=True)] if self.quote else []
        word = re.compile(r"(?P<gap>\s*;?\s*)(?P<key>[\w.\"'-]+)").match(self.line, self.column)
        if word:
            slips.append(brackets.no_comma(self.number, self.line, word.span("gap"), word["key"].strip("\"'")))
        self._tell(slips)
        self._entry()

    def _behind_value(self) -> None:
        """Look at what stands behind a quoted text or a closed bracket at the end of a line of keys."""
        rest = self.line[self.column :].strip()
        if rest and not rest.startswith((":", "#")):
            start = content_start(self.line)
            key = KEY.match(self.line, start)
            slips = [*brackets.not_opened(self.number, self.line, (start, key.end() if key else start))]
            if self.line[self.column - 1] in "\"'" and self.quote is not None:
                slips += quotes.text_behind(self.at, self.quote, self.number, self.column, within=False)
            slips.append(brackets.left_over(self.number, self.line, self.column))
            self._tell(slips)
        self._entry()
