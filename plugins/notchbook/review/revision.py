"""The files of a handbook as they were at a revision, read through git; the files at hand are not touched."""

from __future__ import annotations

import os
import shutil
import subprocess
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from notchbook.reading.settings import CONFIG_NAME, read_settings

_PLAIN_FILES = (b"100644", b"100755")
"""Modes of plain files: a link or another repository inside this one is no data file."""
_MOST_BYTES = 64 * 1024 * 1024
"""Of all files of a revision together: a handbook of a thousand records has two or three megabytes."""
_SECONDS = 120


class RevisionError(Exception):
    """A revision cannot be read; the text says why and what to do."""


@dataclass(frozen=True, slots=True)
class _Blob:
    path: str
    """Relative to the handbook's root, with forward slashes."""
    name: bytes
    """Hash of its contents."""


def write_revision(root: Path, revision: str, target: Path) -> str:
    """Write the handbook's files of a revision under another folder.

    Arguments:
        root: the handbook's root, anywhere in a git working tree.
        revision: a branch, tag or commit.
        target: an empty folder.

    Returns:
        The commit's short name.

    Raises:
        RevisionError: git is missing, the root is in no working tree, or there is no such revision.
    """
    prefix = _git(root, "rev-parse", "--show-prefix").decode("utf-8", "surrogateescape").rstrip("\n")
    commit = _commit(root, revision)
    blobs = _blobs(root, commit, prefix)
    _write(root, [each for each in blobs if each.path == CONFIG_NAME], target)
    settings, _ = read_settings(target)
    folders = [settings.procedures, settings.results, *([settings.prose] if settings.prose else [])]
    wanted = [PurePosixPath(os.path.normpath(each)) for each in folders]
    _write(root, [each for each in blobs if any(PurePosixPath(each.path).is_relative_to(w) for w in wanted)], target)
    return _git(root, "rev-parse", "--short", commit).decode("ascii").strip()


def _git(root: Path, *arguments: str, given: bytes | None = None) -> bytes:
    """What git prints; raises RevisionError with git's own words where it fails."""
    program = shutil.which("git")
    if program is None:
        raise RevisionError("git was not found; install it, or run this where the handbook's history is")
    environment = {**os.environ, "GIT_OPTIONAL_LOCKS": "0", "LC_ALL": "C"}
    try:
        done = subprocess.run(  # noqa: S603  # a program with fixed words; a revision comes after --end-of-options
            [program, "-C", str(root), *arguments],
            input=given,
            capture_output=True,
            env=environment,
            timeout=_SECONDS,
            check=False,
        )
    except (OSError, subprocess.TimeoutExpired) as error:
        raise RevisionError(f"git could not be run: {error}") from error
    if done.returncode:
        words = done.stderr.decode("utf-8", "replace").strip().removeprefix("fatal: ").splitlines()
        raise RevisionError(f"git says: {words[0] if words else 'nothing, but it failed'}")
    return done.stdout


def _commit(root: Path, revision: str) -> str:
    try:
        named = _git(root, "rev-parse", "--verify", "--quiet", "--end-of-options", f"{revision}^{{commit}}")
    except RevisionError:
        message = f"there is no revision '{revision}'; name a branch, a tag or a commit with --base"
        raise RevisionError(message) from None
    return named.decode("ascii").strip()


def _blobs(root: Path, commit: str, prefix: str) -> list[_Blob]:
    """The plain files of the commit under the handbook's root."""
    listed = _git(root, "ls-tree", "-r", "-z", "--full-tree", commit, *(["--", prefix] if prefix else []))
    found = []
    for entry in listed.split(b"\0"):
        about, _, raw_path = entry.partition(b"\t")
        mode, _, rest = about.partition(b" ")
        path = os.fsdecode(raw_path)
        if mode in _PLAIN_FILES and path.startswith(prefix):
            found.append(_Blob(path[len(prefix) :], rest.partition(b" ")[2]))
    return found


def _write(root: Path, blobs: list[_Blob], target: Path) -> None:
    if not blobs:
        return
    given = b"".join(each.name + b"\n" for each in blobs)
    sizes = _git(root, "cat-file", "--batch-check=%(objectsize)", given=given)
    if sum(map(int, sizes.split())) > _MOST_BYTES:
        raise RevisionError(f"the files of the revision hold more than {_MOST_BYTES // 1024 // 1024} MiB")
    printed = memoryview(_git(root, "cat-file", "--batch=%(objectsize)", given=given))
    start = 0
    for each in blobs:
        line_end = start + bytes(printed[start : start + 32]).index(b"\n")
        size = int(bytes(printed[start:line_end]))
        content = printed[line_end + 1 : line_end + 1 + size]
        start = line_end + 1 + size + 1
        path = target / each.path
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
