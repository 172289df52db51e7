"""Where an export may be written, and the list by which a folder is known for one: nothing else may be lost."""

import json
from pathlib import Path
from typing import Any

from notchbook.exporting.content import Content
from notchbook.model.settings import Settings
from notchbook.reading.files import is_folder
from notchbook.site_reading.site_config import SiteConfig
from notchbook.site_reading.site_places import UNFINISHED, is_site, place_trouble
from notchbook.version import __version__

LIST = "pages.json"
"""In every export: the pages, the navigation, and every file that the export wrote."""
_MOST_BYTES = 64 * 1024 * 1024


def export_trouble(config: SiteConfig, settings: Settings, folder: Path) -> str:
    """Why nothing may be written to the folder; empty where it is missing, empty or an earlier export and no more."""
    trouble = place_trouble(config, settings, folder)
    if trouble or not (folder.exists() or folder.is_symlink()):
        return trouble
    if not is_folder(folder):
        return "is a file"
    held = [each for each in sorted(folder.iterdir()) if not each.name.startswith(".")]
    if not held or (folder / UNFINISHED).exists():
        return ""
    listed = _listed(folder / LIST)
    if listed is None:
        return "is a folder that holds files and no earlier export: all of them would be deleted"
    for path in sorted(folder.rglob("*")):
        name = path.relative_to(folder).as_posix()
        if is_folder(path) or name in listed or name.startswith(".") or _is_built(folder, name):
            continue
        return f"holds '{name[:100]}', which no export wrote"
    return ""


def _is_built(folder: Path, name: str) -> bool:
    """Whether a builder made the file of the export that lies there."""
    return name.startswith("site/") and (folder / "docs").is_dir() and is_site(folder / "site")


def _listed(path: Path) -> frozenset[str] | None:
    try:
        if path.stat().st_size > _MOST_BYTES:
            return None
        found = json.loads(path.read_text("utf-8"))
    except (OSError, ValueError, RecursionError):
        return None
    files = found.get("files") if isinstance(found, dict) and "notchbook" in found else None
    if not isinstance(files, list) or not all(isinstance(each, str) for each in files):
        return None
    return frozenset({*files, LIST})


def page_list(content: Content, form: str, folder: Path) -> str:
    """What the list of an export says, as JSON.

    Arguments:
        content: that was written.
        form: `markdown` or `html`.
        folder: that holds it.
    """
    files = sorted(each.relative_to(folder).as_posix() for each in folder.rglob("*") if each.is_file())
    pages = [
        {
            "path": page.src_uri,
            "title": page.title,
            "headings": [{"level": each.level, "anchor": each.anchor, "title": each.title} for each in page.headings],
            "source": page.source,
            "boost": page.boost,
            "listed": page.listed,
            "hidden": sorted(page.hidden),
        }
        for page in content.site.pages.values()
    ]
    whole: dict[str, Any] = {
        "notchbook": __version__,
        "form": form,
        "site_name": content.name,
        "day": content.handbook.day.isoformat(),
        "navigation": content.site.nav,
        "pages": pages,
        "files": files,
    }
    return json.dumps(whole, ensure_ascii=False, indent=1) + "\n"
