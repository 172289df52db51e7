"""Files of a handbook as such: whether they lie inside it, what may be read, their text within bounds."""

import codecs
import errno
import os
import re
import stat
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from notchbook.findings import Rule
from notchbook.reading import rules
from notchbook.reading.nodes import place_at
from notchbook.wording.nearest import nearest_of

LARGEST_BYTES = 1 << 20
LONGEST_ID = 100
"""Of a file's stem; the pages and data files that are named by it have longer names."""
ID = re.compile(r"[a-z0-9][a-z0-9.-]*\Z")
# Names that are devices on Windows, whatever follows a full stop (Microsoft, "Naming Files, Paths, and Namespaces").
_DEVICES = re.compile(r"(?:con|prn|aux|nul|com[0-9]|lpt[0-9])(?:\.|\Z)")
# Without waiting for the other end, should a pipe have taken the file's place since it was looked at.
_READ = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
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
        return _no_id(name)
    if stem.endswith("."):
        return f"the id '{stem}' ends in a full stop, which Windows drops", "rename the file without it"
    if _DEVICES.match(stem):
        return f"the id '{stem}' names a device on Windows, where no file can have it", "rename the file"
    if len(stem) > LONGEST_ID:
        return f"the id '{stem[:30]}…' has {len(stem)} characters; it can have {LONGEST_ID}", "rename the file shorter"
    return None


def _no_id(name: str) -> tuple[str, str]:
    """What is wrong with a name that is no id and what to do, with a name that is one where it is close."""
    stem = stem_of_data(name) or ""
    close = re.sub(r"[\s_]+", "-", stem.lower())
    hint = "rename it with small letters, digits, dots and hyphens, ending in .yaml"
    if ID.match(close):
        hint = f"rename it to {close}.yaml"
    ending = name[len(stem) :]
    if ID.match(stem) and ending != ".yaml":
        return f"the file name ends in {ending}, where a data file ends in .yaml", hint
    return f"the file name '{name}' is no id", hint


def relative_path(root: Path, path: Path) -> str:
    """The path as findings name it: from the root, with forward slashes."""
    if path.is_relative_to(root):
        path = path.relative_to(root)
    # A file name is bytes; those that are not UTF-8 are shown, so that no rendering stumbles over them.
    return path.as_posix().encode("utf-8", "backslashreplace").decode("utf-8")


def _seen(look: Callable[[], bool]) -> bool:
    """What looking at a path says; no where it cannot be looked at, or where no system can hold it."""
    try:
        return look()
    except (OSError, ValueError):
        return False


def is_folder(path: Path) -> bool:
    """Whether it is a folder; a path that no system can hold is none."""
    return _seen(path.is_dir)


def is_file(path: Path) -> bool:
    """Whether it is a plain file or a link to one; what cannot be looked at is none."""
    return _seen(path.is_file)


def is_within(path: Path, folder: Path) -> bool:
    """Whether it is the folder or lies in it, by whatever links or letters the two are named."""
    path, folder = Path(os.path.realpath(path)), Path(os.path.realpath(folder))
    return path.is_relative_to(folder) or any(_seen(partial(folder.samefile, each)) for each in (path, *path.parents))


def is_link(path: Path) -> bool:
    """Whether it is a symbolic link; what cannot be looked at is none."""
    return _seen(path.is_symlink)


def folder_trouble(folder: Path) -> str:
    """Why a folder cannot be read, in the words of the system; nothing where it can, or where there is none."""
    try:
        (folder / "..").stat()  # whether it may be entered
        os.scandir(folder).close()
    except (FileNotFoundError, NotADirectoryError, ValueError):
        return ""
    except OSError as error:
        return "" if error.errno == errno.ENAMETOOLONG else str(error.strerror)
    return ""


def listed(folder: Path) -> list[Path]:
    """What lies in a folder, by name; nothing where there is none or it cannot be read."""
    try:
        return sorted(folder.iterdir(), key=lambda path: path.name)
    except (OSError, ValueError):
        return []


