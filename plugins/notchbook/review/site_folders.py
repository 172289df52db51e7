"""The folders that decide what a site publishes, and what lies at hand in them: settings, pages, templates, code, data.

Among the code is what runs when the site is built. No link is followed.
"""

import os
import stat
from collections.abc import Container, Iterator
from dataclasses import dataclass, field
from itertools import accumulate
from pathlib import Path, PurePosixPath

from notchbook.model.settings import Settings
from notchbook.reading.folder import HAZARDS_FILES, PROCEDURE_FOLDERS, RESULT_FOLDERS
from notchbook.site_reading.inherited import relative
from notchbook.site_reading.pages import PAGE_SUFFIXES
from notchbook.site_reading.site_config import config_path, read_site_config

KINDS = ("code", "template", "script", "style", "page", "file")
"""Of files beside the data, what weighs most first."""
_CODE = frozenset({".py", ".so", ".pyd"})
_SUFFIXES = {
    **dict.fromkeys((".js", ".mjs", ".cjs", ".wasm"), "script"),
    ".css": "style",
    **dict.fromkeys((".html", ".htm", ".xhtml", *PAGE_SUFFIXES), "page"),
}
_TEMPLATES = frozenset({".html", ".htm", ".xml", ".txt", ".j2", ".jinja", ".jinja2"})
MOST_FILES = 200_000


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
        # below the handbook's root lie environments with thousands of modules
        folders = [each for each in self.hook_folders if each != "." or "/" not in path]
        if path in self.hooks or (suffix in _CODE and any(is_below(path, each) for each in folders)):
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
    """The folders of the handbook at a root, by its site's settings and those of the plugin."""
    site = read_site_config(config_path(root))

    set_up = os.path.lexists(site.path)
    data = [f"{settings.procedures}/{name}" for name in (*PROCEDURE_FOLDERS.values(), *HAZARDS_FILES)]
    data += [f"{settings.results}/{name}" for name in RESULT_FOLDERS.values()]
    return SiteFolders(
        tuple(relative(each, site.root) for each in site.files) if set_up else (),
        relative(site.docs_dir, site.root) if set_up and site.docs_dir is not None else None,
        relative(site.custom_dir, site.root) if site.custom_dir is not None else None,
        tuple(relative(each, site.root) for each in site.hooks),
        tuple(os.path.normpath(each).replace(os.sep, "/") for each in data),
    )


def is_below(path: str, folder: str) -> bool:
    """Whether a path is a folder's, or lies below it."""
    return folder == "." or path == folder or path.startswith(f"{folder}/")


def steps_to(path: str) -> Iterator[str]:
    """Every folder on the way to a path, from the outermost, and the path itself."""
    return accumulate(path.split("/"), "{}/{}".format)


def is_in(path: str, places: Container[str]) -> bool:
    """Whether a path is one of some places, or lies below one."""
    return any(each in places for each in steps_to(path))


@dataclass(slots=True)
class AtHand:
    """Paths relative to the handbook's root, with forward slashes; bytes that are no text as in `os.fsdecode`."""

    files: set[str] = field(default_factory=set)
    others: dict[str, str] = field(default_factory=dict)
    """What is no plain file and is not looked into, with what it is in words."""
    seen: int = 0


def at_hand(root: Path, folders: SiteFolders) -> AtHand:
    """Walk the folders; whatever cannot be looked into is kept with its reason."""
    found = AtHand()
    for top in folders.tops:
        if top == ".." or top.startswith("../") or Path(top).is_absolute():
            found.others[top] = "lies outside of the handbook"
        elif top == ".":
            _look_in(root, found)
        elif not is_in(top, found.others):
            way = ((each, _not_walked(root / each)) for each in steps_to(os.path.dirname(top)) if each)  # noqa: PTH120
            obstacle = next((each for each in way if each[1]), None)
            if obstacle is None:
                _look(root, top, found)
            else:
                found.others[obstacle[0]] = obstacle[1]
    return found


def _look_in(root: Path, found: AtHand) -> None:
    """Keep what lies in the root itself."""
    with os.scandir(root) as entries:
        for each in entries:
            if each.is_file(follow_symlinks=False):
                found.files.add(each.name)
            elif each.is_symlink() and each.name.endswith(".py"):
                found.others[each.name] = _not_walked(root / each.name)


def _look(root: Path, top: str, found: AtHand) -> None:
    waiting = [top]
    while waiting:
        path = waiting.pop()
        found.seen += 1
        if found.seen > MOST_FILES:
            found.others[path] = f"is beyond the first {MOST_FILES:,} files"
            return
        try:
            about = (root / path).lstat()
        except FileNotFoundError:
            continue
        except (OSError, ValueError):
            found.others[path] = "cannot be read"
            continue
        if stat.S_ISREG(about.st_mode):
            found.files.add(path)
            continue
        what = _not_walked(root / path)
        if what:
            found.others[path] = what
            continue
        try:
            waiting += [f"{path}/{name}" for name in os.listdir(root / path)]  # noqa: PTH208  # names are enough
        except OSError:
            found.others[path] = "cannot be read"


def _not_walked(path: Path) -> str:
    """What a path is where it is no plain folder; nothing where it is one, or is not there."""
    try:
        mode = path.lstat().st_mode
    except (OSError, ValueError):
        return ""
    if stat.S_ISLNK(mode):
        return "is a link, which is not followed"
    if not stat.S_ISDIR(mode):
        return "is no file that can be read"
    return "is a repository of its own, which is not looked into" if os.path.lexists(path / ".git") else ""
