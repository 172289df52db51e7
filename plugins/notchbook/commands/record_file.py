"""Where a record is written, whole or not at all, and how the commands about records end."""

import contextlib
import errno
import os
import re
import secrets
import stat
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import NoReturn

from notchbook.commands.output import NOTHING_DONE, RefusalError, say, write
from notchbook.handbook import Handbook
from notchbook.reading.files import first_bytes, is_link, link_trouble
from notchbook.reading.folder import RESULT_FOLDERS
from notchbook.wording.lists import counted, listed
from notchbook.writing.draft import Values
from notchbook.writing.trouble import Trouble, lines

_LOOKED_AT = 1 << 16
"""Bytes of an old file in which its line ends are looked for."""
_NO_LINKS = frozenset({errno.EPERM, errno.ENOSYS, errno.EOPNOTSUPP, errno.ENOTSUP, errno.EMLINK})
"""What a file system answers that gives a file one name only."""
STDOUT = Path("-")
_NAMED_BY = {
    "test": ("date", "group", "material", "exercise"),
    "swings": ("date", "group", "exercise", "rig", "hammer"),
}
"""What the name of a file is made of, by the kind of record."""
_TOLD_APART_BY = ("batch", "hammer", "rig")
_TAKEN = "is there already; name another file with --output, or write over it with --force"


def write_whole(path: Path, text: str, *, replace: bool) -> None:
    r"""Write a text beside its place, and let it take the place when all of it is on the disk.

    Where that fails, whatever was there is as it was, and nothing is left beside it. The path is no link, and folders
    above it that are missing are made; each line of the text ends in `\n`. A file that is replaced keeps its rights and
    its line ends. Raises FileExistsError where one is there, also one that came in the meantime, and is not to be
    replaced, and OSError where the system refuses it.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    old = None
    with contextlib.suppress(FileNotFoundError):
        old = path.stat() if replace else None
    beside = path.parent / f".{secrets.token_hex(8)}.part"
    try:
        in_two = old is not None and b"\r\n" in first_bytes(path, _LOOKED_AT)
        _fill(beside, (text.replace("\n", "\r\n") if in_two else text).encode("utf-8"))
        if old:
            _give_rights(beside, old)
        if replace:
            beside.replace(path)
        else:
            _take_free_place(beside, path)
        _sync_folder(path.parent)
    finally:
        with contextlib.suppress(OSError):
            beside.unlink(missing_ok=True)


def _fill(path: Path, content: bytes) -> None:
    """Write a new file down to the disk; some file systems say only then that they are full."""
    with path.open("xb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())


def _give_rights(path: Path, about: os.stat_result) -> None:
    if hasattr(os, "chown"):
        # only the superuser can give a file away, and does where it was somebody's
        with contextlib.suppress(OSError):
            os.chown(path, about.st_uid, about.st_gid)
    path.chmod(stat.S_IMODE(about.st_mode))


def _take_free_place(beside: Path, path: Path) -> None:
    try:
        path.hardlink_to(beside)
    except OSError as error:
        if error.errno not in _NO_LINKS:
            raise
        path.open("xb").close()
        try:
            beside.replace(path)
        except BaseException:
            path.unlink()
            raise


def _sync_folder(folder: Path) -> None:
    """Bring the new name down to the disk where the system can; the file itself is there already."""
    with contextlib.suppress(OSError):
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)


def refuse(troubles: Sequence[Trouble], table: Path | None = None) -> NoReturn:
    """Print everything that stands in the way, a line each, and end with 2.

    The table that was read is named before what is about it and not about an option.
    """
    told = lines(troubles)
    for line in told:
        named = table is not None and not line.startswith("--")
        say(f"{table}: {line}" if named else line)
    say(f"not written: {counted(len(told), 'thing')} to put right")
    sys.exit(NOTHING_DONE)


def record_paths(handbook: Handbook, output: Path | None, records: Sequence[Values]) -> list[Path]:
    """The files to write: the one that was named, or those named by day, group and what was tested.

    Records that share these have what else they differ in in their names. Raises RefusalError where the names are not
    known, where they cannot be told apart, or where one file was named for several records.
    """
    if output is not None:
        if len(records) > 1:
            raise RefusalError(f"the table is of {len(records)} records, each a file of its own; leave out --output")
        return [output]
    for values in records:
        keys = _NAMED_BY[values["kind"]]
        if any(key not in values for key in keys):
            named, options = listed(["day", *keys[1:]]), listed(f"--{key}" for key in keys)
            raise RefusalError(f"the file is named by {named}; give {options}, or --output")
    stems = [_stem(values, _NAMED_BY[values["kind"]]) for values in records]
    for key in _TOLD_APART_BY:
        alike = [stems.count(stem) > 1 for stem in stems]
        stems = [f"{stem}-{_stem(values, (key,))}".strip("-") if double else stem
                 for stem, values, double in zip(stems, records, alike, strict=True)]  # fmt: skip
    twice = next((stem for stem in stems if stems.count(stem) > 1), None)
    if twice is not None:
        raise RefusalError(f"two records of the table would be named '{twice}'; spell alike what they share")
    return [_folder(handbook, values["kind"]) / f"{stem}.yaml" for values, stem in zip(records, stems, strict=True)]


def _folder(handbook: Handbook, kind: str) -> Path:
    """Where the records of a kind lie."""
    return handbook.root / handbook.settings.results / RESULT_FOLDERS[kind]


def _stem(values: Values, keys: Sequence[str]) -> str:
    """A name of a file, of what stands under keys of a record."""
    words = "-".join(str(values[key]) for key in keys if key in values)
    return re.sub(r"[^a-z0-9]+", "-", words.lower()).strip("-")


def in_handbook(handbook: Handbook, path: Path) -> str | None:
    """The path as findings name it; None where the file is none of the handbook's records."""
    for kind in _NAMED_BY:
        folder = _real(_folder(handbook, kind))
        if _real(path).parent == folder and folder.is_relative_to(_real(handbook.root)):
            return (Path(handbook.settings.results) / RESULT_FOLDERS[kind] / path.name).as_posix()
    return None


