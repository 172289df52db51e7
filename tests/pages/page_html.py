"""The HTML of pages, as MkDocs makes it of hand-written ones and as the computed ones are."""

from collections.abc import Iterator, Mapping

import markdown

from html_tree import Element, parse
from notchbook.handbook import Handbook
from notchbook.pages.finished import FinishedPage
from notchbook.pages.site import build_site

EXTENSIONS = ("toc", "tables", "fenced_code", "attr_list")
"""MkDocs' own ones and the demo's."""


def written_html(text: str) -> str:
    """The HTML of a hand-written page."""
    return markdown.markdown(text, extensions=list(EXTENSIONS))


class Pages(Mapping[str, Element]):
    """Pages by their source path; each is read when it is first asked for."""

    def __init__(self, pages: Mapping[str, FinishedPage]) -> None:
        self._pages = pages
        self._read: dict[str, Element] = {}

    def __getitem__(self, uri: str) -> Element:
        if uri not in self._read:
            self._read[uri] = parse(self._pages[uri].body)
        return self._read[uri]

    def __iter__(self) -> Iterator[str]:
        return iter(self._pages)

    def __len__(self) -> int:
        return len(self._pages)


def pages_of(handbook: Handbook) -> Pages:
    """All pages of a handbook by their source path, with links as in a site of `.html` addresses."""
    return Pages(build_site(handbook).pages)
