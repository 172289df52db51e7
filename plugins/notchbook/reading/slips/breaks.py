"""The break of a file with the lines around it that may hold the slip."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from notchbook.reading.nodes import start_of
from notchbook.reading.slips.slip import Break, depth_of, indent_of, place_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    import yaml

_LINES_ABOVE = 6
# `key: |` or `- >-`, behind which deeper lines are text.
_BLOCK_SIGN = re.compile(r"(?:^|[\s:-])[|>][-+0-9]*\s*(?:\s#.*)?$")


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
