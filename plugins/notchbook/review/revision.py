"""The files of a handbook as they were at a revision, read through git; the files at hand are not touched."""

import posixpath
from collections import Counter
from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from notchbook.commit_time import is_future
from notchbook.commits import FILE, FOLDER, LINK, REPOSITORY, Entry, commit_of, entries, moment_of
from notchbook.git import GitError, Repository, git, repository_of
from notchbook.reading.files import stem_of_data
from notchbook.review.blobs import Blobs, listed_words, plain_file, write_settings
from notchbook.review.site_folders import is_below
from notchbook.site_reading.pages import PAGE_SUFFIXES
from notchbook.site_reading.settings import read_settings

_NO_NAMES = frozenset({"", ".", "..", ".git"})
"""What no file of a sound commit is called; git refuses to check it out."""
_LONGEST_PATH = 4096
_DEEPEST = 100
"""Folders within folders, which keeps the search among them short; nobody has a quarter of it."""
_PASSED_OVER = {
    LINK: "links are not followed",
    REPOSITORY: "repositories within the repository (submodules) are not read",
}
_FORGED = "git would not check it out; compare with another revision, and ask where this one came from"
_KINDS_OF_NAMES = {"a tag": "refs/tags/", "a branch": "refs/heads/", "a branch of a remote": "refs/remotes/"}


class RevisionError(Exception):
    """A revision cannot be read; the text says why and what to do."""


@dataclass(frozen=True, slots=True)
class Revision:
    """A handbook as it was."""

    name: str
    """The commit's short name."""
    root: Path
    """The handbook's root inside the target: settings, data files and hand-written pages."""
    files: Mapping[str, str]
    """Every plain file below the handbook's root, and those that its mkdocs.yml inherits from: the path relative to the
    root, with forward slashes (it may begin with `../`; bytes as `os.fsdecode` has them), to the contents' hash in hex.
    """
    others: Mapping[str, str]
    """What is no plain file: the path to `link` or `repository`."""
    not_compared: tuple[str, ...]
    """In words for the reviewer: what of the revision could not be read, and why."""


def write_revision(root: Path, revision: str, target: Path) -> Revision:
    """Write the handbook's settings, data files and pages of a revision under another folder, an empty one.

    The root lies anywhere in a git working tree; the revision is a branch, a tag or a commit. Raises RevisionError:
    git is missing, the root is in no working tree, there is no such revision, it has names that no file can have, or it
    holds too much.
    """
    try:
        repository = repository_of(root)
        commit = _commit(repository.top, revision)
        return _written(repository, revision, commit, target.absolute())
    except GitError as error:
        partial = "promisor" in str(error)
        hint = "; this clone is a partial one and nothing is fetched: fetch it whole" if partial else ""
        raise RevisionError(f"{error}{hint}") from error


def _commit(top: Path, revision: str) -> str:
    try:
        commit = commit_of(top, revision)
    except GitError:
        shallow = git(top, "rev-parse", "--is-shallow-repository").strip() == b"true"
        what = "fetch it; this clone is shallow and has only the newest commits" if shallow else "name a branch, a tag"
        hint = f"{what} (git fetch --unshallow)" if shallow else f"{what} or a commit with --base"
        raise RevisionError(f"there is no revision '{revision}'; {hint}") from None
    meant = {}
    for kind, start in _KINDS_OF_NAMES.items():
        with suppress(GitError):
            meant[kind] = commit_of(top, start + revision)
    if len(set(meant.values())) > 1:
        full = " or ".join(_KINDS_OF_NAMES[kind] + revision for kind in meant)
        raise RevisionError(f"'{revision}' is {' and '.join(meant)}, which differ; write {full}")
    return commit


def _future(top: Path, base: str) -> Iterator[str]:
    """Words about the commits whose time cannot be right: the revision and the one at hand."""
    commits = [base]
    with suppress(GitError):  # there need not be one yet
        commits.append(commit_of(top, "HEAD"))
    for commit in dict.fromkeys(commits):
        moment = moment_of(top, commit)
        if moment is not None and is_future(moment):
            yield (
                f"commit {_short(top, commit)} says that it was made on {moment.day}, later than now: its date is not "
                "used; ask whoever made it to set the clock and to commit again"
            )


