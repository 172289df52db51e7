"""Which files of a finished site a phone keeps after one visit, and the version that they are together."""

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

SERVICE_WORKER = "service-worker.js"
_LATER = ("lookup/", "records/", "verifications/")
"""Folders of pages that are many: kept in the background, in this order, after what is needed at a rig."""
_ON_VISIT = ("data/",)
"""Folders that are kept once they are asked for: numbers for scripts and spreadsheets."""
FOLDERS = _LATER + _ON_VISIT
"""Folders of the site in which there can be more than is listed."""
_NOT_KEPT = (".map", ".gz", "sitemap.xml", SERVICE_WORKER, "search/search_index.js", "pages.json")
"""Ends of paths that no page asks for: such as the index of a site that is opened from a disk, or an export's list."""
MOST_BYTES = 32 * 1024 * 1024
"""Of all that is kept without a visit: ample for two or three hundred records, and still little on a phone."""
LARGEST_BYTES = 1024 * 1024
"""Of a file that no page needs to be read, such as a picture: everybody would load a film at the first visit."""
_NEEDED = ((".html",), (".css", ".js", ".woff", ".woff2"), ("search/search_index.json",))
"""Ends of paths of what pages need to be read, the most important first; all else comes after it, small files first."""
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
    large: tuple[SiteFile, ...] = ()
    """Files that are loaded only where a page asks for them, because of their size or for want of room."""


def site_files(folder: Path) -> list[SiteFile]:
    """All files of a site but hidden ones, sorted by path."""
    found = []
    for each in folder.rglob("*"):
        path = each.relative_to(folder).as_posix()
        if each.is_file() and not path.startswith("."):
            with each.open("rb") as file:
                contents = hashlib.file_digest(file, "sha256").hexdigest()
            found.append(SiteFile(path, each.stat().st_size, contents[:_DIGITS]))
    return sorted(found, key=lambda each: each.path)


def kept_files(files: Iterable[SiteFile]) -> KeptFiles:
    """Choose what is kept, as far as there is room: what pages need, small files, then the newest records."""
    kept = [each for each in files if not each.path.endswith(_NOT_KEPT)]
    version = hashlib.sha256("\n".join(f"{each.contents} {each.path}" for each in kept).encode("utf-8"))
    first = [each for each in kept if each.path.endswith(".html") or not each.path.startswith(_ON_VISIT)]
    first = [each for each in first if not each.path.startswith(_LATER)]
    room, chosen, large = MOST_BYTES, [], []
    for each in sorted(first, key=lambda file: (_rank(file), file.size, file.path)):
        if each.size > room or (each.size > LARGEST_BYTES and _rank(each) == len(_NEEDED)):
            large.append(each)
            continue
        room -= each.size
        chosen.append(each)
    later = []
    for folder in _LATER:
        # ids begin with their day, so that the newest come last by name
        for each in reversed([each for each in kept if each.path.startswith(folder)]):
            room -= each.size
            if room >= 0:
                later.append(each)
    return KeptFiles(
        version.hexdigest()[:_DIGITS],
        {each.path: each.contents for each in chosen},
        {each.path: each.contents for each in later},
        tuple(large),
    )


def _rank(file: SiteFile) -> int:
    return next((rank for rank, ends in enumerate(_NEEDED) if file.path.endswith(ends)), len(_NEEDED))
