"""By what a folder is known for a site that a build may replace, sites of earlier versions and of MkDocs alone too."""

from __future__ import annotations

from typing import TYPE_CHECKING

from notchbook.reading.files import is_folder

if TYPE_CHECKING:
    from pathlib import Path

UNFINISHED = ".unfinished-site"
"""Stands in a site while it is neither the old one nor the new one."""
_FIRST_PAGES = ("index.html", "404.html")
_OWN = ("assets/notchbook.css",)
"""Files that every site of this package has had."""
_OF_SEARCH = ("search/search_index.json", "sitemap.xml")
"""Files that MkDocs writes together where nobody turned its search off."""
_SAID_BY_THEMES = (b'content="mkdocs-', b"MkDocs Version")
"""How the themes of MkDocs say in a first page what made it: in the generator, or in a remark at its end."""
_MOST_BYTES = 1 << 20


def is_site(folder: Path) -> bool:
    """Whether nothing is lost where a build empties the folder.

    It is missing, holds hidden files alone, which every build keeps, or shows the marks of an earlier build.
    """
    if not is_folder(folder):
        return not folder.exists()
    try:
        held = {each.name for each in folder.iterdir()}
    except OSError:
        return False
    if UNFINISHED in held or all(each.startswith(".") for each in held):
        return True
    pages = [folder / each for each in _FIRST_PAGES if (folder / each).is_file()]
    if not pages:
        return False
    whole = any(all((folder / each).is_file() for each in files) for files in (_OWN, _OF_SEARCH))
    return whole or any(_is_said(page) for page in pages)


def is_own_site(folder: Path) -> bool:
    """Whether the folder is a finished site of a handbook, whoever built it."""
    return all((folder / each).is_file() for each in (_FIRST_PAGES[0], *_OWN)) and not (folder / UNFINISHED).exists()


def _is_said(page: Path) -> bool:
    try:
        with page.open("rb") as file:
            text = file.read(_MOST_BYTES)
    except OSError:
        return False
    return any(each in text for each in _SAID_BY_THEMES)
