"""A file that is written whole or not at all."""

from __future__ import annotations

import contextlib
import errno
import os
import secrets
import stat
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

_LOOKED_AT = 1 << 16
"""Bytes of an old file in which its line ends are looked for."""
_NO_LINKS = frozenset({errno.EPERM, errno.ENOSYS, errno.EOPNOTSUPP, errno.ENOTSUP, errno.EMLINK})
"""What a file system answers that gives a file one name only."""


def write_whole(path: Path, text: str, *, replace: bool) -> None:
    r"""Write a text beside its place, and let it take the place when all of it is on the disk.

    Where that fails, whatever was there is as it was, and nothing is left beside it. A file that is replaced keeps its
    permissions and its line ends.

    Arguments:
        path: the file, no link; folders above it that are missing are made.
        text: its text, with `\n` at the end of each line.
        replace: whether a file that is there is replaced.

    Raises:
        FileExistsError: where a file is there, also one that came in the meantime, and is not to be replaced.
        OSError: where the system refuses it.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    old = _old(path) if replace else None
    beside = path.parent / f".{secrets.token_hex(8)}.part"
    try:
        _fill(beside, text.replace("\n", old.line_end if old else "\n").encode("utf-8"))
        if old:
            _give_rights(beside, old.about)
        if replace:
            beside.replace(path)
        else:
            _take_free_place(beside, path)
        _sync_folder(path.parent)
    finally:
        with contextlib.suppress(OSError):
            beside.unlink(missing_ok=True)


@dataclass(frozen=True, slots=True)
class _Old:
    """What is kept of a file that is replaced."""

    about: os.stat_result
    line_end: str


def _old(path: Path) -> _Old | None:
    try:
        about = path.stat()
    except FileNotFoundError:
        return None
    start = b""
    with contextlib.suppress(OSError), path.open("rb") as file:
        start = file.read(_LOOKED_AT)
    return _Old(about, "\r\n" if b"\r\n" in start else "\n")


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
