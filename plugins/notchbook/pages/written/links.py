"""Links of a hand-written page, which name other pages by their files, on their way to addresses in a site."""

import posixpath
from collections.abc import Set as AbstractSet
from urllib.parse import unquote, urlsplit, urlunsplit

from notchbook.pages.page import Links
from notchbook.site_reading.pages import PAGE_SUFFIXES


def page_place(path: str) -> str:
    """The place of a page among all others, by the path of its file: always in `.md`, an index always `index`."""
    stem, ending = posixpath.splitext(path)
    if ending not in PAGE_SUFFIXES:
        return path
    folder, name = posixpath.split(stem)
    return posixpath.join(folder, "index.md" if name in ("index", "README") else f"{name}.md")


class PageLinks:
    """The links of one page."""

    def __init__(self, path: str, there: AbstractSet[str], *, directory_urls: bool, absolute: bool = False) -> None:
        """Take the page, and what it can lead to.

        Arguments:
            path: of the page's file, relative to the folder of the pages.
            there: places of all pages and paths of all files of the site.
            directory_urls: whether addresses end in a slash rather than in `.html`.
            absolute: whether a link that begins with a slash counts from the folder of the pages.
        """
        self._path = path
        self._there = there
        self._absolute = absolute
        self._links = Links(page_place(path), directory_urls)

    def address(self, written: str) -> str:
        """The address that a link leads to; as it was written where it names no file of the site."""
        try:
            scheme, host, path, query, anchor = urlsplit(written)
        except ValueError:
            return written
        from_top = path.startswith("/") and self._absolute
        if scheme or host or not path or (path.startswith(("/", "\\")) and not from_top):
            return written
        start = "" if from_top else posixpath.dirname(self._path)
        target = page_place(posixpath.normpath(posixpath.join(start, unquote(path).lstrip("/"))))
        if target not in self._there:
            return written
        return urlunsplit(("", "", self._links.to(target), query, anchor))
