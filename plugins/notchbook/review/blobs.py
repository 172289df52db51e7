"""Contents of a commit's files, written under a folder within bounds; what could not be written is kept in words.

Of a site's settings these are its mkdocs.yml and the files that it inherits from.
"""

import os
import re
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from notchbook.commits import FILE, LINK, REPOSITORY, Entry, entries, lacking
from notchbook.git import GitError, git
from notchbook.reading.files import LARGEST_BYTES, Refused, text_of
from notchbook.review.site_folders import steps_to
from notchbook.site_reading import site_rules
from notchbook.site_reading.site_config import CONFIG_NAMES, read_site_config
from notchbook.wording.lists import counted, first_of

MOST_BYTES = 64 * 1024 * 1024
"""Of all files of a revision together: a handbook of a thousand records has two or three megabytes."""
_LINE_BYTES = 200
"""That git prints about a file before its contents."""
# What no name of a file on Windows holds or is (Microsoft, "Naming Files, Paths, and Namespaces"): there a name with a
# backslash or a drive would lead elsewhere.
_NOT_ON_WINDOWS = re.compile(
    r'[\\:*?"<>|\x00-\x1f]|[. ](?:/|\Z)|(?:^|/)(?:con|prn|aux|nul|com[0-9]|lpt[0-9])(?:[./]|\Z)', re.IGNORECASE
)
_ON_WINDOWS = os.name == "nt"
_ASKED = "%(objectname) %(objecttype) %(objectsize)"
_OBSTACLES = {LINK: "was a link, which is not followed", REPOSITORY: "was a repository of its own, which is not read"}


class Blobs:
    """Writes files of a repository under a folder."""

    def __init__(self, top: Path, commit: str, target: Path) -> None:
        self._top = top
        self._commit = commit
        self._target = target
        self._bytes = 0
        self._missing: list[str] = []
        self._large: list[str] = []
        self._refused: list[str] = []

    def write(self, files: Sequence[Entry]) -> None:
        """Write those files at their paths; raises GitError where all together hold too much."""
        sizes = self._sizes(files)
        small = [each for each in files if 0 <= sizes.get(each.hash, -1) <= LARGEST_BYTES]
        self._bytes += sum(sizes[each.hash] for each in small)
        if self._bytes > MOST_BYTES:
            raise GitError(f"the files of the revision hold more than {MOST_BYTES // 1024 // 1024} MiB")
        for each, content in zip(small, self._contents(small, sizes), strict=True):
            self._put(each.path, content, len(content))
        for each in files:
            size = sizes.get(each.hash, -1)
            if size > LARGEST_BYTES:
                # a file of the size without the contents: whoever reads it says the same of it
                self._large.append(each.path)
                self._put(each.path, b"", size)
            elif size < 0:
                self._missing.append(each.path)

    def words(self) -> Iterator[str]:
        """What could not be written, in words."""
        if self._missing:
            yield (
                f"{_files(self._missing)} not in this clone, which has not all of the history, and nothing is fetched: "
                f"{listed_words(self._missing)}; fetch it whole, without a filter"
            )
        if self._large:
            yield f"{_files(self._large)} too large, {LARGEST_BYTES:,} bytes are read: {listed_words(self._large)}"
        if self._refused:
            yield f"{_files(self._refused)} not to be written on this system: {listed_words(self._refused)}"

    def _sizes(self, files: Sequence[Entry]) -> dict[str, int]:
        """Bytes of each file by its hash; one that the repository lacks is left out."""
        if not files:
            return {}
        asked = ("cat-file", f"--batch-check={_ASKED}")
        try:
            told = git(self._top, *asked, given=_names(files))
        except GitError:  # at the first one that a remote has promised
            gone = lacking(self._top, self._commit)
            told = git(self._top, *asked, given=_names(each for each in files if each.hash not in gone))
        lines = [line.decode("ascii").split(" ") for line in told.splitlines()]
        return {words[0]: int(words[2]) for words in lines if len(words) == 3 and words[1] == "blob"}

    def _contents(self, files: Sequence[Entry], sizes: dict[str, int]) -> Iterator[memoryview]:
        if not files:
            return
        most = sum(sizes[each.hash] + _LINE_BYTES for each in files)
        printed = git(self._top, "cat-file", f"--batch={_ASKED}", given=_names(files), most_bytes=most)
        start = 0
        for each in files:
            start = printed.index(b"\n", start) + 1
            yield memoryview(printed)[start : start + sizes[each.hash]]
            start += sizes[each.hash] + 1

    def _put(self, name: str, content: bytes | memoryview, size: int) -> None:
        if _ON_WINDOWS and _NOT_ON_WINDOWS.search(name):
            self._refused.append(name)
            return
        path = self._target / name
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            with path.open("xb") as file:  # where small and capital letters are the same, two names can be one file
                file.write(content)
                file.truncate(size)
        except (OSError, ValueError, OverflowError):
            self._refused.append(name)


def listed_words(names: Sequence[str]) -> str:
    """Some names in words, the first of many."""
    return first_of([f"'{os.fsencode(each).decode('utf-8', 'backslashreplace')}'" for each in names])


def _files(names: Sequence[str]) -> str:
    return counted(len(names), "file is", "files are")


def _names(files: Iterable[Entry]) -> bytes:
    return "".join(f"{each.hash}\n" for each in files).encode("ascii")


def plain_file(top: Path, commit: str, path: str) -> tuple[Entry | None, str]:
    """The plain file that a commit has at a path, and what stands in the way in words: a link or another repository."""
    if not path:
        return None, ""
    way = list(steps_to(path))
    found = {each.path: each for each in entries(top, commit, *way, deep=False)}
    for each in way:
        if each in found and found[each].kind in _OBSTACLES:
            return None, f"{listed_words([each])} {_OBSTACLES[found[each].kind]}"
    entry = found.get(path)
    return (entry if entry is not None and entry.kind == FILE else None), ""


def write_settings(
    top: Path, commit: str, prefix: str, blobs: Blobs, target: Path
) -> tuple[dict[str, Entry], list[str]]:
    """Write the site's settings and all that they inherit from.

    Returns the files by their paths from the top of the repository, and in words what stood in the way of one of them.
    """
    files: dict[str, Entry] = {}
    obstacles: list[str] = []

    def read(path: Path) -> str | Refused:
        name = path.relative_to(target).as_posix()
        entry, obstacle = plain_file(top, commit, name)
        if entry is None:
            obstacles.extend([obstacle] if obstacle else [])
            return Refused(site_rules.SETTINGS, obstacle or "is not there", "")
        files[name] = entry
        blobs.write([entry])
        return text_of(path)

    for name in CONFIG_NAMES:
        if any(plain_file(top, commit, prefix + name)):
            read_site_config(target / prefix / name, boundary=target, read=read)
            break
    return files, obstacles
