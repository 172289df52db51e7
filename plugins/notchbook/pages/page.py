"""One page before and after it is rendered, and the links between pages."""

from __future__ import annotations

import posixpath
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from notchbook.handbook import Handbook
from notchbook.pages import text
from notchbook.pages.article import anchor, article, with_own_ids
from notchbook.pages.contents import contents
from notchbook.pages.finished import FinishedPage
from notchbook.pages.regions import told_apart
from notchbook.pages.sheets.qr_code import qr_code
from notchbook.wording.dates import day_words
from notchbook.wording.lines import one_line
from notchbook.wording.lists import counted
from notchbook.wording.numbers import interval_ends, plain, to_decimals, to_figures

if TYPE_CHECKING:  # a check renders nothing
    from jinja2 import Environment

TEMPLATES = Path(__file__).resolve().parent.parent / "templates"
NAVIGATION, TOC = frozenset({"navigation"}), frozenset({"toc"})
BESIDE = NAVIGATION | TOC
"""All that can stand beside a page."""
OF_MANY_RECORDS = 2.0
"""How much further ahead a search puts what records are named after: material, exercise, rig, method."""


@dataclass(frozen=True, slots=True)
class Page:
    """A page before it is rendered."""

    src_uri: str
    """Its place as a Markdown page, relative to the folder of all pages."""
    template: str
    title: str
    values: dict[str, Any] = field(default_factory=dict)
    source: str | None = None
    """Path of the data file that it shows, relative to the handbook's root."""
    hidden: frozenset[str] = frozenset()
    """What stands beside a page and is left out of this."""
    found_as: str = ""
    """What a search finds it by before all else; its title where it is empty."""
    boost: float = 1.0
    """How much further ahead a search puts it than a page of 1; a search does not find one of 0."""
    made_of: object = None
    """Everything that its values are worked out of, where these are not worked out before they are needed."""
    work_out: Callable[[], dict[str, Any]] | None = field(default=None, compare=False)
    """Gives the values of such a page."""


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
        relative = posixpath.relpath(target or ".", posixpath.dirname(self._address(self.here)) or ".")
        if target.endswith("/") or not target:
            relative += "/"
        return f"{relative}#{anchor}" if anchor else relative

    def of(self, folder: str, object_id: str, anchor: str = "") -> str:
        """Relative address of an object's page from here."""
        return self.to(page_uri(folder, object_id), anchor)

    def whole(self, folder: str, object_id: str) -> str | None:
        """Address of an object's page from anywhere, for paper; None where the site has no address."""
        return f"{self.site_url.rstrip('/')}/{self._address(page_uri(folder, object_id))}" if self.site_url else None

    def _address(self, src_uri: str) -> str:
        """Address of a page or file in the site; that of a page which is a folder's ends in a slash or is empty."""
        if not src_uri.endswith(".md"):
            return src_uri
        stem = src_uri.removesuffix(".md")
        if not self.directory_urls:
            return f"{stem}.html"
        return stem.removesuffix("index") if posixpath.basename(stem) == "index" else f"{stem}/"


@cache
def environment() -> Environment:
    """What every template is rendered in."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    made = Environment(
        loader=FileSystemLoader(TEMPLATES),
        autoescape=True,
        finalize=text.finalized,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters.update(
        anchor=anchor,
        number=to_decimals,
        significant=to_figures,
        interval_ends=lambda interval: interval_ends(*interval),
        plain=plain,
        day=day_words,
        counted=counted,
        symbol=text.symbol,
        qr_code=qr_code,
    )
    return made


def finished(page: Page, handbook: Handbook, *, listed: bool, directory_urls: bool, site_url: str = "") -> FinishedPage:
    """The page with everything in its place."""
    links = Links(page.src_uri, directory_urls, site_url)
    template = environment().get_template(page.template)
    values = page.work_out() if page.work_out is not None else page.values
    html = template.render(values, title=page.title, link=links, source=page.source)
    title = one_line(page.title)
    body = with_own_ids(told_apart(html))
    found = contents(body, one_line(page.found_as) or title)
    return FinishedPage(
        page.src_uri,
        title,
        article(body, handbook),
        found.headings,
        found.search if page.boost else (),
        page.boost,
        page.source,
        listed,
        page.hidden,
        found.own,
    )
