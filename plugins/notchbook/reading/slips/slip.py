"""A slip that may explain why a file is no YAML, and the break that it has to explain."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

import yaml

from notchbook.reading.nodes import LINE_BREAK, start_of
from notchbook.wording.quoting import cut

_INDENT = re.compile(r"[ \t]*")
_DASHES = re.compile(r" *(?:- +)*")
KEY = re.compile(
    r"""(?P<key>"[^"]*"|'[^']*'|[^\s"'\[\]{},#&*!|>%@`:-](?:[^\s:#]|:(?=\S)|(?<=\S)\#| (?=[^\s:#]))*?) *:(?=\s|$)"""
)
"""A key and its colon, where a key may begin."""
_LINES_ABOVE = 6
# `key: |` or `- >-`, behind which deeper lines are text.
_BLOCK_SIGN = re.compile(r"(?:^|[\s:-])[|>][-+0-9]*\s*(?:\s#.*)?$")


@dataclass(frozen=True, slots=True)
class Slip:
    """A slip that may have been made, and the file without it."""

    line: int
    """From 1."""
    column: int
    """From 1, in characters."""
    message: str
    hint: str
    mended: Mapping[int, str]
    """The lines that a mend changes, by their numbers from 1; as many lines as before, so that places stay."""
    swallows: bool = False
    """Whether lines below it were taken for its text, so that the break stands nowhere near it."""


@dataclass(frozen=True, slots=True)
class Break:
    """The place at which libyaml gave up, and the lines around it."""

    lines: list[str]
    """Without their line breaks."""
    problem: str
    """What libyaml says, for the slips that it names itself."""
    line: int
    """From 1; at the slip or behind it, never before it."""
    column: int
    begun: tuple[int, int] | None
    """Line and column, from 1, of what libyaml was reading, where it says so."""
    structure: bytearray
    """By line from 0: whether it is one of keys and entries, and not inside a text over several lines."""
    near: list[int] = field(default_factory=list)
    """Numbers, from 1, of the lines of keys and entries at the break, the likeliest first."""

    def text(self, number: int) -> str:
        """The line of that number; nothing past the end."""
        return self.lines[number - 1] if 0 < number <= len(self.lines) else ""

    def near_lines(self) -> Iterator[tuple[int, str]]:
        """Number and text of each line near the break."""
        return ((number, self.text(number)) for number in self.near)


def lines_of(text: str) -> list[str]:
    """The lines of a text, without their breaks."""
    return LINE_BREAK.split(text)


def place_of(error: yaml.MarkedYAMLError) -> tuple[int, int]:
    """Line and column, from 1, where libyaml gave up."""
    return start_of(error.problem_mark or error.context_mark)


def reached_in(error: yaml.MarkedYAMLError) -> tuple[int, int]:
    """Line and column, from 1, to which libyaml could make sense of the text."""
    if error.context_mark is not None and (error.context or "").startswith("while scanning"):
        return start_of(error.context_mark)
    return place_of(error)


def indent_of(line: str) -> int:
    """The number of spaces and tabs that the line begins with."""
    return _INDENT.match(line).end()  # type: ignore[union-attr]


def content_start(line: str) -> int:
    """Where a line's key or text begins, behind its spaces and the dashes of list entries."""
    return _DASHES.match(line).end()  # type: ignore[union-attr]


def depth_of(line: str) -> int:
    """The column, from 0, than which a text that goes on below has to begin deeper: that of the key, or of the dash."""
    start = content_start(line)
    return start if KEY.match(line, start) else indent_of(line)


def first_letter(line: str, column: int) -> int:
    """The column, from 0, of the first character from there on that is no space; the end of the line without one."""
    return len(line) - len(line[column:].lstrip())


def excerpt(text: str) -> str:
    """A piece of a line, cut to a length that fits a message."""
    return cut(text.strip())


def quoted(text: str) -> str:
    """The text as a quoted one in YAML, in the kind of quotation marks that it does not hold itself."""
    text = text.strip()
    if '"' in text or "\\" in text:
        return "'" + text.replace("'", "''") + "'"
    return f'"{text}"'


def break_of(lines: list[str], error: yaml.MarkedYAMLError) -> Break:
    """Where libyaml gave up in these lines."""
    line, column = place_of(error)
    begun = start_of(error.context_mark) if error.context_mark is not None else None
    at = Break(lines, error.problem or "", line, column, begun, structure_of(lines))
    if begun is not None and "simple key" in (error.context or ""):
        at.near.append(begun[0])
    at.near.extend(number for number in _lines_above(at) if number not in at.near)
    return at


def _lines_above(at: Break) -> Iterator[int]:
    """The line of the break and those closely above it, and further up each that begins further out than those between.

    Among these is the first line of the block that the line of the break does not go on with.
    """
    number, count, outmost = min(at.line, len(at.lines)), 0, 1 << 30
    while number > 0 and (count < _LINES_ABOVE or outmost > 0):
        line = at.text(number)
        if at.structure[number - 1] and line.strip() and not line.lstrip().startswith("#"):
            count += 1
            if count <= _LINES_ABOVE or indent_of(line) < outmost:
                yield number
            if count > 1:
                outmost = min(outmost, indent_of(line))
        number -= 1


def structure_of(lines: list[str]) -> bytearray:
    """By line: false inside the texts that begin on the line behind `|` or `>`."""
    structure = bytearray(b"\1") * len(lines)
    # the depth of the first line of a text holds for those below it
    parent: int | None = None
    least = 0
    for index, line in enumerate(lines):
        if parent is not None:
            if not line.strip() or indent_of(line) >= least:
                least = least if least > parent + 1 or not line.strip() else indent_of(line)
                structure[index] = 0
                continue
            parent = None
        if _BLOCK_SIGN.search(line) and not line.lstrip().startswith("#"):
            parent = depth_of(line)
            least = parent + 1
    return structure
