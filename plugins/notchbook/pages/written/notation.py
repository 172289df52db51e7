"""Where the notation of hand-written pages stands in a text; code and comments are left alone.

One way through the text, whatever it holds: an opening without an end is looked for once, not from every place.
"""

import re
from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

FORM = "[[kind id: value]]"

_OPENING = re.compile(
    r"(?P<fence>^(?P<marks>`{3,}|~{3,})[^\n]*\n)"
    r"|(?P<ticks>`+)"
    r"|(?P<comment><!--)"
    r"|(?P<value>\[\[(?P<inside>[^\[\]\n]*)\]\])"
    r"|(?P<block>\$\$)"
    r"|(?<![\\$\w])\$(?P<inline>(?!\s)[^$\n]+?(?<![\s\\]))\$(?![\d$])",
    re.MULTILINE,
)
_TICKS = re.compile("`+")
_NOT_BREAK = re.compile(r"[^\n]")


@dataclass(frozen=True, slots=True)
class Piece:
    """One value or formula in the text."""

    kind: Literal["value", "block", "inline"]
    start: int
    """Where it begins in the text, from 0, with its marks."""
    end: int
    inside: str
    """What stands between the marks."""
    inside_start: int


class _Text:
    """A text, and what was found out about it."""

    def __init__(self, text: str) -> None:
        self.text = text
        self._never: set[str] = set()
        self._ticks: dict[int, list[int]] | None = None

    def find(self, mark: str, start: int) -> int:
        """Where the mark stands next; -1 for nowhere, which holds for all that comes later."""
        if mark in self._never:
            return -1
        found = self.text.find(mark, start)
        if found < 0:
            self._never.add(mark)
        return found

    def end_of_fence(self, marks: str, start: int) -> int:
        """The end of a fence; one that is never closed takes the rest."""
        closing = re.compile(rf"^{marks}[ \t]*$", re.MULTILINE).search(self.text, start)
        return closing.end() if closing else len(self.text)

    def end_of_span(self, start: int, end: int) -> int:
        """The end of code in a line, closed by as many backticks as opened it, or by as many of the last of them.

        Where nothing closes it, the end of the backticks themselves.
        """
        if self._ticks is None:
            self._ticks = {}
            for run in _TICKS.finditer(self.text):
                self._ticks.setdefault(run.end() - run.start(), []).append(run.start())
        for length in range(end - start, 0, -1):
            runs = self._ticks.get(length, [])
            index = bisect_left(runs, end)
            if index < len(runs):
                return runs[index] + length
        return end


def pieces(markdown: str) -> Iterator[Piece]:
    """Every value and formula of the text, in its order."""
    return (each for each in _parts(markdown) if isinstance(each, Piece))


def without_code(markdown: str) -> str:
    """The text with spaces in place of its code and comments, so that every other character stands where it stood."""
    parts, end = [], 0
    for each in _parts(markdown):
        if not isinstance(each, Piece):
            start, stop = each
            parts += [markdown[end:start], _NOT_BREAK.sub(" ", markdown[start:stop])]
            end = stop
    return "".join([*parts, markdown[end:]])


def _parts(markdown: str) -> Iterator[Piece | tuple[int, int]]:
    """Every value and formula, and where each piece of code or comment begins and ends."""
    text = _Text(markdown)
    found = _OPENING.search(markdown)
    while found:
        end = found.end()
        if found["fence"] is not None:
            end = text.end_of_fence(found["marks"], end)
            yield found.start(), end
        elif found["ticks"] is not None:
            end = text.end_of_span(found.start(), end)
            yield found.start(), end
        elif found["comment"] is not None:
            closing = text.find("-->", end)
            end = closing + len("-->") if closing >= 0 else end
            yield found.start(), end
        elif found["value"] is not None:
            yield Piece("value", found.start(), end, found["inside"], found.start("inside"))
        elif found["inline"] is not None:
            yield Piece("inline", found.start(), end, found["inline"], found.start("inline"))
        else:
            closing = text.find("$$", end + 1)
            if closing >= 0:
                yield Piece("block", found.start(), closing + len("$$"), markdown[end:closing], end)
                end = closing + len("$$")
        found = _OPENING.search(markdown, end)