def _around(repository: Repository, revision: str) -> Iterator[str]:
    """Words where this repository was a mere folder of the one around it at the revision.

    A branch can put a repository with a history of its own in the place of a folder.
    """
    with suppress(GitError):
        outer = repository_of(repository.top.parent)
        path = f"{outer.prefix}{repository.top.name}"
        held = entries(outer.top, commit_of(outer.top, revision), path, deep=False)
        if any(each.path == path and each.kind == FOLDER for each in held):
            yield (
                f"{listed_words([path])} was a folder of the repository around it at its '{revision}' and is a "
                "repository of its own now: compared is only the history that it brings"
            )


def _short(top: Path, commit: str) -> str:
    return git(top, "rev-parse", "--short", commit).decode("ascii").strip()


def _written(repository: Repository, revision: str, commit: str, target: Path) -> Revision:
    top, prefix = repository.top, repository.prefix
    _, obstacle = plain_file(top, commit, prefix.rstrip("/"))
    held = [each for each in entries(top, commit, *([prefix] if prefix else [])) if each.path.startswith(prefix)]
    _refuse_forged(held)
    # marks the uppermost folder, from within which settings may be inherited
    (target / ".git").mkdir(parents=True)
    blobs = Blobs(top, commit, target)
    chain, broken = write_settings(top, commit, prefix, blobs, target)
    root = target / prefix
    root.mkdir(parents=True, exist_ok=True)
    settings, _ = read_settings(root)
    data = [posixpath.normpath(each) for each in (settings.procedures, settings.results)]
    pages = [posixpath.normpath(settings.prose)] if settings.prose else []
    below = {each.path[len(prefix) :]: each for each in held}
    plain = {path: each for path, each in below.items() if each.kind == FILE}
    blobs.write([each for path, each in plain.items() if each.path not in chain and _is_read(path, data, pages)])
    _, found = read_settings(root)  # now that the folders are there which they name
    others = {path: each.kind for path, each in below.items() if each.kind != FILE}
    told = [
        *([obstacle] if obstacle else []),
        *broken,
        *(f"{each.path} was not in order, so that its settings may be other ones: {each.message}" for each in found),
        *_passed_over(others, [*data, *pages]),
        *blobs.words(),
        *_future(top, commit),
        *_around(repository, revision),
    ]
    inherited = {posixpath.relpath(path, prefix or "."): each.hash for path, each in chain.items()}
    files = {path: each.hash for path, each in plain.items()} | inherited
    return Revision(_short(top, commit), root, files, others, tuple(dict.fromkeys(told)))


def _refuse_forged(held: list[Entry]) -> None:
    """Raise RevisionError where paths cannot be those of files: such a tree was made by hand, to write elsewhere."""
    paths = {each.path for each in held}
    folders: set[str] = set()
    for each in held:
        parts = each.path.lower().split("/")
        sound = len(each.path) <= _LONGEST_PATH and len(parts) <= _DEEPEST and not _NO_NAMES.intersection(parts)
        if not sound or paths.intersection(_new_folders(each.path, folders)):
            name = each.path[:_LONGEST_PATH]
            raise RevisionError(f"the revision holds {listed_words([name])}, no path of a file: {_FORGED}")
    if len(paths) < len(held):
        twice, _ = Counter(each.path for each in held).most_common(1)[0]
        raise RevisionError(f"the revision holds {listed_words([twice])} twice: {_FORGED}")


def _new_folders(path: str, known: set[str]) -> Iterator[str]:
    """The folders that a path lies in and that are not yet known, which they are from then on."""
    folder = path.rpartition("/")[0]
    while folder and folder not in known:
        known.add(folder)
        yield folder
        folder = folder.rpartition("/")[0]


def _is_read(path: str, data: list[str], pages: list[str]) -> bool:
    """Whether the file is one that the handbook reads: data, or a page by hand."""
    name = path.rpartition("/")[2]
    if posixpath.splitext(name)[1] in PAGE_SUFFIXES:
        return any(is_below(path, each) for each in pages)
    return stem_of_data(name) is not None and any(is_below(path, each) for each in data)


def _passed_over(others: Mapping[str, str], folders: list[str]) -> Iterator[str]:
    """Words about the links and repositories among what the handbook reads."""
    among = [path for path in others if any(is_below(path, each) or is_below(each, path) for each in folders)]
    for kind, words in _PASSED_OVER.items():
        names = [each for each in among if others[each] == kind]
        if names:
            yield f"{words}: {listed_words(names)}"
