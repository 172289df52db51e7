"""The pages as a tree of Markdown that every builder shows alike: each page is one block of HTML.

CommonMark 0.31.2, 4.6: a block of HTML that begins with a tag such as `<div>` ends at the first empty line, and what is
inside is left as it is. So a page has no empty line, and no sign in it means anything to Markdown or its extensions.
"""

import html
import json
import re

from notchbook.pages.finished import FinishedPage

_AS_WRITTEN = re.compile(r"<(pre|textarea)\b.*?</\1>", re.DOTALL)
_EMPTY_LINES = re.compile(r"\n(?:[ \t\r\f\v]*\n)+")
_BLANK_LINE = re.compile(r"(?<=\n)([ \t]*)\n")
_NOT_PRINTABLE = re.compile("[\x7f-\x9f\u2028\u2029\ufeff\ufffe\uffff]")


def markdown_page(page: FinishedPage) -> str:
    """The page with its title, and what a theme is to leave out beside it, at its head."""
    head = [f"title: {quoted(html.escape(page.title))}"]
    if page.hidden:
        head += ["hide:", *(f"  - {each}" for each in sorted(page.hidden))]
    if not page.search:
        head += ["search:", "  exclude: true"]
    elif page.boost != 1.0:
        head += ["search:", f"  boost: {page.boost:g}"]
    lines = "\n".join(head)
    return f"---\n{lines}\n---\n\n{one_block(page.body)}\n"


def one_block(body: str) -> str:
    """The HTML without an empty line; where these are shown, in code, they stand as characters by number."""
    parts, end = [], 0
    for found in _AS_WRITTEN.finditer(body):
        parts += [_closed_up(body[end : found.start()]), _BLANK_LINE.sub(_numbered, found[0]).replace("\t", "&#9;")]
        end = found.end()
    return "".join([*parts, _closed_up(body[end:])]).strip()


def _closed_up(part: str) -> str:
    return _EMPTY_LINES.sub("\n", part)


def _numbered(line: re.Match[str]) -> str:
    spaces = line[1].replace("\t", "&#9;").replace(" ", "&#32;")
    return f"{spaces}\n" if spaces else "&#10;"


def quoted(value: str) -> str:
    """Any text as a string that JSON, YAML and TOML read alike."""
    escaped = json.dumps(value, ensure_ascii=False)
    return _NOT_PRINTABLE.sub(lambda found: f"\\u{ord(found[0]):04x}", escaped)
