"""The hand-written pages of a handbook: their text, and what lies among them that must not be published."""

from __future__ import annotations

import os
import stat
from dataclasses import dataclass
from typing import TYPE_CHECKING

from notchbook.reading import rules
from notchbook.reading.document import finding_of
from notchbook.reading.files import Refused, is_folder, link_trouble, relative_path, text_of, walk
from notchbook.reading.nodes import place_at

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from notchbook.findings import Finding, Rule

# The endings that MkDocs takes for pages.
_SUFFIXES = frozenset({".md", ".markdown", ".mdown", ".mkdn", ".mkd"})


@dataclass(frozen=True, slots=True)
class WrittenPage:
    """One hand-written page."""

    path: str
    """Relative to the handbook's root, with forward slashes."""
    text: str

    def finding(self, rule: Rule, start: int, message: str, hint: str) -> Finding:
        """A finding at a place in the text, from 0."""
        return finding_of(rule, self.path, place_at(self.text, start), message, hint)


def read_pages(root: Path, folder: Path) -> tuple[list[WrittenPage], list[Finding]]:
    """Every page below the folder, and what is wrong with files there.

    A builder copies whatever lies there and follows every link, so that files that are no pages are looked at too.
    """
    pages: list[WrittenPage] = []
    found: list[Finding] = []

    def refuse(path: Path, rule: Rule, message: str, hint: str, place: tuple[int, int] = (1, 1)) -> None:
        found.append(finding_of(rule, relative_path(root, path), place, message, hint))

    for path in _below(folder):
        leads_to = link_trouble(root, path) or _leads_back(folder, path)
        if leads_to:
            refuse(path, rules.FILE_PLACE, f"is a link that leads {leads_to}", "copy in what is meant")
        elif is_folder(path):
            if not os.access(path, os.R_OK | os.X_OK):
                refuse(path, rules.FILE_TEXT, "cannot be read: Permission denied", "check that you may read the folder")
        elif not _is_file(path):
            refuse(path, rules.FILE_TEXT, "is no file that can be read", "put the file itself in its place")
        elif path.suffix in _SUFFIXES:
            text = text_of(path)
            if isinstance(text, Refused):
                refuse(path, text.rule, text.message, text.hint, text.place)
            else:
                pages.append(WrittenPage(relative_path(root, path), text))
    return pages, found


def _below(folder: Path) -> Iterator[Path]:
    """Everything that a builder finds below the folder; it leaves out what is hidden and follows links to folders."""
    waiting = [folder]
    for top in waiting:
        for path in walk(top):
            if any(part.startswith(".") for part in path.relative_to(folder).parts):
                continue
            yield path
            linked = path.is_symlink() and is_folder(path)
            if linked and not _leads_back(folder, path) and path.resolve() not in {each.resolve() for each in waiting}:
                waiting.append(path)


def _leads_back(folder: Path, path: Path) -> str:
    """Where a link to a folder leads that would be followed without end, or publish the same pages twice."""
    if not path.is_symlink() or not is_folder(path):
        return ""
    top, target = folder.resolve(), path.resolve()
    return "back to the pages" if target.is_relative_to(top) or top.is_relative_to(target) else ""


def _is_file(path: Path) -> bool:
    try:
        return stat.S_ISREG(path.stat().st_mode)
    except OSError:
        return False
