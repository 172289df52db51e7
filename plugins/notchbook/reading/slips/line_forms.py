"""Lines of keys and entries whose colon, dash or space is missing or another sign."""

import re
from collections.abc import Iterator

from notchbook.reading.slips.slip import KEY, Break, Slip, content_start, excerpt, first_letter, indent_of, quoted

_NAME = r"[A-Za-z_][\w.-]*"
_NO_SPACE = re.compile(rf"(?P<key>{_NAME}|\"[^\"]*\"):(?P<value>[^\s:/].*)$")
_NO_SPACE_DASH = re.compile(r" *(?:- +)*(?P<dash>-)(?=[^\s-])")
_OTHER_SIGN = re.compile(rf"(?P<key>{_NAME})\s*(?P<sign>=>|:=|->|=|;)\s*(?P<value>\S.*)$")
_NO_COLON = re.compile(rf"(?P<key>{_NAME})(?:\s+(?P<value>\S.*))?$")
_OTHER_REMARK = re.compile(r"//|/\*|<!--|--(?=\s)|;|%(?=\s)")
_REMARK = re.compile(r"\s+#.*$")


def _slip(number: int, column: int, message: str, mended: str, start: int) -> Slip:
    """A slip that is mended by writing the line otherwise from a column on, which counts from 0."""
    return Slip(number, column, message, f"write {excerpt(mended[start:])}", {number: mended})


def space_behind_colon(at: Break) -> Iterator[Slip]:
    """A key whose value follows its colon at once."""
    for number, line in at.near_lines():
        if form := _NO_SPACE.match(line, content_start(line)):
            mended = f"{line[: form.start('value')]} {form['value']}"
            message = f"has no space behind the colon of '{form['key']}', and so it is no key"
            yield _slip(number, form.start("value"), message, mended, form.start())


def space_behind_dash(at: Break) -> Iterator[Slip]:
    """A list entry whose text follows its dash at once."""
    for number, line in at.near_lines():
        if form := _NO_SPACE_DASH.match(line):
            mended = f"{line[: form.end()]} {line[form.end() :]}"
            message = "has no space behind the dash of a list entry"
            yield _slip(number, form.start("dash") + 1, message, mended, form.start("dash"))


def other_sign_for_colon(at: Break) -> Iterator[Slip]:
    """A key with an equals sign or an arrow in the place of its colon."""
    for number, line in at.near_lines():
        if form := _OTHER_SIGN.match(line, content_start(line)):
            mended = f"{line[: form.start()]}{form['key']}: {form['value']}"
            message = f"has {form['sign']} behind '{form['key']}', where a colon belongs"
            yield _slip(number, form.start("sign") + 1, message, mended, form.start())


def no_colon(at: Break) -> Iterator[Slip]:
    """A line that begins with a word and has no colon at all."""
    if at.begun is None or at.begun[0] not in at.near[:1]:
        return
    number, line = at.begun[0], at.text(at.begun[0])
    if form := _NO_COLON.match(line, content_start(line)):
        value = f" {form['value']}" if form["value"] else ""
        mended = f"{line[: form.start()]}{form['key']}:{value}"
        message = f"has no colon behind '{form['key']}'"
        yield _slip(number, form.end("key") + 1, message, mended, form.start())


def no_dash(at: Break) -> Iterator[Slip]:
    """A text without a dash in the column of the dashes above it."""
    for number, line in at.near_lines():
        indent = indent_of(line)
        if KEY.match(line, indent):
            continue
        above = next((each for each in at.near if each < number and at.text(each).startswith("- ", indent)), None)
        if above is not None and line[indent : indent + 1] != "-":
            mended = f"{line[:indent]}- {line[indent:]}"
            message = f"begins under the dash of line {above} and has no dash itself"
            hint = f"write {excerpt(mended)}, or begin further in what goes on with the entry above"
            yield Slip(number, indent + 1, message, hint, {number: mended})


def colon_in_text(at: Break) -> Iterator[Slip]:
    """A text without quotation marks that holds a colon with a space behind it."""
    for number, line in at.near_lines():
        start = content_start(line)
        key = KEY.match(line, start)
        remark = _REMARK.search(line)
        end = remark.start() if remark else len(line)
        starts = [start]
        if key and line[key.end() : end].strip():
            value = first_letter(line, key.end())
            starts = [value, start] if start > indent_of(line) else [value]
        for begins in starts:
            text = line[begins:end].rstrip()
            colon = re.search(r":(?=\s|$)", text)
            if not colon or text[0] in "\"'[{":
                continue
            mended = f"{line[:begins]}{quoted(text)}{line[end:]}"
            message = (
                f"the text {excerpt(text)} holds a colon with a space behind it, and stands without quotation marks"
            )
            yield _slip(number, begins + colon.start() + 1, message, mended, start)


def remark_of_another_language(at: Break) -> Iterator[Slip]:
    """A remark that begins otherwise than with a number sign."""
    for number, line in at.near_lines():
        if sign := _OTHER_REMARK.match(line, indent_of(line)):
            mended = f"{line[: sign.start()]}# {line[sign.end() :].strip()}"
            message = f"begins with {sign.group()}, which is no remark here"
            yield Slip(number, sign.start() + 1, message, f"begin a remark with #: {excerpt(mended)}", {number: mended})