def alike(folder: Path) -> list[str]:
    """Names of other folders beside where a folder is looked for that differ from it in capitals alone."""
    names = [each.name for each in listed(folder.parent) if each.name.casefold() == folder.name.casefold()]
    return [each for each in names if each != folder.name and is_folder(folder.parent / each)]


def meant_folder(folder: Path, likeness: float = 0.6) -> Path | None:
    """The folder that is taken for one that is not there, by a name so much like it; None where none is near."""
    # what is hidden was not meant
    beside = [each.name for each in listed(folder.parent) if not each.name.startswith(".") and is_folder(each)]
    name = next(iter(alike(folder)), None) or nearest_of(folder.name, beside, likeness)
    return folder.parent / name if name is not None else None


def missing_folder_hint(folder: Path) -> str:
    """What to do where a folder is not there: the name of one beside it that was meant, or how to make it."""
    meant = meant_folder(folder)
    if meant is not None:
        return f"'{meant.name}' lies there: if that is meant, rename it or correct the name"
    return "correct the name, or make the folder with an empty file .gitkeep in it: git keeps no empty folder"


def link_trouble(root: Path, path: Path) -> str:
    """Where a link leads that must not be followed; nothing for a file or a link inside the root."""
    if not is_link(path):
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
            if _seen(partial(each.is_dir, follow_symlinks=False)):
                folders.append(path)
        waiting += reversed(folders)


def first_bytes(path: Path, most: int) -> bytes:
    """So many bytes of a file from its start; none where it cannot be read."""
    try:
        with path.open("rb") as file:
            return file.read(most)
    except OSError:
        return b""


def bytes_of(path: Path, largest: int = LARGEST_BYTES) -> bytes | Refused:
    """The bytes of a file; nothing but a file of a usable size is opened."""
    try:
        size, raw = _read(path, largest) if stat.S_ISREG(path.stat().st_mode) else (None, b"")
    except OSError as error:
        return Refused(rules.FILE_TEXT, f"cannot be read: {error.strerror}", "check that it is a file you may read")
    if size is None:
        return Refused(rules.FILE_TEXT, "is no file that can be read", "put the file itself in its place")
    if size > largest:
        return Refused(rules.FILE_SIZE, f"has {size:,} bytes; at most {largest:,} are read", "split it")
    return raw


def _read(path: Path, largest: int) -> tuple[int | None, bytes]:
    """Size and bytes of a file, the size None for what is none, the bytes as far as they may be read."""
    descriptor = os.open(path, _READ)
    with os.fdopen(descriptor, "rb") as file:
        about = os.fstat(descriptor)
        if not stat.S_ISREG(about.st_mode):
            return None, b""
        if about.st_size > largest:
            return about.st_size, b""
        raw = file.read(about.st_size + 1)
        if len(raw) > about.st_size:  # it has grown
            raw += file.read(largest + 1 - len(raw))
        return len(raw), raw


def text_of(path: Path, largest: int = LARGEST_BYTES) -> str | Refused:
    """The text of a file of a usable size, without a byte order mark."""
    raw = bytes_of(path, largest)
    if isinstance(raw, Refused):
        return raw
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        return _other_encoding(raw, error)


def _other_encoding(raw: bytes, error: UnicodeDecodeError) -> Refused:
    """A file that is text in another encoding, with what its first strange byte was meant to be."""
    hint = "save it again as UTF-8, which the editor offers as encoding where it saves under a name"
    if raw.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return Refused(rules.FILE_TEXT, "is saved in the encoding UTF-16, not in UTF-8", hint)
    # counted in what was decoded: a byte order mark is not part of it
    before = error.object[: error.start].decode("utf-8")
    byte = error.object[error.start]
    message = f"is not UTF-8 text here: the byte is 0x{byte:02x}"
    meant = bytes([byte]).decode("cp1252", "replace")
    if meant.isprintable() and meant != "\ufffd":
        message = f"{message}, which is {meant} in an older encoding of Windows"
    return Refused(rules.FILE_TEXT, message, hint, place_at(before, len(before)))
