"""What a phone loads: the first visit of a page, and what is kept behind it for when there is no network."""

import gzip
import json
import posixpath
from collections.abc import Iterable
from dataclasses import dataclass
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote

from notchbook.building.kept_files import kept_files, site_files

INDEX = "search/search_index.json"
MOST_FIRST_VISIT_kB = 200.0
"""Of the first visit to a page, with all that it asks for, as it travels."""
MOST_EXERCISE_kB = 150.0
"""Of the HTML of an exercise's page, before it is compressed."""
_LEVEL = 6
"""What servers compress with unless they are told otherwise."""


@dataclass(frozen=True, slots=True)
class Kept:
    """What a phone keeps after one visit without being asked."""

    files: int
    all_files: int
    """Of the site, kept or not."""
    travels_kB: float
    """Compressed."""
    holds_kB: float
    """On the phone."""


def loaded(site: Path, page: str) -> list[str]:
    """Paths in the site of all that a browser loads to show a page: itself, styles, scripts, pictures, search."""
    parser = _Loads()
    parser.feed((site / page).read_text(encoding="utf-8"))
    found = [unquote(each.partition("?")[0].partition("#")[0]) for each in parser.addresses]
    folder = posixpath.dirname(page)
    return [page, *dict.fromkeys(posixpath.normpath(posixpath.join(folder, each)) for each in found)]


def travelling_kB(site: Path, paths: Iterable[str]) -> float:
    """Files of a site as they travel: compressed, but for those that this would not make smaller."""
    return sum(_travelling_bytes((site / each).read_bytes()) for each in paths) / 1000.0


def kept(site: Path) -> Kept:
    """What is kept in the background after the first visit."""
    files = site_files(site)
    chosen = kept_files(files)
    paths = [*chosen.first, *chosen.later]
    sizes = {each.path: each.size for each in files}
    return Kept(len(paths), len(files), travelling_kB(site, paths), sum(sizes[each] for each in paths) / 1000.0)


def _travelling_bytes(content: bytes) -> int:
    return min(len(content), len(gzip.compress(content, _LEVEL)))


class _Loads(HTMLParser):
    """Collects the addresses that a page loads by itself."""

    def __init__(self) -> None:
        super().__init__()
        self.addresses: list[str] = []
        self._in_settings = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        named = {name: value or "" for name, value in attrs}
        address = named.get("src", "") if tag in ("script", "img") else ""
        if tag == "link" and {"stylesheet", "icon"} & set(named.get("rel", "").split()):
            address = named.get("href", "")
        if address and not address.startswith("data:"):
            self.addresses.append(address)
        self._in_settings = tag == "script" and named.get("id") == "__config"

    def handle_data(self, data: str) -> None:
        # the theme starts its search with every page; the index waits until somebody searches
        if self._in_settings:
            self.addresses.append(json.loads(data)["search"])
            self._in_settings = False
