"""When the files at hand were committed: the date of a site that is the same whenever and wherever it is built."""

import os
import time
from pathlib import Path

from notchbook.commits import LINK, REPOSITORY, Entry, Moment, commit_of, entries, moment_of, same_as_file, same_as_link
from notchbook.git import GitError, git, repository_of

_SECONDS = 20
_CLOCKS_APART_S = 600
"""How far a committer's clock may be ahead of the one here: clocks set by the network differ by seconds, and clocks
set by hand by minutes."""


def commit_time(root: Path) -> Moment | None:
    """The time of the commit that the files under the root are.

    Returns:
        None where the files are in no history or differ from it, where git is missing or the commit says that it is
        not yet made: they are then as old as this moment. None too where SOURCE_DATE_EPOCH says another time.
    """
    if "SOURCE_DATE_EPOCH" in os.environ:
        return None
    try:
        repository = repository_of(root)
        head = commit_of(repository.top, "HEAD")
        moment = moment_of(repository.top, head)
        if moment is None or is_future(moment):
            return None
        until = time.monotonic() + _SECONDS
        return moment if _as_committed(repository.top, repository.prefix, head, until) else None
    except GitError:
        return None


def is_future(moment: Moment) -> bool:
    """Whether a commit says that it is made later than now, which clocks that differ a little do not explain."""
    return moment.epoch > time.time() + _CLOCKS_APART_S


def _as_committed(top: Path, prefix: str, commit: str, until: float) -> bool:
    """Whether the files below a folder are those of the commit, and no others but those that are ignored.

    Their contents are hashed here: git would run what attributes of the branch name.
    """
    below = [prefix] if prefix else []
    held = entries(top, commit, *below)
    options = ("--cached", "--others", "--exclude-standard", "-z")
    at_hand = git(top, "ls-files", *options, "--", *below, seconds=_SECONDS).split(b"\0")[:-1]
    if {os.fsdecode(each.removesuffix(b"/")) for each in at_hand} - {each.path for each in held}:
        return False
    return all(time.monotonic() < until and _is_at_hand(top, each, until) for each in held)


def _is_at_hand(top: Path, entry: Entry, until: float) -> bool:
    path = top / entry.path
    if entry.kind == REPOSITORY:  # its folder is empty until somebody asks for it
        return not os.path.lexists(path / ".git") or _as_committed(path, "", entry.hash, until)
    return (same_as_link if entry.kind == LINK else same_as_file)(entry.hash, path)
