"""What a commit holds, as git stores it: its files by the hash of their contents, and when it was made."""

import datetime as dt
import hashlib
import os
import re
import stat
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO

from notchbook.git import git

FILE, FOLDER, LINK, REPOSITORY = "file", "folder", "link", "repository"
# By the kind of file in a mode (git-fast-import, "filemodify"); git takes any other for a plain file.
_KINDS = {0o040000: FOLDER, 0o120000: LINK, 0o160000: REPOSITORY}
_KIND_BITS = 0o170000
_ALGORITHMS = {40: "sha1", 64: "sha256"}
"""By the length of a hash in hex."""
_COMMIT_BYTES = 1024 * 1024
_CHUNK_BYTES = 1024 * 1024
_MOST_BYTES = 1 << 30
"""Of a file whose contents are compared; a larger one takes seconds and counts as another."""
_TEXT_BYTES = 16 * 1024 * 1024
"""Up to this size a file is looked at as a text, whose lines may end in two ways."""
_COMMITTER = re.compile(rb"^committer .*> (\d{1,18}) ([+-])(\d\d)(\d\d)$", re.MULTILINE)
# The text that git holds in place of a large file (Git LFS, specification of the pointer, version 1).
_POINTER = "version https://git-lfs.github.com/spec/v1\noid sha256:{sha256}\nsize {size}\n"


@dataclass(frozen=True, slots=True)
class Entry:
    """What a commit has at a path."""

    path: str
    """From the top of the repository, with forward slashes."""
    kind: str
    """`file`, `folder`, `link`, or `repository` for another one inside this one (a submodule)."""
    hash: str
    """Of the contents, in hex."""


@dataclass(frozen=True, slots=True)
class Moment:
    """When a commit says that it was made, which is what its committer's clock said."""

    epoch: int
    """Seconds since 1970 in UTC."""
    day: dt.date
    """The day where it was made."""


def commit_of(top: Path, revision: str) -> str:
    """The hash of the commit that a branch, a tag or a hash names; raises GitError where there is none."""
    named = git(top, "rev-parse", "--verify", "--quiet", "--end-of-options", f"{revision}^{{commit}}")
    return named.decode("ascii").strip()


def entries(top: Path, commit: str, *paths: str, deep: bool = True) -> list[Entry]:
    """What a commit has at some paths, or everywhere: all below them, or the folders on the way and the last alone."""
    options = ["-r"] if deep else ["-t"]
    found = []
    for line in git(top, "ls-tree", "-z", "--full-tree", *options, commit, "--", *paths).split(b"\0")[:-1]:
        about, _, path = line.partition(b"\t")
        mode, _, hash_hex = about.decode("ascii").split(" ")
        kind = _KINDS.get(int(mode, 8) & _KIND_BITS, FILE)
        found.append(Entry(os.fsdecode(path), kind, hash_hex))
    return found


def lacking(top: Path, commit: str) -> frozenset[str]:
    """Hashes of what belongs to a commit and is not in the repository, as in a partial clone."""
    listed = git(top, "rev-list", "--objects", "--no-walk", "--missing=print", commit)
    return frozenset(line[1:].decode("ascii") for line in listed.splitlines() if line.startswith(b"?"))


def moment_of(top: Path, commit: str) -> Moment | None:
    """When a commit was made; None where it says nothing that can be a time."""
    head, _, _ = git(top, "cat-file", "commit", commit, most_bytes=_COMMIT_BYTES).partition(b"\n\n")
    said = _COMMITTER.search(head)
    if said is None:
        return None
    seconds, sign, hours, minutes = said.groups()
    offset = dt.timedelta(hours=int(hours), minutes=int(minutes)) * (-1 if sign == b"-" else 1)
    try:
        return Moment(int(seconds), dt.datetime.fromtimestamp(int(seconds), tz=dt.timezone(offset)).date())
    except (ValueError, OverflowError, OSError):
        return None


def same_as_file(hash_hex: str, path: Path) -> bool:
    """Whether a plain file has the contents that git stores under a hash.

    Lines that end in CR LF where the stored ones end in LF, as a checkout on Windows writes them, are the same, and so
    is a large file in whose place git stores a pointer to it (Git LFS).
    """
    try:
        if not stat.S_ISREG(path.lstat().st_mode):
            return False
        with path.open("rb") as file:
            size, algorithm = os.fstat(file.fileno()).st_size, _ALGORITHMS[len(hash_hex)]
            return size <= _MOST_BYTES and hash_hex in _hashes(file, size, algorithm)
    except (OSError, ValueError, KeyError):
        return False


def same_as_link(hash_hex: str, path: Path) -> bool:
    """Whether a link leads where git stores it; where links cannot be made, a file holds the name."""
    try:
        target = os.fsencode(path.readlink())
    except (OSError, ValueError):
        return os.name == "nt" and same_as_file(hash_hex, path)
    return _blob_hash(_ALGORITHMS.get(len(hash_hex), "sha1"), len(target), [target]) == hash_hex


def _hashes(file: BinaryIO, size: int, algorithm: str) -> Iterator[str]:
    """The hashes under which git may store a file of that size, the most likely first."""
    yield _blob_hash(algorithm, size, _chunks(file))
    if size <= _TEXT_BYTES:
        file.seek(0)
        text = file.read(size)
        if b"\r\n" in text and b"\0" not in text:
            lines = text.replace(b"\r\n", b"\n")
            yield _blob_hash(algorithm, len(lines), [lines])
    sha256 = hashlib.sha256()
    for chunk in _chunks(file):
        sha256.update(chunk)
    pointer = _POINTER.format(sha256=sha256.hexdigest(), size=size).encode("ascii")
    yield _blob_hash(algorithm, len(pointer), [pointer])


def _chunks(file: BinaryIO) -> Iterator[bytes]:
    file.seek(0)
    while chunk := file.read(_CHUNK_BYTES):
        yield chunk


def _blob_hash(algorithm: str, size: int, chunks: Iterable[bytes]) -> str:
    """The hash of contents of that size (gitformat-pack and git-hash-object: a header, then the contents)."""
    state = hashlib.new(algorithm, b"blob %d\0" % size, usedforsecurity=False)
    for chunk in chunks:
        state.update(chunk)
    return state.hexdigest()
