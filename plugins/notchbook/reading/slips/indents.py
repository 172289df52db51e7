"""Lines that begin a space or two beside the column in which the lines of their list or mapping begin."""

from collections import Counter
from collections.abc import Iterator

from notchbook.reading.slips.slip import KEY, Break, Slip, content_start, indent_of
from notchbook.wording.lists import counted

_LINES_AROUND = 20
_FURTHEST = 6
"""Spaces by which a line may be moved."""


def uneven_indent(at: Break) -> Iterator[Slip]:
    """A line moved to where those around it begin: the one of the break first, then those above it."""
    step = _step(at)
    moves: list[tuple[int, int, int, int]] = []
    for order, number in enumerate(at.near):
        line = at.text(number)
        indent = indent_of(line)
        if "\t" in line[:indent]:
            continue
        for depth in depths_around(at, number):
            if 0 < abs(depth - indent) <= _FURTHEST:
                # a line off the steps of the file is the likelier one to be wrong, a short way the likelier mend
                uneven = int(depth % step > 0) - int(indent % step > 0)
                moves.append((uneven, order, abs(depth - indent), -depth))
    for _, order, _, further_out in sorted(moves):
        yield _moved(at, at.near[order], -further_out)


def _step(at: Break) -> int:
    """The spaces by which the file goes deeper, as most of its lines have it."""
    indents = Counter(indent_of(line) for line in at.lines[:1000] if line.strip())
    steps = {
        width: sum(count for indent, count in indents.items() if indent and indent % width == 0) for width in (2, 4)
    }
    return 4 if steps[4] and steps[4] >= steps[2] else 2


def depths_around(at: Break, number: int) -> list[int]:
    """Columns, from 0, at which lines and the keys behind their dashes begin around a line."""
    found: dict[int, None] = {}
    for each in range(max(1, number - _LINES_AROUND), min(len(at.lines), number + 3) + 1):
        line = at.text(each)
        if each == number or not line.strip() or line.lstrip().startswith("#") or not at.structure[each - 1]:
            continue
        found[indent_of(line)] = None
        found[content_start(line)] = None
        if each < number and KEY.match(line, content_start(line)):
            found[content_start(line) + 2] = None
    return list(found)


def _moved(at: Break, number: int, depth: int) -> Slip:
    line = at.text(number)
    indent, content = indent_of(line), line.strip()
    word = content.split(":")[0] if KEY.match(content) else content.split(" ")[0]
    subject = "the dash" if word == "-" else f"'{word[:30]}'"
    spaces, wanted = (counted(each, "space") if each else "no space" for each in (indent, depth))
    message = f"{subject} begins behind {spaces}, where it belongs to none of the lines above"
    return Slip(number, indent + 1, message, f"begin the line with {wanted}", {number: " " * depth + content})
