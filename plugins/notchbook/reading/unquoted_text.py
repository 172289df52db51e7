"""Texts without quotation marks that a file in order holds otherwise than somebody may have meant them.

The file can be read and its schema refuses nothing, so these are the only slips that would be published. Every file is
looked at, which costs a few searches for single signs; only where one is found is more done.
"""

import re
from collections.abc import Iterator

from yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from notchbook.findings import Finding, Severity
from notchbook.reading import rules
from notchbook.reading.document import MOST_FINDINGS, finding_of
from notchbook.reading.nodes import compose, place_at
from notchbook.reading.slips.slip import KEY, content_start, excerpt, indent_of, lines_of, quoted, structure_of
from notchbook.wording.lists import counted

_MAYBE_REMARK = re.compile(r" #\w")
_REMARK_AT_ONCE = re.compile(r"(?<=\S) #(?=\w)")
# An entry without quotation marks, and below it a dash that stands deeper.
_DEEPER_DASH = re.compile(r"\n( *)- [^\"'\[{|>#\n](?:[^\n]*[^\n:|>+-])?\n\1 +- ")
_CURLY_WORD = re.compile(r"(?:[:,\[{] *|- +)(?P<text>[“„”][\w.-]+[“”])(?=\s*(?:[,\]}]|$))", re.MULTILINE)


def findings(path: str, text: str) -> list[Finding]:
    """Warnings about the texts of a file that is in order."""
    found: list[Finding] = []
    if _MAYBE_REMARK.search(text):
        found += _cut_off(path, text)
    if "“" in text or "”" in text or "„" in text:
        found += _in_curly_quotes(path, text)
    if _DEEPER_DASH.search(text):
        found += _run_together(path, text)
    return found[:MOST_FINDINGS]


def _cut_off(path: str, text: str) -> Iterator[Finding]:
    """Text that a number sign without a space behind it turns into a remark."""
    lines = lines_of(text)
    structure = structure_of(lines)
    for number, line in enumerate(lines, start=1):
        sign = _REMARK_AT_ONCE.search(line) if structure[number - 1] else None
        if sign is None or "#" in line[: sign.start()]:
            continue
        start = content_start(line)
        key = KEY.match(line, start)
        value = line[key.end() if key else start : sign.start()].strip()
        if (
            not value
            or value[0] in "\"'[{|>"
            or not re.search(r"[^\W\d_]", value)
            or line[sign.start() - 1 : sign.start()] in ",{["
        ):
            continue
        rest = line[sign.end() - 1 :].strip()
        message = f"'{excerpt(rest)}' is left out: a # behind a space begins a remark"
        whole = quoted(f"{value} {rest}")
        hint = f"put the whole text in quotes: {excerpt(whole)}, or write a space behind the # of a remark"
        # `bar #3` is text nearly always, `#see the sheet` may be a remark written close
        severity = Severity.WARNING if rest[1:2].isdecimal() else Severity.NOTE
        yield finding_of(rules.UNQUOTED_TEXT, path, (number, sign.end()), message, hint, severity)


def _in_curly_quotes(path: str, text: str) -> Iterator[Finding]:
    """Words in the quotation marks of a word processor, which become part of them."""
    for word in _CURLY_WORD.finditer(text):
        message = f"the quotation marks of {word['text']} are those of a word processor and become part of the text"
        hint = f'write straight ones: "{word["text"][1:-1]}"'
        yield finding_of(rules.UNQUOTED_TEXT, path, place_at(text, word.start("text")), message, hint)


def _run_together(path: str, text: str) -> Iterator[Finding]:
    """Entries of a list that stand deeper than the one before them, and so go on with its text."""
    lines = lines_of(text)
    for node, is_alone in _entries(compose(text)):
        below = range(node.start_mark.line + 1, node.end_mark.line + 1)
        dashed = [number for number in below if lines[number].lstrip().startswith("- ")]
        first = lines[node.start_mark.line].find("-")
        depths = [indent_of(lines[number]) for number in dashed]
        if is_alone and dashed and (len(dashed) > 1 or depths[0] % 2 < first % 2):
            # the entries below stand as one list: it is the first that is out of it
            message = "has its dash further out than the entries below, which go on with its text for that reason"
            place = (node.start_mark.line + 1, first + 1)
            yield finding_of(rules.UNQUOTED_TEXT, path, place, message, _dash_at(depths[0]))
            continue
        for number, depth in zip(dashed, depths, strict=True):
            message = "goes on with the text of the entry above, because its dash stands further in"
            yield finding_of(rules.UNQUOTED_TEXT, path, (number + 1, depth + 1), message, _dash_at(first))


def _dash_at(depth: int) -> str:
    return f"begin the line with {counted(depth, 'space')}, or put the whole text in quotes"


def _entries(node: Node | None) -> Iterator[tuple[ScalarNode, bool]]:
    """Entries of lists that are unquoted texts over several lines, and whether each is the only one of its list."""
    todo = [node]
    while todo:
        place = todo.pop()
        if isinstance(place, MappingNode):
            todo += [value for _, value in place.value]
        elif isinstance(place, SequenceNode):
            for each in place.value:
                if not isinstance(each, ScalarNode):
                    todo.append(each)
                elif not place.flow_style and not each.style and each.end_mark.line > each.start_mark.line:
                    yield each, len(place.value) == 1
