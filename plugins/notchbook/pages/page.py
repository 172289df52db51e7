"""One page as it leaves the engine, and the links between pages."""

from __future__ import annotations

import posixpath
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from notchbook.pages import text
from notchbook.pages.sheets.qr_code import qr_code
from notchbook.wording.dates import day_words
from notchbook.wording.lists import counted
from notchbook.wording.numbers import plain, to_decimals, to_figures

if TYPE_CHECKING:
    from jinja2 import Environment

TEMPLATES = Path(__file__).resolve().parent.parent / "templates"


@dataclass(frozen=True, slots=True)
class Page:
    """A page before it is rendered."""

    src_uri: str
    """Path of its Markdown, relative to the folder of all pages."""
    template: str
    title: str
    values: dict[str, Any] = field(default_factory=dict)
    source: str | None = None
    """Path of the data file that it shows, relative to the handbook's root."""


def page_name(object_id: str) -> str:
    """The file name of an object's page.

    No id holds an underscore, so that an object whose page would take the place of an index has a page of its own.
    """
    return f"{object_id}_" if object_id in ("index", "index.html") else object_id


def page_uri(folder: str, object_id: str) -> str:
    """Path of the page of an object."""
    return f"{folder}/{page_name(object_id)}.md"


@dataclass(frozen=True, slots=True)
class Links:
    """Links from one page to others, in either of the two forms that a site can have."""

    here: str
    directory_urls: bool
    site_url: str = ""
    """Address of the site; empty where none is set."""

    def to(self, src_uri: str, anchor: str = "") -> str:
        """Relative address of a page or file from here."""
        target = self._address(src_uri)
        start = posixpath.dirname(self._address(self.here)) or "."
        if self.directory_urls and target.endswith("/index.html"):
            target = target.removesuffix("index.html")
        elif self.directory_urls and target == "index.html":
            target = ""
        relative = posixpath.relpath(target or ".", start)
        if target.endswith("/") or not target:
            relative += "/"
        return f"{relative}#{anchor}" if anchor else relative

    def of(self, folder: str, object_id: str, anchor: str = "") -> str:
        """Relative address of an object's page from here."""
        return self.to(page_uri(folder, object_id), anchor)

    def whole(self, folder: str, object_id: str) -> str | None:
        """Address of an object's page from anywhere, for paper; None where the site has no address."""
        if not self.site_url:
            return None
        target = self._address(page_uri(folder, object_id))
        if self.directory_urls and posixpath.basename(target) == "index.html":
            target = target.removesuffix("index.html")
        return f"{self.site_url.rstrip('/')}/{target}"

    def _address(self, src_uri: str) -> str:
        if not src_uri.endswith(".md"):
            return src_uri
        stem = src_uri.removesuffix(".md")
        if not self.directory_urls or posixpath.basename(stem) == "index":
            return f"{stem}.html"
        return f"{stem}/index.html"


@cache
def _environment() -> Environment:
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    environment = Environment(
        loader=FileSystemLoader(TEMPLATES),
        autoescape=True,
        finalize=text.shown,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters.update(
        heading=text.in_heading,
        front=text.in_front_matter,
        number=to_decimals,
        significant=to_figures,
        plain=plain,
        day=day_words,
        counted=counted,
        symbol=text.symbol,
        qr_code=qr_code,
    )
    return environment


def render(page: Page, *, directory_urls: bool, site_url: str = "") -> str:
    """The page as Markdown with HTML blocks."""
    links = Links(page.src_uri, directory_urls, site_url)
    template = _environment().get_template(page.template)
    return template.render(page.values, title=page.title, link=links, source=page.source)
