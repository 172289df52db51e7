"""The places of a site that belong to what is computed, and files of others that would lie there."""

from __future__ import annotations

import posixpath
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass, field

from notchbook.model.library import Library
from notchbook.pages.assets import asset_names
from notchbook.pages.page import page_uri
from notchbook.pages.reference import guide_texts

REPLACEABLE = {
    "index.md": "a department says on its first page what it wants to; all that ours lists stands on pages of its own",
    **dict.fromkeys(guide_texts.URIS, "a department explains in its own words how it keeps its handbook"),
}
"""Pages that a page by hand may take the place of, and why: none with a result, a reading or a caution."""
FOLDERS = ("records", "verifications", "swings", "comparisons", "lookup", "data")
"""Folders in which everything is computed: whatever else lay there would be read as a result."""
_ALONE = ("checks.md", "data.md", "reference/keys.md", "reference/values.md", "assets/sheet-foot.css")
_FINISHING = ("service-worker.js", "service-worker-kept.json", "search/search_index.json", "search/search_index.js")
"""Written when all else of the site is."""
_PAGES = (".md", ".markdown", ".mdown", ".mkdn", ".mkd")
"""The endings that MkDocs takes for pages."""


def computed_addresses(library: Library) -> set[str]:
    """Every page and file of the site by its path, but those in the folders where everything is computed."""
    ids = {
        "exercises": list(library.exercises),
        "rigs": [*library.rigs, *(f"{each}--wall-card" for each in library.rigs)],
        "materials": list(library.materials),
        "methods": list(library.methods),
    }
    sheets = {page_uri(folder, each) for folder, names in ids.items() for each in names}
    return {*sheets, *(f"{folder}/index.md" for folder in ids), *REPLACEABLE, *_ALONE, *asset_names()}


@dataclass(slots=True)
class Addresses:
    """What is taken, as the least careful of systems tells names apart: without case, forms or marks at an end."""

    taken: dict[str, str] = field(default_factory=dict)
    """Our paths, by the places in a site that they have in either form of addresses."""
    folders: dict[str, str] = field(default_factory=dict)
    """One of our paths in each folder."""

    @classmethod
    def of(cls, uris: Iterable[str]) -> Addresses:
        """The places of pages and files, with those that are written when the site is finished."""
        found = cls()
        for uri in (*uris, *_FINISHING):
            for place in _places(uri):
                found.taken[_folded(place)] = uri
                parent = posixpath.dirname(_folded(place))
                while parent and parent not in found.folders:
                    found.folders[parent] = uri
                    parent = posixpath.dirname(parent)
        return found

    def clash(self, uri: str, *places: str) -> str:
        """What is wrong with a page or file of somebody else's; nothing where it may lie there.

        Arguments:
            uri: its path, such as `records/x.md`.
            places: that it has in the site, besides those that MkDocs gives such a path.
        """
        for place in (*_places(uri), *places):
            folded = _folded(place)
            top = folded.partition("/")[0]
            if top in FOLDERS:
                return f"would lie in the folder '{top}' of the site, where everything is computed"
            ours = self.taken.get(folded)
            if ours in REPLACEABLE and uri.endswith(_PAGES) and place in _places(ours):
                continue
            while ours is None and "/" in folded:
                folded = posixpath.dirname(folded)
                ours = self.taken.get(folded)
            ours = ours or self.folders.get(_folded(place))
            if ours is not None:
                return f"would lie where '{ours}' is computed"
        return ""


def _places(uri: str) -> list[str]:
    """Where MkDocs puts a page or file, with addresses that end in `.html` and with such that end in a slash."""
    stem, ending = posixpath.splitext(uri)
    if ending not in _PAGES:
        return [uri]
    folder, name = posixpath.split(stem)
    if name in ("index", "README"):
        return [posixpath.join(folder, "index.html")]
    return [f"{stem}.html", f"{stem}/index.html"]


def _folded(path: str) -> str:
    """The path as systems tell it apart that know no case (Unicode 16, D145) and drop stops at the end of a name."""
    parts = unicodedata.normalize("NFD", unicodedata.normalize("NFD", path).casefold()).split("/")
    return "/".join(each.rstrip(". ") or each for each in parts)
