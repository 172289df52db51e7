"""A page as whoever shows it gets it: everything that it says is worked out and in its place."""

from dataclasses import dataclass
from typing import Any

Navigation = list[dict[str, Any]]
"""Titles with places of pages, or with what lies below them."""


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading, for a table of contents."""

    level: int
    """From 2 for a part of the page."""
    anchor: str
    title: str
    """As plain text."""


@dataclass(frozen=True, slots=True)
class SearchPart:
    """What a search finds of a page: the page itself, or what stands below one of its headings."""

    anchor: str
    """Empty for the page itself."""
    title: str
    text: str
    """As plain text, in the order of the page, without charts, drawings, formulae and tables of numbers."""


@dataclass(frozen=True, slots=True)
class FinishedPage:
    """One page, computed or written by hand."""

    src_uri: str
    """Its place as a Markdown page of a site, such as `records/index.md`; builders make their addresses of it."""
    title: str
    """As plain text."""
    body: str
    """HTML for the inside of one article: the notice, the heading, the cautions, the text, the day of the handbook."""
    headings: tuple[Heading, ...]
    search: tuple[SearchPart, ...]
    boost: float
    """How much further ahead a search puts it than a page of 1."""
    source: str | None
    """The data file or page that it shows, relative to the handbook's root; None where it is of many."""
    listed: bool
    """Whether the navigation names it."""
    hidden: frozenset[str] = frozenset()
    """What stands beside a page and is left out of this: `navigation`, `toc`."""
    heading: Heading | None = None
    """Its own heading, of level 1."""


@dataclass(frozen=True, slots=True)
class FinishedSite:
    """All pages of a handbook, and what lies beside them."""

    pages: dict[str, FinishedPage]
    """By their place."""
    files: dict[str, str | bytes]
    """Data, styles, scripts by path, to be copied as they are."""
    nav: Navigation
    """Titles and places of pages."""
