"""The headings of a page and what a search finds of it, read from its HTML in one pass."""

import html
import re
from typing import NamedTuple

from notchbook.pages.finished import Heading, SearchPart

# Of our templates or of the sanitiser: well nested, and with values of attributes in double quotes.
_ATTRIBUTES = r'\b[^>"]*(?:"[^"]*"[^>"]*)*'
_HEADING = re.compile(rf'<h([1-6])(?=[^>]*\sid="([^"]*)"){_ATTRIBUTES}>(.*?)</h\1>', re.DOTALL)
_NO_TEXT = re.compile(
    rf"<(?P<name>script|style|svg|math|template){_ATTRIBUTES}>"
    rf'|<(?P<marked>[a-z][a-z0-9]*)\b[^>"]*(?:"[^"]*"[^>"]*)*?\sdata-search-exclude{_ATTRIBUTES}>'
)
_IN_A_LINE = re.compile(
    "</?(?:a|abbr|b|bdi|bdo|cite|code|data|del|dfn|em|i|ins|kbd|label|mark|q|s|samp|small|span|strong|sub|sup|time|u"
    f"|var|wbr){_ATTRIBUTES}>"
)
_CELL = re.compile(f"</?t[dh]{_ATTRIBUTES}>")
_BLOCK = re.compile(f"</?[a-z][a-z0-9-]*{_ATTRIBUTES}>")
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
    text = _CELL.sub(" ", _IN_A_LINE.sub("", _without_what_no_search_finds(page)))
    # the text before each heading, its level, its id, what stands in it
    first, *rest = _HEADING.split(text)
    own: Heading | None = None
    headings: list[Heading] = []
    parts = [("", title, [first])]
    for level, anchor, inside, below in zip(rest[::4], rest[1::4], rest[2::4], rest[3::4], strict=True):
        heading = Heading(int(level), html.unescape(anchor), " ".join(_lines([inside])))
        if heading.level == 1 and own is None:
            own = heading
            parts[0][2].append(below)
        else:
            headings.append(heading)
            parts.append((heading.anchor, heading.title, [below]))
    search = (SearchPart(anchor, words, "\n".join(_lines(found))) for anchor, words, found in parts)
    return Contents(own, tuple(headings), tuple(search))


def _without_what_no_search_finds(page: str) -> str:
    """The page without scripts, drawings and formulae, and without what is marked as nothing to be found."""
    kept, place = [], 0
    while found := _NO_TEXT.search(page, place):
        kept.append(page[place : found.start()])
        place = _end(page, found["name"] or found["marked"], found.end())
    return _BREAK.join([*kept, page[place:]])


def _end(page: str, name: str, place: int) -> int:
    """Where an element ends whose content begins there; there, where it has none."""
    depth, at = 1, place
    tag = re.compile(rf"<(/?){name}\b[^>]*>")
    while found := tag.search(page, at):
        at = found.end()
        depth += -1 if found[1] else 1
        if depth == 0:
            return at
    return place


def _lines(pieces: list[str]) -> list[str]:
    """The lines of the text without spaces around them, none of them empty."""
    text = _BLOCK.sub(_BREAK, _BREAK.join(pieces))
    lines = (" ".join(line.split()) for line in html.unescape(text).split(_BREAK))
    return [line for line in lines if line]
