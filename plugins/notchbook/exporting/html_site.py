"""A site by itself: every page in the handbook's own frame, with navigation, search and a page for what is lost."""

import html
from collections.abc import Iterator
from typing import Any
from urllib.parse import urlsplit

from markupsafe import Markup

from notchbook.exporting.content import Content
from notchbook.exporting.navigation import entries
from notchbook.exporting.search_index import INDEX, search_index
from notchbook.exporting.site_settings import listed_files, theme_of
from notchbook.pages.assets import KEEP_SCRIPT, SCRIPTS, STYLES, THEME_SCRIPT
from notchbook.pages.finished import FinishedPage
from notchbook.pages.page import TEMPLATES, Links, environment

FRAME_STYLE = "frame/frame.css"
FRAME_SCRIPTS = ("frame/frame.js", "frame/search.js")
FRAME_ICON = "frame/pendulum.svg"
NOT_FOUND = "404.html"


def html_files(content: Content) -> dict[str, str | bytes]:
    """Every page of the site by its path, with what its frame needs and the list of addresses for robots."""
    frame = _Frame(content)
    files: dict[str, str | bytes] = {}
    for place, page in content.site.pages.items():
        files[_path(place)] = frame.page(page)
    files[NOT_FOUND] = frame.not_found()
    files[INDEX] = search_index(content.site.pages.values())
    for path in (FRAME_STYLE, *FRAME_SCRIPTS, FRAME_ICON):
        files[path] = (TEMPLATES / path).read_bytes()
    if content.url:
        files["sitemap.xml"] = _sitemap(content)
    return files


def _path(place: str) -> str:
    return f"{place.removesuffix('.md')}.html"


class _Frame:
    """What all pages of one site have around them."""

    def __init__(self, content: Content) -> None:
        self._content = content
        self._template = environment().get_template("frame/page.html.j2")
        values = content.config.values
        own = [each for each in listed_files(values.get("extra_css")) if each in content.copied]
        scripts = [each for each in listed_files(values.get("extra_javascript")) if each in content.copied]
        self._styles = (FRAME_STYLE, *STYLES, *(each for each in own if each not in STYLES))
        usual = [each for each in SCRIPTS if each != THEME_SCRIPT]
        self._scripts = (*FRAME_SCRIPTS, *usual, KEEP_SCRIPT, *(each for each in scripts if each not in SCRIPTS))
        theme = theme_of(content.config)
        icon = theme.get("favicon")
        self._common = {
            "icon": icon if icon in content.copied else FRAME_ICON,
            "site_name": content.name,
            "language": content.handbook.settings.language,
            "is_foreign": not content.handbook.settings.is_english,
            "description": values.get("site_description") or "",
            "day": content.handbook.day,
            # as in other themes a line of HTML that the settings hold
            "copyright": Markup(values["copyright"]) if isinstance(values.get("copyright"), str) else "",  # noqa: S704
            "index": INDEX,
        }

    def page(self, page: FinishedPage) -> str:
        """A page of the handbook in the frame."""
        links = Links(page.src_uri, directory_urls=False)
        url = self._content.url
        return self._rendered(
            links.to,
            page.src_uri,
            title=page.title,
            article=Markup(page.body),  # noqa: S704  # made by templates of our own, or by the sanitiser
            headings=() if "toc" in page.hidden else page.headings,
            is_home=page.src_uri == "index.md",
            canonical=f"{url.rstrip('/')}/{_path(page.src_uri)}" if url else "",
            navigation_open="navigation" not in page.hidden,
        )

    def not_found(self) -> str:
        """The page that a server shows for an address that is not there, wherever that lies."""
        links = Links("index.md", directory_urls=False)
        top = urlsplit(self._content.url).path.rstrip("/") + "/" if self._content.url else ""
        return self._rendered(
            lambda place, anchor="": top + links.to(place, anchor),
            "",
            title="Not found",
            article=Markup("<h1>404 - Not found</h1>"),
            headings=(),
            is_home=False,
            canonical="",
            navigation_open=True,
            is_missing=True,
        )

    def _rendered(self, link: Any, here: str, **values: Any) -> str:
        return self._template.render(
            self._common,
            is_missing=values.pop("is_missing", False),
            link=link,
            styles=self._styles,
            scripts=self._scripts,
            entries=entries(self._content.site, here),
            **values,
        )


def _sitemap(content: Content) -> str:
    """Addresses of all pages (sitemaps.org, version 0.9)."""
    return "\n".join(_sitemap_lines(content)) + "\n"


def _sitemap_lines(content: Content) -> Iterator[str]:
    day = content.handbook.day.isoformat()
    yield '<?xml version="1.0" encoding="UTF-8"?>'
    yield '<urlset xmlns="http://www.sitemaps.org/schemas/sitemap/0.9">'
    for place in content.site.pages:
        address = html.escape(f"{content.url.rstrip('/')}/{_path(place)}")
        yield f"<url><loc>{address}</loc><lastmod>{day}</lastmod></url>"
    yield "</urlset>"
