"""The hand-written pages of a handbook as whoever shows them gets them, made by the engine without a builder."""

import html
import re
from collections.abc import Mapping
from collections.abc import Set as AbstractSet
from functools import partial
from typing import Any

from notchbook.facts.facts import Facts
from notchbook.handbook import Handbook
from notchbook.pages.article import article
from notchbook.pages.contents import contents
from notchbook.pages.finished import FinishedPage
from notchbook.pages.page import BESIDE
from notchbook.pages.regions import with_regions
from notchbook.pages.written import prose
from notchbook.pages.written.guarded_page import GuardedPage
from notchbook.pages.written.links import PageLinks, page_place
from notchbook.pages.written.markdown_html import Converter
from notchbook.site_reading.front_matter import front_matter
from notchbook.site_reading.pages import WrittenPage
from notchbook.site_reading.site_config import SiteConfig

_FIRST_HEADING = re.compile(r"\s*<h1\b[^>]*>(.*?)</h1>", re.DOTALL)
_TAGS = re.compile(r"<[^>]*>")


class MarkupError(Exception):
    """A page holds what is not published; the text says what."""


class WrittenPages:
    """Makes the pages of one site."""

    def __init__(
        self,
        handbook: Handbook,
        config: SiteConfig,
        there: AbstractSet[str],
        titles: Mapping[str, str],
        *,
        directory_urls: bool,
    ) -> None:
        """Take what all pages have in common.

        Arguments:
            handbook: whose values they show.
            config: the settings of the site.
            there: places of all pages of the site and paths of all its files.
            titles: those that the navigation gives, by the page's place.
            directory_urls: whether addresses end in a slash rather than in `.html`.
        """
        self._handbook = handbook
        self._facts = Facts(handbook)
        self._converter = Converter(config.values.get("markdown_extensions"), handbook.root)
        self._there = there
        self._titles = titles
        self._directory_urls = directory_urls
        links = _mapping(_mapping(config.values.get("validation")).get("links"))
        self._absolute = links.get("absolute_links") == "relative_to_docs"

    def finished(self, page: WrittenPage, path: str) -> FinishedPage:
        """One page.

        Arguments:
            page: as it was written.
            path: of its file, relative to the folder of the pages.

        Raises:
            MarkupError: it holds what is not published.
        """
        text = page.text.replace("\r\n", "\n").replace("\r", "\n")
        head = front_matter(text)
        links = PageLinks(path, self._there, directory_urls=self._directory_urls, absolute=self._absolute)
        inner = self._inner(text[head.end :], links)
        place = page_place(path)
        first = _FIRST_HEADING.match(inner)
        title = self._titles.get(place) or head.values.get("title") or (_plain(first[1]) if first else "")
        title = str(title or _name_as_title(place))
        search, hide = _mapping(head.values.get("search")), head.values.get("hide")
        # themes put the title above a page that has no heading of the first level
        heading = "" if "<h1" in inner else f"<h1>{html.escape(title, quote=False)}</h1>\n"
        body = heading + article(with_regions(inner), self._handbook, by_hand=True)
        found = contents(body, title)
        boost = search.get("boost")
        return FinishedPage(
            src_uri=place,
            title=title,
            body=body,
            headings=found.headings,
            search=() if search.get("exclude") is True else found.search,
            boost=float(boost) if isinstance(boost, int | float) and not isinstance(boost, bool) else 1.0,
            source=page.path,
            listed=place in self._titles,
            hidden=frozenset(each for each in hide if each in BESIDE) if isinstance(hide, list) else frozenset(),
            heading=found.own,
        )

    def _inner(self, written: str, links: PageLinks) -> str:
        if self._handbook.settings.raw_html == "publish":
            return self._converter.html(prose.rendered(self._facts, written), links.address)
        page = GuardedPage(written, partial(prose.filled, self._facts))
        made, troubles = page.published(self._converter.html(page.markdown, links.address))
        if troubles:
            raise MarkupError(troubles[0])
        return made


def _mapping(value: Any) -> dict[Any, Any]:
    return value if isinstance(value, dict) else {}


def _plain(inner: str) -> str:
    return html.unescape(_TAGS.sub("", inner)).strip()


def _name_as_title(place: str) -> str:
    """What MkDocs calls a page that has no title: by the name of its file."""
    if place == "index.md":
        return "Home"
    name = place.rpartition("/")[2].removesuffix(".md").replace("-", " ").replace("_", " ")
    return name.capitalize() if name == name.lower() else name
