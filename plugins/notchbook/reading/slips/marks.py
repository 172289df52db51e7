"""Marks that a text brings along from elsewhere: a page, a merge, a word processor."""

import re
from collections.abc import Iterator

from notchbook.reading.lookalikes import ODD_SPACE, described, plain_form
from notchbook.reading.slips.indents import depths_around
from notchbook.reading.slips.slip import KEY, Break, Slip, excerpt, indent_of
from notchbook.wording.lists import counted

_FENCE = re.compile(r"\s*(?:`{3,}|~{3,})[\w -]*$")
_MERGE = re.compile(r"(?P<sign>[<=>|])(?P=sign){6}(?:\s|$)")
_TAB_IN_INDENT = re.compile(r"[ -]*\t")
_ODD_SPACE_IN_PLACE = re.compile(
    rf"^[ \t]*(?:- *)*(?P<indent>{ODD_SPACE.pattern})|:(?P<behind>{ODD_SPACE.pattern})|(?P<before>{ODD_SPACE.pattern}):"
)
# A dash or a bullet of a word processor, and Markdown's own, where a list entry begins.
_BULLET = re.compile(r"[ \t]*(?P<sign>[–—−‐‑•·◦▪*+])[ \t\u00a0]+(?=\S)")
_WIDE_SIGN = re.compile("[：；，｛｝［］＂＇]")
_CURLY = re.compile("[“”„‟‘’‚‛«»]")
_CURLY_TEXT = re.compile(r"(?:(?<=[:,\[{-] )|(?<=[\[{,])|^) *(?P<open>[“”„‟«])(?P<text>[^“”„‟«»\n]*)(?P<close>[“”»])")


def pasted_fence(at: Break) -> Iterator[Slip]:
    """The lines that mark a block of code on a page or in a chat."""
    fences = [number for number, line in enumerate(at.lines, start=1) if line[:1] in "`~ " and _FENCE.match(line)]
    if not fences or len(fences) > 2:
        return
    line = at.text(fences[0])
    message = (
        f"begins a line with {line.strip()[:3]}, which marks a block of text where it was copied from and is no data"
    )
    hint = f"delete line {fences[0]}" if len(fences) == 1 else f"delete the lines {fences[0]} and {fences[1]}"
    yield Slip(fences[0], indent_of(line) + 1, message, hint, dict.fromkeys(fences, ""))


def merge_marks(at: Break) -> Iterator[Slip]:
    """The marks that a merge leaves round the two versions of the same lines."""
    marks: list[tuple[int, str]] = []
    for number, line in enumerate(at.lines, start=1):
        if mark := _MERGE.match(line):
            marks.append((number, mark["sign"]))
            if mark["sign"] == ">":
                break
    if not marks:
        return
    first, last = marks[0][0], marks[-1][0]
    mended, signs = dict.fromkeys((number for number, _ in marks), ""), [sign for _, sign in marks]
    if signs[0] == "<" and signs[-1] == ">":
        # the second version is dropped, for the rest of the file to be read
        second = next((number for number, sign in marks if sign in "|="), last)
        mended |= dict.fromkeys(range(second, last + 1), "")
        message = f"holds two versions of the same lines, down to line {last}, that a merge could not make one of"
        hint = "keep one of the two and delete the other, with the lines that begin <<<<<<<, ======= and >>>>>>>"
    else:
        message = f"holds the mark {at.text(first)[:7]}, which a merge left behind"
        hint = "delete the line, and see whether lines stand twice around it"
    yield Slip(first, 1, message, hint, mended)


def tab_in_indent(at: Break) -> Iterator[Slip]:
    """Tabs before a key or behind a dash, where only spaces show how deep a line is."""
    tabbed = [
        number
        for number in range(1, len(at.lines) + 1)
        if _TAB_IN_INDENT.match(at.text(number)) and at.structure[number - 1] and at.text(number).strip()
    ]
    before = [number for number in tabbed if number <= at.line]
    if not before:
        return
    message = "has a tab before its first letter; how deep a line stands is shown by spaces alone"
    widths = [{number: at.text(number).expandtabs(width) for number in tabbed} for width in (2, 4, 8)]
    for first in (before[0], before[-1]):
        line = at.text(first)
        column = line.index("\t")
        alone = [{first: " " * depth + line.lstrip()} for depth in depths_around(at, first)]
        alone += [{first: line.replace("\t", " " * width)} for width in (1, 2, 4)]
        more = len(tabbed) - 1
        hint = "write spaces in its place" + (f", here and in {counted(more, 'more line')}" if more else "")
        for mended in (*widths, *alone) if first == before[0] else alone:
            yield Slip(first, column + 1, message, hint, mended)


def odd_space(at: Break) -> Iterator[Slip]:
    """Blanks that are not the one of the space bar, where a space means something."""
    odd = []
    for number, line in enumerate(at.lines, start=1):
        found = None if line.isascii() or not at.structure[number - 1] else _ODD_SPACE_IN_PLACE.search(line)
        if found:
            odd.append((number, found.start(found.lastgroup or 0)))
    if not odd or odd[0][0] > at.line:
        return
    number, column = odd[0]
    character = at.text(number)[column]
    mended = {each: ODD_SPACE.sub(lambda one: " " if one.group().isspace() else "", at.text(each)) for each, _ in odd}
    more = len(odd) - 1
    message = f"has a character here that looks like a space and is none: {described(character)}"
    hint = "delete it and press the space bar" + (f", here and in {counted(more, 'more line')}" if more else "")
    yield Slip(number, column + 1, message, hint, mended)


def other_punctuation(at: Break) -> Iterator[Slip]:
    """Dashes, bullets, colons and quotation marks as a word processor or another keyboard writes them."""
    for number, line in at.near_lines():
        if bullet := _BULLET.match(line):
            indent = line[: bullet.start("sign")]
            mended = f"{indent}- {line[bullet.end() :]}"
            sign = f"the sign {bullet['sign']}" if bullet["sign"].isascii() else described(bullet["sign"])
            message = f"begins a list entry with {sign}"
            hint = f"begin it with a dash and a space: {excerpt(mended)}"
            yield Slip(number, bullet.start("sign") + 1, message, hint, {number: mended})
        if line.isascii():
            continue
        if wide := _WIDE_SIGN.search(line):
            mended = _WIDE_SIGN.sub(
                lambda one: plain_form(one.group()) + (" " if one.group() in "：，；" else ""), line
            )
            message = f"has the wide sign {described(wide.group())} here"
            yield Slip(number, wide.start() + 1, message, f"write {excerpt(mended)}", {number: mended})
        if curly := _CURLY.search(line):
            yield from _curly_quotes(number, line, curly.start())


def _curly_quotes(number: int, line: str, column: int) -> Iterator[Slip]:
    message = f"has a quotation mark of a word processor here: {described(line[column])}"
    key = KEY.match(line, len(line) - len(line.lstrip(" -")))
    straight = _CURLY_TEXT.sub(lambda one: one.group().replace(one["open"], '"', 1)[:-1] + '"', line)
    for mended in dict.fromkeys((straight, _CURLY.sub('"', line))):
        if mended != line:
            piece = mended[key.start() if key else 0 :]
            yield Slip(number, column + 1, message, f"write straight ones: {excerpt(piece)}", {number: mended})
