"""Files of a handbook as such: whether they lie inside it, what may be read, their text within bounds."""

from __future__ import annotations

import os
import re
import stat
from dataclasses import dataclass
from typing import TYPE_CHECKING

from notchbook.reading import rules
from notchbook.reading.nodes import place_at

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from notchbook.findings import Rule

LARGEST_BYTES = 1 << 20
LONGEST_ID = 100
"""Of a file's stem; the pages and data files that are named by it have longer names."""
ID = re.compile(r"[a-z0-9][a-z0-9.-]*\Z")
# Names that are devices on Windows, whatever follows a full stop (Microsoft, "Naming Files, Paths, and Namespaces").
_DEVICES = re.compile(r"(?:con|prn|aux|nul|com[0-9]|lpt[0-9])(?:\.|\Z)")
# With what an editor or a download adds without being asked.
_DATA_NAME = re.compile(r"\.ya?ml(?:\.txt)?[\s.]*\Z", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Refused:
    """Why a file cannot be read as text."""

    rule: Rule
    message: str
    hint: str
    place: tuple[int, int] = (1, 1)
    """Line and column, from 1."""


def stem_of_data(name: str) -> str | None:
    """The id that the name of a data file means, in order or not; None for another kind of file."""
    ending = None if name.startswith(".") else _DATA_NAME.search(name)
    return name[: ending.start()] if ending else None


def name_trouble(name: str) -> tuple[str, str] | None:
    """What is wrong with the name of a data file and what to do, so that it can be read on every system."""
    stem, dot, ending = name.rpartition(".")
    if dot + ending != ".yaml" or not ID.match(stem):
        hint = "rename it with small letters, digits, dots and hyphens, ending in .yaml"
        return f"the file name '{name}' is no id", hint
    if stem.endswith("."):
        return f"the id '{stem}' ends in a full stop, which Windows drops", "rename the file without it"
    if _DEVICES.match(stem):
        return f"the id '{stem}' names a device on Windows, where no file can have it", "rename the file"
    if len(stem) > LONGEST_ID:
        return f"the id '{stem[:30]}…' has {len(stem)} characters; it can have {LONGEST_ID}", "rename the file shorter"
    return None


def relative_path(root: Path, path: Path) -> str:
    """The path as findings name it: from the root, with forward slashes."""
    if path.is_relative_to(root):
        path = path.relative_to(root)
    # A file name is bytes; those that are not UTF-8 are shown, so that no rendering stumbles over them.
    return path.as_posix().encode("utf-8", "backslashreplace").decode("utf-8")


def is_folder(path: Path) -> bool:
    """Whether it is a folder; a path that no system can hold is none."""
    try:
        return path.is_dir()
    except (OSError, ValueError):
        return False


def link_trouble(root: Path, path: Path) -> str:
    """Where a link leads that must not be followed; nothing for a file or a link inside the root."""
    if not path.is_symlink():
        return ""
    try:
        inside = path.resolve().is_relative_to(root.resolve())
    except (OSError, RuntimeError):
        return "to itself"
    return "" if inside else "out of the handbook"


def walk(folder: Path) -> Iterator[Path]:
    """Everything below the folder, by name, however deep; a link to a folder is given and not followed."""
    waiting = [folder]
    while waiting:
        try:
            found = sorted(os.scandir(waiting.pop()), key=lambda each: each.name)
        except OSError:
            continue
        folders = []
        for each in found:
            path = folder.__class__(each.path)
            yield path
            if _is_own_folder(each):
                folders.append(path)
        waiting += reversed(folders)


def _is_own_folder(entry: os.DirEntry[str]) -> bool:
    try:
        return entry.is_dir(follow_symlinks=False)
    except OSError:
        return False


def text_of(path: Path) -> str | Refused:
    """The text of a file, without a byte order mark; nothing but a file of a usable size is opened."""
    try:
        about = path.stat()
        if not stat.S_ISREG(about.st_mode):
            return Refused(rules.FILE_TEXT, "is no file that can be read", "put the file itself in its place")
        size, raw = about.st_size, b""
        if size <= LARGEST_BYTES:
            with path.open("rb") as file:
                raw = file.read(LARGEST_BYTES + 1)
            size = len(raw)  # it may have grown
    except OSError as error:
        return Refused(rules.FILE_TEXT, f"cannot be read: {error.strerror}", "check that it is a file you may read")
    if size > LARGEST_BYTES:
        return Refused(rules.FILE_SIZE, f"has {size:,} bytes; at most {LARGEST_BYTES:,} are read", "split it")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        # counted in what was decoded: a byte order mark is not part of it
        before = error.object[: error.start].decode("utf-8")
        message = f"is not UTF-8 text here: the byte is 0x{error.object[error.start]:02x}"
        return Refused(rules.FILE_TEXT, message, "save it as UTF-8", place_at(before, len(before)))
