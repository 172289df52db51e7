"""The guide, which comes with the package: its texts as pages of every handbook."""

import posixpath
import re
from collections.abc import Callable, Iterator
from functools import cache, partial
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

from markupsafe import Markup

from notchbook.pages.page import TOC, Links, Page
from notchbook.pages.regions import with_regions
from notchbook.pages.written.markdown_html import Converter

TEXTS = Path(__file__).resolve().parents[2] / "guide"
FOLDER = "guide"
NAMES = (
    "index", "first-record", "exercise", "material", "rig", "verification", "method", "findings", "limits",
    "uncertainty", "comparisons", "answers", "deviations", "review", "pipeline", "strangers", "publish", "pages",
    "commands", "year",
)  # fmt: skip
"""In the order in which a department meets them."""
URIS = tuple(f"{FOLDER}/{name}.md" for name in NAMES)
_WIDE = frozenset({"limits"})
"""With tables that need the room beside a page."""
_READ_THROUGH = frozenset({"limits", "commands", "answers", "uncertainty"})
"""With long tables, which are read and not searched for."""
_TABLE = '<table class="nb-table">'
_TITLE = re.compile(r"# (.+)\n")


def guide_pages() -> Iterator[Page]:
    """Every page of the guide."""
    for name, uri in zip(NAMES, URIS, strict=True):
        text = (TEXTS / f"{name}.md").read_text(encoding="utf-8")
        found = _TITLE.match(text)
        assert found is not None  # noqa: S101  # a page of the package
        hidden = TOC if name in _WIDE else frozenset()
        values = partial(_values, name, text)
        yield Page(uri, "guide_text.html.j2", found[1], hidden=hidden, made_of=text, work_out=values)


def _values(name: str, text: str) -> dict[str, Any]:
    return {"body": partial(_body, name, text)}


def _body(name: str, text: str, links: Links) -> Markup:
    return Markup(_html(name, text, links))  # noqa: S704  # a text of the package


@cache
def _html(name: str, text: str, links: Links) -> str:
    """The HTML of a text; one and the same in every handbook of a form of addresses."""
    html = Converter(["attr_list"], TEXTS).html(text, _address(links))
    # what an example is about stands around it, and keys have a page: every visitor loads what a search knows
    html = html.replace("<pre>", "<pre data-search-exclude>")
    html = with_regions(html.replace("<th>", '<th scope="col">'))
    excluded = f"{_TABLE[:-1]} data-search-exclude>"
    return html.replace(_TABLE, excluded) if name in _READ_THROUGH else html


def _address(links: Links) -> Callable[[str], str]:
    """What a link of a text leads to; those to other pages name their files as they lie in the site."""

    def address(written: str) -> str:
        parts = urlsplit(written)
        if parts.scheme or not parts.path.endswith(".md"):
            return written
        return links.to(posixpath.normpath(posixpath.join(FOLDER, parts.path)), parts.fragment)

    return address
