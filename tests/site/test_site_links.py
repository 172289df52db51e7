"""Every link, image, style and script of the built demo leads to a file and a part that are there."""

import functools
import json
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest

from conftest import DemoSite
from html_tree import Element, parse

ADDRESSES = ("href", "src", "srcset", "poster", "action", "data", "xlink:href")


@functools.cache
def _page(path: Path) -> Element:
    return parse(path.read_text(encoding="utf-8"))


def _pages(folder: Path) -> list[Path]:
    return sorted(folder.rglob("*.html"))


def _addresses(page: Element) -> Iterator[tuple[Element, str]]:
    for element in page:
        for name in ADDRESSES:
            if name in element.attributes:
                yield element, element.attributes[name]


def _broken(folder: Path, path: Path, address: str) -> str | None:
    """What is wrong with a link inside the site."""
    parts = urlsplit(address)
    name = unquote(parts.path)
    # only the page for addresses that are not found counts from the root of the site
    target = folder / name.lstrip("/") if name.startswith("/") else path.parent / name if name else path
    target = target.resolve()
    if target.is_dir():
        if name and not name.endswith(("/", ".")):
            return "a folder without its slash"
        target /= "index.html"
    if not target.is_file():
        return "no such file"
    if not target.is_relative_to(folder.resolve()):
        return "outside the site"
    if parts.fragment and target.suffix == ".html":
        wanted = unquote(parts.fragment)
        if "=" in wanted:
            return _choice_missing(_page(target), wanted)
        ids = {each.attributes.get("id") for each in _page(target)}
        if wanted not in ids:
            return f"no part '{wanted}'"
    return None


def _choice_missing(page: Element, wanted: str) -> str | None:
    """What is wrong with the choice in a table that an address asks for."""
    name, _, value = wanted.partition("=")
    selects = [each for each in page.all("select") if each.attributes.get("data-filter") == name]
    values = {option.attributes.get("value") for each in selects for option in each.all("option")}
    return None if value in values else f"no choice '{wanted}'"


@pytest.mark.repeats
def test_inner_links_lead_somewhere(either_site: DemoSite) -> None:
    broken, checked = [], 0
    for path in _pages(either_site.folder):
        for element, address in _addresses(_page(path)):
            parts = urlsplit(address)
            if parts.scheme or parts.netloc:
                continue
            checked += 1
            if wrong := _broken(either_site.folder, path, address):
                broken.append(f"{path.relative_to(either_site.folder)}: <{element.tag}> {address}: {wrong}")
    assert not broken
    # every page has at least its style, its script and its way home
    assert checked > 10 * len(_pages(either_site.folder))


def test_no_page_loads_anything_from_elsewhere(either_site: DemoSite) -> None:
    for path in _pages(either_site.folder):
        for element, address in _addresses(_page(path)):
            parts = urlsplit(address)
            if parts.scheme or parts.netloc:
                if element.attributes.get("rel") == "canonical":  # the page's own address, which nothing loads
                    assert address.startswith("https://handbook.saltmere.example/"), f"{path.name}: {address}"
                    continue
                assert element.tag == "a", f"{path.name}: <{element.tag}> {address}"
                assert parts.scheme == "https", f"{path.name}: {address}"
    for path in either_site.folder.rglob("*.css"):
        assert "@import" not in path.read_text(encoding="utf-8")
    style = (either_site.folder / "assets/notchbook.css").read_text(encoding="utf-8")
    assert style.count("url(") == style.count('url("data:')


def test_parts_are_named_once_and_what_names_them_is_right(demo_site: DemoSite) -> None:
    for path in _pages(demo_site.folder):
        page = _page(path)
        ids = [each.attributes["id"] for each in page if "id" in each.attributes]
        assert len(set(ids)) == len(ids), path.name
        for element in (each for article in page.all("article") for each in article):
            for name in ("aria-labelledby", "aria-describedby", "aria-controls"):
                for wanted in element.attributes.get(name, "").split():
                    assert wanted in ids, f"{path.name}: {name}={wanted}"


def test_page_says_its_language_and_its_own_title(demo_site: DemoSite) -> None:
    titles = []
    for path in _pages(demo_site.folder):
        page = _page(path)
        # WCAG 2.1, 3.1.1 and 2.4.2
        assert page.one("html").attributes["lang"] == "en"
        titles.append(page.one("head").one("title").text)
        if path.name != "404.html":
            assert len(page.one("article").all("h1")) == 1, path.name
        for image in page.all("img"):
            assert "alt" in image.attributes, path.name
    assert all(titles)


def test_search_leads_to_pages_that_are_there(either_site: DemoSite) -> None:
    index = json.loads((either_site.folder / "search/search_index.json").read_text(encoding="utf-8"))
    assert index["docs"]
    for each in index["docs"]:
        wrong = _broken(either_site.folder, either_site.folder / "index.html", each["location"] or ".")
        assert wrong is None, each["location"]
        # what stands in charts and wide tables of numbers is no help in a search
        assert "viewBox" not in each["text"]
