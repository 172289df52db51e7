"""What a finished site still needs to be read without a network: from a phone that visited it, or from a disk."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING

from notchbook.building.kept_files import FOLDERS, SERVICE_WORKER, kept_files, site_files

if TYPE_CHECKING:
    from collections.abc import Iterable

_SOURCE = Path(__file__).resolve().parent.parent / "templates/service-worker.js"
_INDEX = "search/search_index.json"
_INDEX_SCRIPT = "search/search_index.js"


def finish(folder: Path) -> None:
    """Write the service worker, and the search index as a script: pages on a disk can read no other file.

    Arguments:
        folder: of the finished site.

    Raises:
        OSError: a file cannot be written.
    """
    index = folder / _INDEX
    if index.is_file():
        (folder / _INDEX_SCRIPT).write_text(f"var __index = {index.read_text('utf-8')}", encoding="utf-8", newline="\n")
    (folder / SERVICE_WORKER).write_text(service_worker(folder), encoding="utf-8", newline="\n")


def service_worker(folder: Path) -> str:
    """The service worker of a site: what it keeps, then how."""
    kept = kept_files(site_files(folder))
    named = {"version": kept.version, "first": kept.first, "later": kept.later, "folders": FOLDERS}
    site = json.dumps(named, separators=(",", ":"))
    return f"const SITE = {site};\n{_SOURCE.read_text('utf-8')}"


def is_dead_weight(path: str, languages: Iterable[str]) -> bool:
    """Whether no page asks for a file that the theme brings.

    Arguments:
        path: of the file in the site.
        languages: that the search knows; English needs no rules of its own.
    """
    if path.startswith("assets/") and path.endswith(".map"):
        return True
    return path.startswith("assets/javascripts/lunr/") and set(languages) <= {"en"}
