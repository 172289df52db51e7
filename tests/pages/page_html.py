"""Pages of the engine as MkDocs turns them into HTML."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import markdown
from mkdocs.utils import meta

from html_tree import Element, parse
from notchbook.pages.site import build_site

if TYPE_CHECKING:
    from collections.abc import Sequence

    from notchbook.handbook import Handbook

EXTENSIONS = ("toc", "tables", "fenced_code", "attr_list")
"""MkDocs' own ones and the demo's."""


def front_matter_and_html(text: str, extensions: Sequence[str] = EXTENSIONS) -> tuple[dict[str, Any], str]:
    """What stands in the front matter of a Markdown page, and the HTML of the rest."""
    body, front_matter = meta.get_data(text)
    return front_matter, markdown.markdown(body, extensions=list(extensions))


def pages_of(handbook: Handbook, extensions: Sequence[str] = EXTENSIONS) -> dict[str, Element]:
    """All pages of a handbook by their source path, with links as in a site of `.html` addresses."""
    return {
        uri: parse(front_matter_and_html(content, extensions)[1])
        for uri, content in build_site(handbook).files.items()
        if uri.endswith(".md") and isinstance(content, str)
    }
