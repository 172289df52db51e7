"""What a finished site still needs to be read without a network: from a phone that visited it, or from a disk."""

import json
from collections.abc import Iterable
from pathlib import Path

from notchbook.building.kept_files import FOLDERS, SERVICE_WORKER, kept_files, site_files

_SOURCE = Path(__file__).resolve().parent.parent / "templates/service-worker.js"
SEARCH_INDEX = "search/search_index.json"
"""What MkDocs and its forks search."""
_INDEX_SCRIPT = "search/search_index.js"


def finish(folder: Path) -> list[str]:
    """Write the service worker, and the search index as a script: pages on a disk can read no other file.

    Returns in words the files that are too large to be kept; raises OSError where one cannot be written.
    """
    index = folder / SEARCH_INDEX
    if index.is_file():
        (folder / _INDEX_SCRIPT).write_text(f"var __index = {index.read_text('utf-8')}", encoding="utf-8", newline="\n")
    kept = kept_files(site_files(folder))
    named = {"version": kept.version, "first": kept.first, "later": kept.later, "folders": FOLDERS}
    site = json.dumps(named, separators=(",", ":"))
    worker = f"const SITE = {site};\n{_SOURCE.read_text('utf-8')}"
    (folder / SERVICE_WORKER).write_text(worker, encoding="utf-8", newline="\n")
    large = ((each.path, each.size / 1e6) for each in kept.large)
    return [f"'{path}' has {size_MB:.1f} MB: phones do not keep it, it needs a network" for path, size_MB in large]


def is_dead_weight(path: str, languages: Iterable[str]) -> bool:
    """Whether no page asks for a file that the theme brings; for English the search needs no rules of its own."""
    if path.startswith("assets/") and path.endswith(".map"):
        return True
    return path.startswith("assets/javascripts/lunr/") and set(languages) <= {"en"}
