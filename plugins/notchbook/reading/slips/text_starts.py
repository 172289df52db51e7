"""Texts without quotation marks that begin with a sign that means something else there."""

import re
from collections.abc import Iterator

from notchbook.reading.slips.slip import KEY, Break, Slip, content_start, excerpt, first_letter, quoted

_STARTS = "%@`*&!?|>"
_WITHIN = re.compile(
    r"(?<=[,\[{])\s*(?:(?P<key>[\w.-]+):\s+)?(?P<text>[%@`*&!?|>][^,\]}]*)|:\s+(?P<other>[%@`*&!?|>][^,\]}]*)"
)
_BLOCK = re.compile(r"(?P<sign>[|>])(?P<how>[-+0-9]*)\s+(?P<text>[^\s#].*)$")
_REMARK = re.compile(r"\s+#.*$")


def sign_at_the_start(at: Break) -> Iterator[Slip]:
    """A value that begins with a sign with which no text can begin."""
    for number, text in at.near_lines():
        line = _REMARK.sub("", text)
        start = content_start(line)
        key = KEY.match(line, start)
        value = first_letter(line, key.end()) if key else start
        begins = line[value : value + 1]
        if begins and begins in _STARTS:
            yield _slip(number, text, value, line[value:].rstrip(), line[start:value])
        elif begins and begins in "[{":
            for found in _WITHIN.finditer(line, value):
                group = "text" if found["text"] else "other"
                yield _slip(number, text, found.start(group), found[group].rstrip(), "")


def _slip(number: int, line: str, column: int, text: str, before: str) -> Slip:
    mended = f"{line[:column]}{quoted(text)}{line[column + len(text) :]}"
    message = f"a text cannot begin with {text[0]} unless it stands in quotation marks"
    return Slip(number, column + 1, message, f"write {excerpt(before + quoted(text))}", {number: mended})


def text_behind_block_sign(at: Break) -> Iterator[Slip]:
    """A text on the very line of `|` or `>`, behind which it begins on the next one."""
    for number, line in at.near_lines():
        key = KEY.match(line, content_start(line))
        if not key:
            continue
        if form := _BLOCK.match(line, first_letter(line, key.end())):
            message = f"has text behind the {form['sign']} that begins a text on the line below"
            whole = line[key.start() : form.start()] + quoted(form["text"])
            hint = f"begin the text on a line of its own, or write {excerpt(whole)}"
            mended = f"{line[: form.start()]}{form['sign']}{form['how']}  # {form['text']}"
            alone = f"{line[: form.start()]}{quoted(form['text'])}"
            for each in (alone, mended):
                yield Slip(number, form.start("text") + 1, message, hint, {number: each})


def backslash(at: Break) -> Iterator[Slip]:
    """A backslash in "double" quotes that is meant as itself."""
    if "escape" not in at.problem:
        return
    line = at.text(at.line)
    column = line.rfind("\\", 0, at.column)
    start, end = line.rfind('"', 0, max(column, 0)), line.find('"', column + 1)
    if column < 0 or start < 0 or end < 0:
        return
    text = quoted(line[start + 1 : end])
    message = 'has a backslash between "double" quotation marks, where it changes what the next letter means'
    mended = f"{line[:start]}{text}{line[end + 1 :]}"
    yield Slip(at.line, column + 1, message, f"write {excerpt(text)}", {at.line: mended})
