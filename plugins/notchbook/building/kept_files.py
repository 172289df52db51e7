"""Which files of a finished site a phone keeps after one visit, and the version that they are together."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

SERVICE_WORKER = "service-worker.js"
_LATER = ("lookup/", "records/", "verifications/")
"""Folders of pages that are many: kept in the background, in this order, after what is needed at a rig."""
_ON_VISIT = ("data/",)
"""Folders that are kept once they are asked for: numbers for scripts and spreadsheets."""
FOLDERS = _LATER + _ON_VISIT
"""Folders of the site in which there can be more than is listed."""
_NOT_KEPT = (".map", ".gz", "sitemap.xml", SERVICE_WORKER, "search/search_index.js")
"""Ends of paths that no page asks for: the last is the index of a site that is opened from a disk."""
MOST_BYTES = 32 * 1024 * 1024
"""Of all that is kept without a visit: ample for two or three hundred records, and still little on a phone."""
_DIGITS = 16


@dataclass(frozen=True, slots=True)
class SiteFile:
    """One file of a finished site."""

    path: str
    """Relative to the site, with forward slashes."""
    size: int
    """In bytes."""
    contents: str
    """Hash of what it holds."""


@dataclass(frozen=True, slots=True)
class KeptFiles:
    """What is kept."""

    version: str
    """Hash of all files of the site."""
    first: dict[str, str]
    """Hashes of contents by path: kept before this version answers at all."""
    later: dict[str, str]
    """Kept in the background."""


def site_files(folder: Path) -> list[SiteFile]:
    """All files of a site but hidden ones, sorted by path."""
    found = []
    for each in folder.rglob("*"):
        path = each.relative_to(folder).as_posix()
        if each.is_file() and not path.startswith("."):
            content = each.read_bytes()
            found.append(SiteFile(path, len(content), hashlib.sha256(content).hexdigest()[:_DIGITS]))
    return sorted(found, key=lambda each: each.path)


def kept_files(files: Iterable[SiteFile]) -> KeptFiles:
    """Choose what is kept: the newest records first, as far as there is room."""
    kept = [each for each in files if not each.path.endswith(_NOT_KEPT)]
    version = hashlib.sha256("\n".join(f"{each.contents} {each.path}" for each in kept).encode("utf-8"))
    first = [each for each in kept if each.path.endswith(".html") or not each.path.startswith(_ON_VISIT)]
    first = [each for each in first if not each.path.startswith(_LATER)]
    room = MOST_BYTES - sum(each.size for each in first)
    later = []
    for folder in _LATER:
        # ids begin with their day, so that the newest come last by name
        for each in reversed([each for each in kept if each.path.startswith(folder)]):
            room -= each.size
            if room >= 0:
                later.append(each)
    return KeptFiles(
        version.hexdigest()[:_DIGITS],
        {each.path: each.contents for each in first},
        {each.path: each.contents for each in later},
    )
