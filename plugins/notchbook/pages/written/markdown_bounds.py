"""Whether Markdown can be converted in a time that grows with its length.

Python-Markdown looks from each opening bracket to the end of its paragraph, from each sign of less to the end of the
page, and through the rest of a paragraph after each underlined heading. What is closed again is soon found; of what is
not, and of the text behind it, there may be so much that no ordinary page comes near it.
"""

import re
from collections.abc import Iterator

MOST_CHARACTERS = 200_000
"""Of a page; a printed one has some 3,000."""
_MOST_BRACKETS = 1_000_000
"""Brackets that are open at once, times characters of the paragraph, over all paragraphs."""
_MOST_OTHERS = 10_000_000
"""The same of fences, tags and underlines."""
_MOST_MARKS = 3_000_000_000
"""The same of all that Markdown has to look at, whatever it turns out to be."""
_FENCE_LINE = re.compile(r"^[ \t]*(?:`{3,}+|~{3,}+)(?P<info>[ \t]*[^\s`][^\n]*)?$", re.MULTILINE)
_FENCED = re.compile(r"^(?P<marks>`{3,}+|~{3,}+)[^\n]*\n(?:.*?\n)??(?P=marks)[ \t]*$", re.MULTILINE | re.DOTALL)
_MARK = re.compile(r"[\\`*_<&!\[]")
_NESTED = re.compile(r"^[ \t]*+(?:(?:>|[-*+][ \t]|\d{1,9}+[.)][ \t])[ \t]*+){50}", re.MULTILINE)
_UNDERLINE = re.compile(r"^[ \t>]*(?:=+|-+|[*_#+-])[ \t]*$", re.MULTILINE)
_BRACKET = re.compile(r"(?<!\\)[\[\]]")
_LINK = re.compile(r"\]\(")
_WHOLE_LINK = re.compile(
    r"\]\((?:<[^<>\n]*>|[^()<>\s\"']*(?:\([^()<>\s\"']*\)[^()<>\s\"']*)*)\s*(?:\"[^\"\n]*\"|'[^'\n]*')?\s*\)"
)


def too_much(text: str) -> tuple[int, str, str] | None:
    """Where the text begins to take too long, from 0, why, and what to do; None where it does not."""
    if len(text) > MOST_CHARACTERS:
        message = f"has {len(text):,} characters; the HTML in at most {MOST_CHARACTERS:,} is looked at"
        return 0, message, "split the page"
    lines = list(_FENCE_LINE.finditer(text))
    begun = sum(each["info"] is not None for each in lines)
    if (2 * begun - len(lines)) * len(text) > _MOST_OTHERS:
        return lines[0].start(), "is the first of many lines that begin code and do not end it", "end each of them"
    text = _FENCED.sub(lambda found: "\n" * found.group().count("\n"), text)
    deep = _NESTED.search(text)
    if deep:
        return deep.start(), "is nested too deep to be read", "flatten its lists and quotes"
    last, number = -1, 0
    for found in re.finditer(r"[<>]", text):
        if found.group() == "<" and last >= 0:
            number += 1
            if number * len(text) > _MOST_OTHERS:
                start = text.rfind("\n", 0, last) + 1
                return start, "holds one of many signs < that nothing closes", "write &lt; for them"
        last = found.start() if found.group() == "<" else -1
    return _long_block(text)


def _long_block(text: str) -> tuple[int, str, str] | None:
    brackets = others = marks = 0
    for start, block in _blocks(text):
        length = len(block)
        deepest = depth = 0
        for mark in _BRACKET.findall(block):
            depth = depth + 1 if mark == "[" else max(depth - 1, 0)
            deepest = max(deepest, depth)
        loose = len(_LINK.findall(block)) - len(_WHOLE_LINK.findall(block))
        brackets += (deepest + loose) * length
        others += len(_UNDERLINE.findall(block)) * length
        marks += len(_MARK.findall(block)) * length
        if marks > _MOST_MARKS:
            return start, "begins a paragraph of too many marks", "put empty lines between its parts"
        if brackets > _MOST_BRACKETS:
            return start, "begins a paragraph with many brackets that nothing closes", "write \\[ for them"
        if others > _MOST_OTHERS:
            return start, "begins a paragraph of many underlines", "put empty lines between its parts"
    return None


def _blocks(text: str) -> Iterator[tuple[int, str]]:
    """What stands between lines without text, and where it begins."""
    start = position = 0
    for line in text.splitlines(keepends=True):
        if not line.strip():
            yield start, text[start:position]
            start = position + len(line)
        position += len(line)
    yield start, text[start:]
