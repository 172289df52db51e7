"""Putting a new site in place file by file, where the folder itself cannot be exchanged: a mounted one cannot be."""

import shutil
from pathlib import Path

from notchbook.site_reading.site_places import UNFINISHED


def copy_into_place(folder: Path, site: Path) -> None:
    """Make the site what the folder holds; its hidden files stay.

    A process that is killed meanwhile leaves a mark, which the next build speaks of.

    Raises:
        OSError: a file cannot be written or deleted.
    """
    mark = site / UNFINISHED
    mark.touch()
    wanted = {each.relative_to(folder) for each in folder.rglob("*")}
    for each in sorted(wanted):
        source, target = folder / each, site / each
        if source.is_dir():
            if target.is_symlink() or target.is_file():
                target.unlink()
            target.mkdir(exist_ok=True)
        else:
            if target.is_dir() and not target.is_symlink():
                shutil.rmtree(target)
            shutil.copyfile(source, target)
    for each in sorted(site.rglob("*"), reverse=True):
        relative = each.relative_to(site)
        if relative in wanted or relative.parts[0].startswith("."):
            continue
        if each.is_dir() and not each.is_symlink():
            each.rmdir()
        else:
            each.unlink()
    mark.unlink()
