"""Styles, scripts and whatever else the site carries beside its pages, copied as they are."""

from collections.abc import Iterable, Sequence
from pathlib import Path

ASSETS = Path(__file__).resolve().parent.parent / "assets"
FOLDER = "assets"
THEME_STYLE = "assets/theme.css"
"""For what the theme shows around the pages; before the others."""
STYLES = (
    "assets/notchbook.css",
    "assets/pages.css",
    "assets/steps.css",
    "assets/worksheet/worksheet.css",
    "assets/offline/offline.css",
    "assets/print.css",
    "assets/sheet-foot.css",
)
"""On every page, in this order."""
THEME_SCRIPT = "assets/theme.js"
"""For what the theme shows around the pages."""
SCRIPTS = (THEME_SCRIPT, "assets/records.js", "assets/due.js", "assets/offline/printed-address.js")
"""On every page, in this order; a script of one kind of page is named by that page's template."""
FIRST_SCRIPTS = ("assets/offline/file-search.js", "assets/offline/search-later.js")
"""On every page before the theme's own scripts."""
KEEP_SCRIPT, FORGET_SCRIPT = "assets/offline/keep.js", "assets/offline/forget.js"
"""On every page: the former of a site that is published, the latter of a preview."""


def before(ours: Sequence[str], others: Iterable[str]) -> list[str]:
    """The paths of a setting of the site with the handbook's own first, none of them twice.

    So styles of a department can change what the handbook's say.
    """
    return [*ours, *(each for each in others if each not in ours)]


def missing_scripts(others: Iterable[object], *, preview: bool) -> list[str]:
    """The handbook's scripts but those that a setting of the site names already.

    Arguments:
        others: what it names.
        preview: whether the site is shown while it is written, and nothing of it is to be kept by a browser.
    """
    named = set(map(str, others))
    return [each for each in (*SCRIPTS, FORGET_SCRIPT if preview else KEEP_SCRIPT) if each not in named]


def asset_names() -> list[str]:
    """Paths in the site of every file of the package's assets."""
    return [f"{FOLDER}/{each.relative_to(ASSETS).as_posix()}" for each in sorted(ASSETS.rglob("*")) if each.is_file()]


def asset_files() -> dict[str, bytes]:
    """Every file of the package's assets by its path in the site."""
    return {each: (ASSETS.parent / each).read_bytes() for each in asset_names()}
