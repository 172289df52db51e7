"""Styles, scripts and whatever else the site carries beside its pages, copied as they are."""

from __future__ import annotations

from pathlib import Path

ASSETS = Path(__file__).resolve().parent.parent / "assets"
FOLDER = "assets"
STYLES = ("assets/notchbook.css", "assets/pages.css", "assets/print.css")
"""On every page, in this order."""
SCRIPTS = ("assets/records.js",)
"""On every page, in this order; a script of one kind of page is named by that page's template."""


def asset_files() -> dict[str, bytes]:
    """Every file of the package's assets by its path in the site."""
    return {
        f"{FOLDER}/{each.relative_to(ASSETS).as_posix()}": each.read_bytes()
        for each in sorted(ASSETS.rglob("*"))
        if each.is_file()
    }
