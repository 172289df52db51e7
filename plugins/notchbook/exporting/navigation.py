"""The navigation of a site as a tree of titles, with the way to the page at hand open."""

from __future__ import annotations

import posixpath
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from notchbook.pages.finished import FinishedSite


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the navigation."""

    title: str
    place: str
    """Of a page; an address elsewhere where it has a scheme; empty where the line only heads others."""
    below: tuple[Entry, ...]
    is_here: bool
    """Whether it is the page at hand."""
    is_open: bool
    """Whether the page at hand stands below it, or belongs to the folder that it lists."""

    @property
    def is_page(self) -> bool:
        """Whether it is a page of this site."""
        return self.place.endswith(".md") and "://" not in self.place


def entries(site: FinishedSite, here: str) -> tuple[Entry, ...]:
    """The lines of the first level.

    Arguments:
        site: whose navigation it is.
        here: place of the page at hand; empty where it has none.
    """
    return tuple(_entries(site, site.nav, here))


def _entries(site: FinishedSite, listed: Any, here: str) -> Iterator[Entry]:
    for each in listed:
        if isinstance(each, str):
            yield _line(site, "", each, here)
        elif isinstance(each, dict):
            for title, inside in each.items():
                yield (
                    _line(site, title, inside, here)
                    if isinstance(inside, str)
                    else _section(site, title, inside or (), here)
                )


def _line(site: FinishedSite, title: str, place: str, here: str) -> Entry:
    page = site.pages.get(place)
    name = title or (page.title if page is not None else place)
    return Entry(name, place, (), is_here=place == here, is_open=place == here or _lists(place, here, site))


def _section(site: FinishedSite, title: str, inside: Any, here: str) -> Entry:
    lines = tuple(_entries(site, inside, here))
    is_open = any(each.is_open for each in lines)
    if lines and posixpath.basename(lines[0].place) == "index.md":
        # the page about a whole section is reached by the section's own line
        return Entry(title, lines[0].place, lines[1:], is_here=lines[0].is_here, is_open=is_open)
    return Entry(title, "", lines, is_here=False, is_open=is_open)


def _lists(place: str, here: str, site: FinishedSite) -> bool:
    """Whether the page at hand is none of the navigation's and stands in the folder whose index the line is."""
    folder, name = posixpath.split(place)
    page = site.pages.get(here)
    if page is None or page.listed or not folder:
        return False
    return name == "index.md" and here.startswith(f"{folder}/")
