"""Which files decide what a site publishes: settings, pages, templates, code that runs when it is built, data."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import PurePosixPath
from typing import TYPE_CHECKING

from notchbook.reading.folder import HAZARDS_FILES, PROCEDURE_FOLDERS, RESULT_FOLDERS
from notchbook.site_reading.pages import PAGE_SUFFIXES
from notchbook.site_reading.site_config import config_path, read_site_config

if TYPE_CHECKING:
    from pathlib import Path

    from notchbook.model.settings import Settings

KINDS = ("code", "template", "script", "style", "page", "file")
"""Of files beside the data, what weighs most first."""
_CODE = frozenset({".py", ".so", ".pyd"})
_SUFFIXES = {
    **dict.fromkeys((".js", ".mjs", ".cjs", ".wasm"), "script"),
    ".css": "style",
    **dict.fromkeys((".html", ".htm", ".xhtml", *PAGE_SUFFIXES), "page"),
}
_TEMPLATES = frozenset({".html", ".htm", ".xml", ".txt", ".j2", ".jinja", ".jinja2"})


@dataclass(frozen=True, slots=True)
class SiteFolders:
    """Paths relative to the handbook's root, with forward slashes; outside of it they begin with `..`."""

    settings: tuple[str, ...]
    """The settings file and those that it inherits from."""
    docs: str | None
    """None where no site is set up."""
    custom_dir: str | None
    hooks: tuple[str, ...]
    data: tuple[str, ...]
    """Folders of data files, and the list of hazards."""

    @property
    def hook_folders(self) -> tuple[str, ...]:
        """Where a hook finds the modules that it imports."""
        return tuple(dict.fromkeys(os.path.dirname(each) or "." for each in self.hooks))  # noqa: PTH120

    @property
    def tops(self) -> tuple[str, ...]:
        """Every folder and file to look into."""
        places = (self.docs, self.custom_dir, *self.hooks, *self.hook_folders, *self.data)
        return tuple(dict.fromkeys(each for each in places if each is not None))

    def kind_of(self, path: str) -> str | None:
        """What a file is to the site, one of KINDS; None for data and for what is no part of the site."""
        suffix = PurePosixPath(path).suffix.lower()
        if path in self.hooks or (suffix in _CODE and any(_is_module(path, each) for each in self.hook_folders)):
            return "code"
        if self.custom_dir is not None and is_below(path, self.custom_dir):
            return "template" if suffix in _TEMPLATES else _SUFFIXES.get(suffix, "file")
        return _SUFFIXES.get(suffix, "file") if self.docs is not None and is_below(path, self.docs) else None

    def leads_to_data(self, path: str) -> bool:
        """Whether data is looked for at a path, below it or above."""
        return any(is_below(path, each) or is_below(each, path) for each in self.data)

    def is_read(self, path: str) -> bool:
        """Whether the handbook reads what is at a path, or below it: data or hand-written pages."""
        docs = self.docs is not None and (is_below(path, self.docs) or is_below(self.docs, path))
        return docs or self.leads_to_data(path)

    def holds_data(self, path: str) -> bool:
        """Whether a file lies where data is looked for."""
        return any(is_below(path, each) for each in self.data)


def site_folders(root: Path, settings: Settings) -> SiteFolders:
    """The folders of a handbook.

    Arguments:
        root: the handbook's root.
        settings: those of the plugin.
    """
    site = read_site_config(config_path(root))

    def relative(path: Path) -> str:
        return os.path.relpath(path, site.root).replace(os.sep, "/")

    set_up = os.path.lexists(site.path)
    data = [f"{settings.procedures}/{name}" for name in (*PROCEDURE_FOLDERS.values(), *HAZARDS_FILES)]
    data += [f"{settings.results}/{name}" for name in RESULT_FOLDERS.values()]
    return SiteFolders(
        tuple(map(relative, site.files)) if set_up else (),
        relative(site.docs_dir) if set_up and site.docs_dir is not None else None,
        relative(site.custom_dir) if site.custom_dir is not None else None,
        tuple(map(relative, site.hooks)),
        tuple(os.path.normpath(each).replace(os.sep, "/") for each in data),
    )


def is_below(path: str, folder: str) -> bool:
    """Whether a path is a folder's, or lies below it."""
    return folder == "." or path == folder or path.startswith(f"{folder}/")


def _is_module(path: str, folder: str) -> bool:
    # below the handbook's root lie environments with thousands of modules
    return "/" not in path if folder == "." else is_below(path, folder)
