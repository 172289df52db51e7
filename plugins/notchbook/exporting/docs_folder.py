"""Which files among the hand-written pages are published, as MkDocs tells it."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from pathspec.gitignore import GitIgnoreSpec

from notchbook.reading.files import is_folder
from notchbook.site_reading.pages import below

USUALLY_LEFT_OUT = (".*", "/templates/")
"""Patterns of what MkDocs leaves out without being told."""


def published_files(root: Path, folder: Path, values: Mapping[Any, Any]) -> dict[str, Path]:
    """Every file below the folder that is published, by its path relative to it.

    Arguments:
        root: of the handbook.
        folder: of the hand-written pages.
        values: the settings of the site; what they name as excluded or as a draft is left out.
    """
    excluded = GitIgnoreSpec.from_lines([*USUALLY_LEFT_OUT, *_lines(values.get("exclude_docs"))])
    drafts = GitIgnoreSpec.from_lines(_lines(values.get("draft_docs")))
    found = {}
    for path in below(root, folder):
        relative = path.relative_to(folder).as_posix()
        if not is_folder(path) and not excluded.match_file(relative) and not drafts.match_file(relative):
            found[relative] = path
    return found


def _lines(patterns: Any) -> list[str]:
    return patterns.splitlines() if isinstance(patterns, str) else []
