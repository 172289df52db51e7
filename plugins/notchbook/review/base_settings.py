"""The settings of a site at a commit: its mkdocs.yml, and the files that it inherits from."""

from __future__ import annotations

from typing import TYPE_CHECKING

from notchbook.commits import FILE, LINK, REPOSITORY, entries
from notchbook.reading.files import Refused, text_of
from notchbook.review.blobs import listed_words
from notchbook.site_reading import site_rules
from notchbook.site_reading.site_config import CONFIG_NAMES, read_site_config

if TYPE_CHECKING:
    from pathlib import Path

    from notchbook.commits import Entry
    from notchbook.review.blobs import Blobs

_OBSTACLES = {LINK: "was a link, which is not followed", REPOSITORY: "was a repository of its own, which is not read"}


def plain_file(top: Path, commit: str, path: str) -> tuple[Entry | None, str]:
    """The plain file that a commit has at a path, and what stands in the way in words: a link or another repository."""
    parts = path.split("/") if path else []
    way = ["/".join(parts[:count]) for count in range(1, len(parts) + 1)]
    if not way:
        return None, ""
    found = {each.path: each for each in entries(top, commit, *way, deep=False)}
    for each in way:
        if each in found and found[each].kind in _OBSTACLES:
            return None, f"{listed_words([each])} {_OBSTACLES[found[each].kind]}"
    entry = found.get(path)
    return (entry if entry is not None and entry.kind == FILE else None), ""


def write_settings(
    top: Path, commit: str, prefix: str, blobs: Blobs, target: Path
) -> tuple[dict[str, Entry], list[str]]:
    """Write the site's settings and all that they inherit from.

    Returns:
        The files by their paths from the top of the repository, and in words what stood in the way of one of them.
    """
    files: dict[str, Entry] = {}
    obstacles: list[str] = []

    def read(path: Path) -> str | Refused:
        name = path.relative_to(target).as_posix()
        entry, obstacle = plain_file(top, commit, name)
        if entry is None:
            obstacles.extend([obstacle] if obstacle else [])
            return Refused(site_rules.SETTINGS, obstacle or "is not there", "")
        files[name] = entry
        blobs.write([entry])
        return text_of(path)

    for name in CONFIG_NAMES:
        if any(plain_file(top, commit, prefix + name)):
            read_site_config(target / prefix / name, boundary=target, read=read)
            break
    return files, obstacles
