"""The headings of a page and what a search finds of it, read from its HTML in one pass."""

from __future__ import annotations

import html
import re
from typing import TYPE_CHECKING, NamedTuple

from notchbook.pages.finished import Heading, SearchPart

if TYPE_CHECKING:
    from collections.abc import Iterator

# Of our templates or of the sanitiser: well nested, and with values of attributes in double quotes.
_TAG = re.compile(r'<(?P<end>/?)(?P<name>[a-zA-Z][a-zA-Z0-9-]*)(?P<attributes>[^>"]*(?:"[^"]*"[^>"]*)*)>')
_ID = re.compile(r'\sid="([^"]*)"')
_LEFT_OUT = "data-search-exclude"
_NO_TEXT = frozenset({"script", "style", "svg", "math", "template"})
_IN_A_LINE = frozenset(
    {"a", "abbr", "b", "bdi", "bdo", "cite", "code", "data", "del", "dfn", "em", "i", "ins", "kbd", "label", "mark",
     "q", "s", "samp", "small", "span", "strong", "sub", "sup", "time", "u", "var", "wbr"}
)  # fmt: skip
_CELLS = frozenset({"td", "th"})
_HEADINGS = frozenset({"h1", "h2", "h3", "h4", "h5", "h6"})
_BREAK = "\0"
"""Between lines; HTML can hold no such character."""


class Contents(NamedTuple):
    """What a page consists of."""

    own: Heading | None
    """The page's own heading, of level 1, where it has an id."""
    headings: tuple[Heading, ...]
    """Those below it that have one."""
    search: tuple[SearchPart, ...]
    """The page itself, up to the first of them, then what stands below each."""


def contents(page: str, title: str) -> Contents:
    """What a page consists of.

    Arguments:
        page: its HTML.
        title: of the page itself.
    """
    own: Heading | None = None
    headings: list[Heading] = []
    parts: list[tuple[str, str, list[str]]] = [("", title, [])]
    pieces = parts[0][2]
    begun: re.Match[str] | None = None
    for piece, name, attributes in _pieces(page):
        pieces.append(piece)
        if name in _HEADINGS:
            if attributes is not None:
                begun = _ID.search(attributes)
                pieces = [] if begun else pieces
            elif begun is not None:
                heading = Heading(int(name[1]), html.unescape(begun[1]), " ".join(_lines(pieces)))
                begun = None
                if heading.level == 1 and own is None:
                    own = heading
                else:
                    headings.append(heading)
                    parts.append((heading.anchor, heading.title, []))
                pieces = parts[-1][2]
        if name not in _IN_A_LINE:
            pieces.append(" " if name in _CELLS else _BREAK)
    search = (SearchPart(anchor, words, "\n".join(_lines(found))) for anchor, words, found in parts)
    return Contents(own, tuple(headings), tuple(search))


def _pieces(page: str) -> Iterator[tuple[str, str, str | None]]:
    """Each text with the tag behind it and, where that begins an element, its attributes; without what is left out."""
    place = 0
    while found := _TAG.search(page, place):
        text, name, attributes = page[place : found.start()], found["name"].lower(), found["attributes"]
        place = found.end()
        if found["end"]:
            yield text, name, None
            continue
        if name in _NO_TEXT or _LEFT_OUT in attributes:
            place = _end(page, name, place)
        yield text, name, attributes
    yield page[place:], "", None


def _end(page: str, name: str, place: int) -> int:
    """Where an element ends whose content begins there; there, where it has none."""
    depth = 1
    for found in re.finditer(rf"<(/?){name}\b", page[place:], re.IGNORECASE):
        depth += -1 if found[1] else 1
        if depth == 0:
            return page.index(">", place + found.end()) + 1
    return place


def _lines(pieces: list[str]) -> list[str]:
    """The lines of the text without spaces around them, none of them empty."""
    lines = (" ".join(line.split()) for line in html.unescape("".join(pieces)).split(_BREAK))
    return [line for line in lines if line]
