"""What lies at hand in the folders that decide what a site publishes; no link is followed."""

from __future__ import annotations

import os
import stat
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

    from notchbook.review.site_folders import SiteFolders

MOST_FILES = 200_000


@dataclass(slots=True)
class AtHand:
    """Paths relative to the handbook's root, with forward slashes; bytes that are no text as in `os.fsdecode`."""

    files: set[str] = field(default_factory=set)
    others: dict[str, str] = field(default_factory=dict)
    """What is no plain file and is not looked into, with what it is in words."""
    seen: int = 0

    def covered(self, path: str) -> bool:
        """Whether a path is or lies below something that is not looked into."""
        parts = path.split("/")
        return any("/".join(parts[:count]) in self.others for count in range(1, len(parts) + 1))


def at_hand(root: Path, folders: SiteFolders) -> AtHand:
    """Walk the folders; whatever cannot be looked into is kept with its reason."""
    found = AtHand()
    for top in folders.tops:
        if top == ".." or top.startswith("../"):
            found.others[top] = "lies outside of the handbook"
        elif top == ".":
            _look_in(root, found)
        elif not found.covered(top) and not _on_the_way(root, top, found):
            _look(root, top, found)
    return found


def _look_in(root: Path, found: AtHand) -> None:
    """Keep what lies in the root itself."""
    with os.scandir(root) as entries:
        for each in entries:
            if each.is_file(follow_symlinks=False):
                found.files.add(each.name)
            elif each.is_symlink() and each.name.endswith(".py"):
                found.others[each.name] = _not_walked(root / each.name)


def _on_the_way(root: Path, top: str, found: AtHand) -> bool:
    """Keep a folder that leads to the top and is no plain folder of the handbook."""
    parts = top.split("/")
    for count in range(1, len(parts)):
        path = "/".join(parts[:count])
        what = _not_walked(root / path)
        if what:
            found.others[path] = what
            return True
    return False


def _look(root: Path, top: str, found: AtHand) -> None:
    waiting = [top]
    while waiting:
        path = waiting.pop()
        found.seen += 1
        if found.seen > MOST_FILES:
            found.others[path] = f"is beyond the first {MOST_FILES:,} files"
            return
        try:
            about = (root / path).lstat()
        except FileNotFoundError:
            continue
        except (OSError, ValueError):
            found.others[path] = "cannot be read"
            continue
        if stat.S_ISREG(about.st_mode):
            found.files.add(path)
            continue
        what = _not_walked(root / path)
        if what:
            found.others[path] = what
            continue
        try:
            waiting += [f"{path}/{name}" for name in os.listdir(root / path)]  # noqa: PTH208  # names are enough
        except OSError:
            found.others[path] = "cannot be read"


def _not_walked(path: Path) -> str:
    """What a path is where it is no plain folder; nothing where it is one, or is not there."""
    try:
        mode = path.lstat().st_mode
    except (OSError, ValueError):
        return ""
    if stat.S_ISLNK(mode):
        return "is a link, which is not followed"
    if not stat.S_ISDIR(mode):
        return "is no file that can be read"
    return "is a repository of its own, which is not looked into" if os.path.lexists(path / ".git") else ""
