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


def commit_time(root: Path, site: Path | None = None) -> Moment | None:
    """The time of the commit that the files under the root are.

    Arguments:
        root: of the handbook.
        site: the folder that its site is written to; what a build made there, or beside it, is no file of the handbook.

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
        made = _made_below(repository.top, root, site) if site is not None else ()
        return moment if _as_committed(repository.top, repository.prefix, head, until, made) else None
    except GitError:
        return None


def is_future(moment: Moment) -> bool:
    """Whether a commit says that it is made later than now, which clocks that differ a little do not explain."""
    return moment.epoch > time.time() + _CLOCKS_APART_S


def _made_below(top: Path, root: Path, site: Path) -> tuple[str, ...]:
    """How paths in a repository begin of what builds write: the site, and what they leave beside it when cut short."""
    top, root, site = (Path(os.path.realpath(each)) for each in (top, root, site))
    if root.is_relative_to(site) or not site.is_relative_to(top):
        return ()
    path = site.relative_to(top)
    return f"{path.as_posix()}/", path.with_name(f".{path.name}.").as_posix()


def _as_committed(top: Path, prefix: str, commit: str, until: float, made: tuple[str, ...] = ()) -> bool:
    """Whether the files below a folder are those of the commit, and no others but those that are ignored or made.

    Their contents are hashed here: git would run what attributes of the branch name.
    """
    below = [prefix] if prefix else []
    held = [each for each in entries(top, commit, *below) if not each.path.startswith(made)]
    options = ("--cached", "--others", "--exclude-standard", "-z")
    at_hand = git(top, "ls-files", *options, "--", *below, seconds=_SECONDS).split(b"\0")[:-1]
    there = {path for path in map(os.fsdecode, at_hand) if not path.startswith(made)}
    if {path.removesuffix("/") for path in there} - {each.path for each in held}:
        return False
    return all(time.monotonic() < until and _is_at_hand(top, each, until) for each in held)


def _is_at_hand(top: Path, entry: Entry, until: float) -> bool:
    path = top / entry.path
    if entry.kind == REPOSITORY:  # its folder is empty until somebody asks for it
        return not os.path.lexists(path / ".git") or _as_committed(path, "", entry.hash, until)
    return (same_as_link if entry.kind == LINK else same_as_file)(entry.hash, path)