def schema_comment(handbook: Handbook, path: Path, kind: str) -> str:
    """The line by which an editor finds the schema of a kind; empty where the handbook does not hold it."""
    schema, folder = _real(handbook.root / f"schema/{kind}.schema.json"), _real(path.parent)
    if path == STDOUT or not os.access(schema, os.R_OK) or not folder.is_relative_to(_real(handbook.root)):
        return ""
    try:
        leads = os.path.relpath(schema, folder)
    except ValueError:  # on another drive, to which no relative path leads
        return ""
    return f"# yaml-language-server: $schema={Path(leads).as_posix()}\n"


def _real(path: Path) -> Path:
    """Where a path leads; a link in a circle leads to itself."""
    return Path(os.path.realpath(path))


def write_record(handbook: Handbook, path: Path, text: str, *, force: bool) -> bool:
    """Write the file whole, or print the text; returns whether there is a file.

    Raises RefusalError where it may not be written, and leaves what was there as it was.
    """
    if path == STDOUT:
        write(text)
        return False
    reason = _refused(handbook.root, path) or (_TAKEN if os.path.lexists(path) and not force else "")
    try:
        if not reason:
            write_whole(_real(path) if is_link(path) else path, text, replace=force)
    except FileExistsError as error:
        # one that came in the meantime, or a file where a folder should be
        reason = _TAKEN if os.path.lexists(path) else f"cannot be written: {error.strerror}"
    except OSError as error:
        reason = f"cannot be written: {error.strerror}; what was there is as it was"
    if reason:
        raise RefusalError(f"'{path}' {reason}")
    return True


def refuse_taken(paths: Sequence[Path]) -> None:
    """Raise RefusalError where several files are to be written and some are there already, before any is written."""
    taken = [str(path) for path in paths if os.path.lexists(path)]
    if len(paths) > 1 and taken:
        raise RefusalError("; ".join(f"'{each}' is there already" for each in taken) + "; write over all with --force")


def _refused(root: Path, path: Path) -> str:
    """Why a file may not be written whether it is there or not; nothing where it may."""
    leads_to = link_trouble(root, path)
    if leads_to:
        return f"is a link that leads {leads_to}; name the file itself"
    if is_link(path) and not path.exists():
        return "is a link that leads to nothing; name the file itself"
    inside = Path(os.path.normpath(path.absolute())).is_relative_to(os.path.normpath(root.absolute()))
    if inside and not _real(path.parent).is_relative_to(_real(root)):
        return "lies in a folder that leads out of the handbook; name another with --output"
    try:
        mode = path.stat().st_mode
    except OSError:
        return ""  # nothing is there, or the system says why when it is written
    if not stat.S_ISREG(mode):
        return f"is {'a folder' if stat.S_ISDIR(mode) else 'no file'}; name a file with --output, or - for the screen"
    return "" if os.access(path, os.W_OK) else "may not be written over; see who may write to it"
