"""All that an export holds: computed and hand-written pages, files, and the navigation over both."""

from collections.abc import Callable, Iterator, Mapping
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from notchbook.exporting.docs_folder import published_files
from notchbook.handbook import Handbook
from notchbook.pages.finished import FinishedSite
from notchbook.pages.site import build_site, merged_navigation
from notchbook.pages.written.links import page_place
from notchbook.pages.written.markdown_html import left_out
from notchbook.pages.written.places import is_placeholder
from notchbook.pages.written.written_pages import WrittenPages
from notchbook.reading.files import Refused, relative_path, text_of
from notchbook.site_reading.pages import WrittenPage, prose_folder
from notchbook.site_reading.site_config import SiteConfig

_USUAL_NAME = "Impact handbook"
_OWN_PLUGINS = frozenset({"notchbook", "search", "material/search"})


@dataclass(frozen=True, slots=True)
class Content:
    """What an export is made of."""

    handbook: Handbook
    config: SiteConfig
    name: str
    """Of the site."""
    url: str
    """Of the site; empty where none is set."""
    directory_urls: bool
    site: FinishedSite
    """All pages and all computed files."""
    copied: Mapping[str, Path]
    """Files among the hand-written pages, by their path in the site."""
    left_out: tuple[str, ...]
    """What of the settings takes no part in an export, in words."""


def gather(
    handbook: Handbook, config: SiteConfig, *, directory_urls: bool, advance: Callable[[], None] = lambda: None
) -> Content:
    """Make every page.

    Arguments:
        handbook: without errors.
        config: the settings of the site; those of MkDocs where there are none.
        directory_urls: whether addresses end in a slash rather than in `.html`.
        advance: called once for each computed page.

    Raises:
        MarkupError: a hand-written page holds what is not published.
    """
    name, url = (str(config.values.get(key) or "") for key in ("site_name", "site_url"))
    site = build_site(
        handbook, site_name=name or _USUAL_NAME, site_url=url, directory_urls=directory_urls, advance=advance
    )
    folder = prose_folder(handbook.root, handbook.settings)
    files = published_files(handbook.root, folder, config.values) if folder is not None else {}
    written = _written(handbook.root, files, site.pages.keys())
    nav = _navigation(site, config.values.get("nav"), written)
    titles = dict(_titles(nav))
    there = {*site.pages, *site.files, *written, *files}
    makes = WrittenPages(handbook, config, there, titles, directory_urls=directory_urls)
    pages = dict(site.pages)
    for place, (path, page) in written.items():
        pages[place] = makes.finished(page, path)
    pages = {place: replace(page, listed=place in titles) for place, page in pages.items()}
    copied = {path: file for path, file in files.items() if not page_place(path).endswith(".md")}
    whole = FinishedSite(pages, site.files, nav)
    return Content(handbook, config, name or _USUAL_NAME, url, directory_urls, whole, copied, tuple(_left(config)))


def _written(root: Path, files: Mapping[str, Path], computed: AbstractSet[str]) -> dict[str, tuple[str, WrittenPage]]:
    """The hand-written pages by their place, each with the path of its file; one that gives way is left out."""
    found: dict[str, tuple[str, WrittenPage]] = {}
    # an index stands before a README of the same folder
    for path in sorted(files, key=lambda each: each.endswith("README.md")):
        place = page_place(path)
        if not place.endswith(".md") or place in found:
            continue
        text = text_of(files[path])
        if isinstance(text, Refused) or (place in computed and is_placeholder(files[path])):
            continue
        found[place] = (path, WrittenPage(relative_path(root, files[path]), text))
    return found


def _navigation(site: FinishedSite, listed: Any, written: Mapping[str, Any]) -> list[dict[str, Any]]:
    nav = merged_navigation(site.nav, _placed(listed), sorted(written), {})
    return nav if isinstance(nav, list) else [nav]


def _placed(nav: Any) -> Any:
    """A navigation of settings with places of pages for the names of their files."""
    if isinstance(nav, dict):
        return {str(title): _placed(entry) for title, entry in nav.items()}
    if isinstance(nav, list):
        return [_placed(entry) for entry in nav]
    return page_place(nav) if isinstance(nav, str) else nav


def _titles(nav: Any, title: str = "") -> Iterator[tuple[str, str]]:
    """Places of pages with the titles that a navigation gives them; empty where it gives none."""
    if isinstance(nav, str):
        yield nav, title
    elif isinstance(nav, dict):
        for name, entry in nav.items():
            yield from _titles(entry, name if isinstance(entry, str) else "")
    elif isinstance(nav, list):
        for entry in nav:
            yield from _titles(entry)


def _left(config: SiteConfig) -> Iterator[str]:
    if config.custom_dir is not None:
        yield "the theme's own templates (theme: custom_dir)"
    if config.hooks:
        yield "hooks"
    plugins = config.values.get("plugins")
    names = [next(iter(each), "") if isinstance(each, dict) else each for each in plugins or ()]
    others = [str(each) for each in names if each not in _OWN_PLUGINS]
    if others:
        yield f"the plugins {', '.join(others)}"
    extensions = left_out(config.values.get("markdown_extensions"))
    if extensions:
        yield f"the extensions of Markdown {', '.join(extensions)}"
