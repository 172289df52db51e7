"""Pages of the engine as MkDocs turns them into HTML."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

import markdown
from mkdocs.utils import meta

from html_tree import Element, parse
from notchbook.pages.site import build_site

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from notchbook.handbook import Handbook

EXTENSIONS = ("toc", "tables", "fenced_code", "attr_list")
"""MkDocs' own ones and the demo's."""


def front_matter_and_html(text: str, extensions: Sequence[str] = EXTENSIONS) -> tuple[dict[str, Any], str]:
    """What stands in the front matter of a Markdown page, and the HTML of the rest."""
    body, front_matter = meta.get_data(text)
    return front_matter, markdown.markdown(body, extensions=list(extensions))


class Pages(Mapping[str, Element]):
    """Pages by their source path; each is made HTML and read when it is first asked for."""

    def __init__(self, sources: Mapping[str, str], extensions: Sequence[str]) -> None:
        self._sources = sources
        self._extensions = extensions
        self._read: dict[str, Element] = {}

    def __getitem__(self, uri: str) -> Element:
        if uri not in self._read:
            self._read[uri] = parse(front_matter_and_html(self._sources[uri], self._extensions)[1])
        return self._read[uri]

    def __iter__(self) -> Iterator[str]:
        return iter(self._sources)

    def __len__(self) -> int:
        return len(self._sources)


def pages_of(handbook: Handbook, extensions: Sequence[str] = EXTENSIONS) -> Pages:
    """All pages of a handbook by their source path, with links as in a site of `.html` addresses."""
    files = build_site(handbook).files
    sources = {uri: text for uri, text in files.items() if uri.endswith(".md") and isinstance(text, str)}
    return Pages(sources, extensions)
