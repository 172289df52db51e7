"""The table of contents of a finished page, in the form in which Markdown gives that of others."""

from __future__ import annotations

import html
from typing import TypedDict

from notchbook.pages.finished import FinishedPage


class TocToken(TypedDict):
    """A heading with those below it."""

    level: int
    id: str
    name: str
    """As HTML, because a theme puts it into its template as it is."""
    children: list[TocToken]


def toc_tokens(page: FinishedPage, depth: object = 6) -> list[TocToken]:
    """The headings, each with those below it.

    Arguments:
        page: the finished page.
        depth: the setting `toc_depth` of Markdown: the deepest level, or the first and the deepest with a hyphen.
    """
    first, _, deepest = str(depth).rpartition("-")
    levels = range(int(first or 1), int(deepest) + 1)
    tokens: list[TocToken] = []
    above: list[TocToken] = []
    for each in ([page.heading] if page.heading else []) + list(page.headings):
        if each.level not in levels:
            continue
        while above and above[-1]["level"] >= each.level:
            above.pop()
        name = html.escape(each.title, quote=False)
        token = TocToken(level=each.level, id=each.anchor, name=name, children=[])
        (above[-1]["children"] if above else tokens).append(token)
        above.append(token)
    return tokens
