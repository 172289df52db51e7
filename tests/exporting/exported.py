"""Exports of a small handbook by the command, in this process."""

from collections.abc import Mapping
from pathlib import Path

from click.testing import CliRunner, Result

import small_handbook as small
from notchbook.cli import main

DAY = "1793577600"
"""2 November 2026 in seconds of Unix time."""
SETTINGS = "site_name: Bench\nuse_directory_urls: false\ntheme: {name: material, language: en}\nplugins: [notchbook]\n"


def handbook(root: Path, settings: str = SETTINGS, pages: Mapping[str, str | bytes] | None = None) -> Path:
    """The small handbook with settings and with pages by hand, by their paths."""
    files = {f"docs/{name}": text for name, text in (pages or {}).items()}
    return small.write(root, {**small.files(), "mkdocs.yml": settings, "docs/.keep": "", **files})


def export(root: Path, target: Path, *options: str) -> Result:
    """Run the command on a fixed day."""
    arguments = ["export", str(target), "--root", str(root), *options]
    return CliRunner(env={"SOURCE_DATE_EPOCH": DAY}).invoke(main, arguments)


def contents(folder: Path) -> dict[str, bytes]:
    """All files of a folder by their path in it."""
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}
