"""The hand-written pages of a handbook: their text, and what lies among them that must not be published."""

import os
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from notchbook.findings import Finding, Rule
from notchbook.model.settings import Settings
from notchbook.reading import rules
from notchbook.reading.blanks import to_fill_in
from notchbook.reading.document import finding_of
from notchbook.reading.files import (
    Refused,
    is_file,
    is_folder,
    is_link,
    is_within,
    link_trouble,
    meant_folder,
    missing_folder_hint,
    relative_path,
    text_of,
    walk,
)
from notchbook.reading.nodes import place_at
from notchbook.site_reading import site_rules
from notchbook.site_reading.docs_files import docs_file_findings
from notchbook.site_reading.site_config import SiteConfig, repository_of

# The endings that MkDocs takes for pages.
PAGE_SUFFIXES = frozenset({".md", ".markdown", ".mdown", ".mkdn", ".mkd"})

# Of HTML, and in no name on Windows (Microsoft, "Naming Files, Paths, and Namespaces").
_UNSHOWABLE = frozenset('<>"')

_MUCH_ALIKE = 0.8
"""Of names, such as `doc` and `docs`: the one is meant by the other."""


@dataclass(frozen=True, slots=True)
class WrittenPage:
    """One hand-written page."""

    path: str
    """Relative to the handbook's root, with forward slashes."""
    text: str

    def finding(self, rule: Rule, start: int, message: str, hint: str) -> Finding:
        """A finding at a place in the text, from 0."""
        return finding_of(rule, self.path, place_at(self.text, start), message, hint)


def prose_folder(root: Path, settings: Settings) -> Path | None:
    """The folder of the hand-written pages; None where there is none, or one that is refused as a whole."""
    folder = root / settings.prose if settings.prose is not None else None
    if folder is None or is_within(root, folder) or not is_within(folder, root):
        return None
    return folder


def missing_folder(config: SiteConfig, settings: Settings) -> Path | None:
    """The folder of the hand-written pages where it is not there, as git keeps none that is empty; else None."""
    folder = config.docs_dir if settings.prose is not None else None
    return folder if folder is not None and not is_folder(folder) else None


def folder_findings(config: SiteConfig, settings: Settings) -> Iterator[Finding]:
    """What is wrong with the name of the folder of the hand-written pages: all that was written would be left out."""
    folder = missing_folder(config, settings)
    if folder is not None and meant_folder(folder, _MUCH_ALIKE) is not None:
        message = f"'docs_dir' is '{settings.prose}', a folder that does not exist"
        yield config.finding(("docs_dir",), message, missing_folder_hint(folder))


def theme_folder(root: Path, settings: Settings) -> Path | None:
    """The folder of the theme's own files; None where there is none, or one that is refused as a whole."""
    folder = root / settings.theme if settings.theme is not None else None
    if folder is None or is_within(root, folder) or not is_within(folder, repository_of(root) or root):
        return None
    return folder


def read_pages(
    root: Path, folder: Path, scripts: frozenset[str] | None = None
) -> tuple[list[WrittenPage], list[Finding]]:
    """Every page below the folder, and what is wrong with files there.

    A builder copies whatever lies there and follows every link, so that files that are no pages are looked at too.
    Scripts are those that mkdocs.yml names; None where files may do to their readers what they like.
    """
    pages: list[WrittenPage] = []
    found: list[Finding] = []

    def refuse(path: Path, rule: Rule, message: str, hint: str, place: tuple[int, int] = (1, 1)) -> None:
        found.append(finding_of(rule, relative_path(root, path), place, message, hint))

    for path in below(root, folder):
        found += _name_findings(root, path, scripts)
        leads_to = link_trouble(root, path) or _leads_back(folder, path) or _leads_to_hidden(root, folder, path)
        if leads_to:
            refuse(path, rules.FILE_PLACE, f"is a link that leads {leads_to}", "copy in what is meant")
        elif is_folder(path):
            if not os.access(path, os.R_OK | os.X_OK):
                refuse(path, rules.FILE_TEXT, "cannot be read: Permission denied", "check that you may read the folder")
        elif not is_file(path):
            refuse(path, rules.FILE_TEXT, "is no file that can be read", "put the file itself in its place")
        elif path.suffix in PAGE_SUFFIXES:
            text = text_of(path)
            if isinstance(text, Refused):
                refuse(path, text.rule, text.message, text.hint, text.place)
            else:
                pages.append(WrittenPage(relative_path(root, path), text))
                found += to_fill_in(relative_path(root, path), text)
        elif scripts is not None:
            found += docs_file_findings(root, folder, path, scripts)
    return pages, found


def _name_findings(root: Path, path: Path, scripts: frozenset[str] | None) -> Iterator[Finding]:
    if scripts is not None and not _UNSHOWABLE.isdisjoint(path.name):
        message = "has a sign of HTML in its name, which titles and links would be made of"
        hint = 'rename it without <, > and "'
        yield finding_of(site_rules.DOCS_FILE, relative_path(root, path), (1, 1), message, hint)


def below(root: Path, folder: Path) -> Iterator[Path]:
    """Everything that a builder finds below the folder; it follows links to folders.

    It leaves out what is hidden unless it is told not to: of that only the links out of the handbook are given.
    """
    waiting = [folder]
    for top in waiting:
        for path in walk(top):
            hidden = any(part.startswith(".") for part in path.relative_to(folder).parts)
            if hidden and not link_trouble(root, path):
                continue
            yield path
            linked = not hidden and is_link(path) and is_folder(path) and not link_trouble(root, path)
            if linked and not _leads_back(folder, path) and path.resolve() not in {each.resolve() for each in waiting}:
                waiting.append(path)


def _leads_to_hidden(root: Path, folder: Path, path: Path) -> str:
    """Where a link leads whose target a builder would never publish from where it lies, such as the history."""
    if not is_link(path) or path.resolve().is_relative_to(folder.resolve()):
        return ""
    below = path.resolve().relative_to(root.resolve())
    return "to what is hidden" if any(part.startswith(".") for part in below.parts) else ""


def _leads_back(folder: Path, path: Path) -> str:
    """Where a link to a folder leads that would be followed without end, or publish the same pages twice."""
    if not is_link(path) or not is_folder(path):
        return ""
    top, target = folder.resolve(), path.resolve()
    return "back to the pages" if target.is_relative_to(top) or top.is_relative_to(target) else ""
