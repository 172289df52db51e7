"""The one way in which git is called: nothing that a branch or a repository's settings name is run, nothing is fetched.

Whoever writes a branch chooses the files that are checked out: attributes, lists of submodules, and whole folders that
git would take for a repository of their own, settings with commands included. A repository's own settings may in turn
be included from a file that is checked out. So git is given the folder of the working tree, found here by its `.git`,
which no commit can hold, and looks no further; every setting that names a program is overridden; and only commands are
called that read no attributes and run no filters: `rev-parse`, `rev-list`, `ls-tree`, `ls-files` and `cat-file`.
"""

import os
import shutil
import subprocess
import tempfile
import threading
from dataclasses import dataclass
from pathlib import Path
from typing import IO

_SECONDS = 120
_MOST_BYTES = 64 * 1024 * 1024
"""Of what git prints: names of half a million files."""
_LONGEST_WORDS = 500
_KEPT_VARIABLES = frozenset({"GIT_CONFIG_GLOBAL", "GIT_CONFIG_SYSTEM", "GIT_CONFIG_NOSYSTEM"})
"""Where the user's own settings are, which say whose repositories are trusted. All others go: a hook's variables name
the repository or the index that it runs for, which need not be the handbook's; it is found again by its folder."""
_SETTINGS = (
    "safe.bareRepository=explicit",  # from git 2.38 on; `repository_of` looks for itself too
    "core.fsmonitor=false",
    "core.untrackedCache=false",
    f"core.hooksPath={os.devnull}",
    f"core.attributesFile={os.devnull}",
    "core.pager=cat",
    "core.editor=false",
    "core.askPass=",
    "core.sshCommand=false",
    "core.alternateRefsCommand=false",
    "credential.helper=",
    "gpg.program=false",
    "log.showSignature=false",
    "protocol.allow=never",
    "submodule.recurse=false",
    "maintenance.auto=false",
    "advice.graftFileDeprecated=false",  # that of GIT_GRAFT_FILE below, which is empty
    "gc.auto=0",
)
_VARIABLES = {
    # Blobs that a partial clone lacks are not fetched: the variable is known from git 2.45 on and to the repaired
    # versions of older ones; the list of protocols, to all, and it goes before `protocol.ext.allow`.
    "GIT_NO_LAZY_FETCH": "1",
    "GIT_ALLOW_PROTOCOL": "none",
    "GIT_NO_REPLACE_OBJECTS": "1",
    "GIT_GRAFT_FILE": os.devnull,
    "GIT_ATTR_NOSYSTEM": "1",
    "GIT_LITERAL_PATHSPECS": "1",
    "GIT_OPTIONAL_LOCKS": "0",
    "GIT_TERMINAL_PROMPT": "0",
    "LC_ALL": "C",
}


class GitError(Exception):
    """Git is missing, fails or goes beyond a bound; the text says which, in git's own words where it has some."""


@dataclass(frozen=True, slots=True)
class Repository:
    """The working tree that a folder lies in."""

    top: Path
    """Its uppermost folder."""
    prefix: str
    """The folder below it, with forward slashes and one at the end; empty where it is the uppermost itself."""


def repository_of(root: Path) -> Repository:
    """The repository that a folder lies in, which is that of the nearest folder above with a `.git` in it.

    A folder that merely looks like the inside of a repository is passed by, in every version of git.

    Raises:
        GitError: there is none, or git does not trust it.
    """
    folder = root.resolve()
    top = next((each for each in (folder, *folder.parents) if os.path.lexists(each / ".git")), None)
    if top is None:
        raise GitError(f"'{root}' is not in a git repository")
    told = git(top, "rev-parse", "--is-inside-work-tree", "--show-prefix", "--git-dir")
    if not told.startswith(b"true\n\n") or told == b"true\n\n.\n":
        raise GitError(f"the git repository of '{top}' keeps its files elsewhere")
    below = folder.relative_to(top).as_posix()
    return Repository(top, "" if below == "." else f"{below}/")


def git(
    top: Path,
    *arguments: str,
    given: bytes = b"",
    most_bytes: int = _MOST_BYTES,
    seconds: float = _SECONDS,
) -> bytes:
    """What git prints.

    Arguments:
        top: the uppermost folder of a working tree, see `repository_of`; folders above it are not looked at.
        arguments: a command that only reads, with its options.
        given: what the command reads.
        most_bytes: of what it may print.
        seconds: that it may take.

    Raises:
        GitError: git is missing, fails, or goes beyond one of the bounds.
    """
    options = [option for each in _SETTINGS for option in ("-c", each)]
    command = [_program(), "--no-pager", *options, *arguments]
    try:
        with tempfile.TemporaryFile() as words, tempfile.TemporaryFile() as complaints:
            words.write(given)
            words.seek(0)
            with subprocess.Popen(  # noqa: S603  # fixed words; a revision comes after --end-of-options
                command, stdin=words, stdout=subprocess.PIPE, stderr=complaints, cwd=top, env=_environment(top)
            ) as process:
                printed = _printed(process, most_bytes, seconds)
            if process.returncode:
                raise GitError(f"git says: {_said(complaints)}")
            return printed
    except OSError as error:
        raise GitError(f"git could not be run: {error}") from error


def _printed(process: subprocess.Popen[bytes], most_bytes: int, seconds: float) -> bytes:
    """All that a process prints; it is ended where it goes beyond a bound."""
    late = threading.Event()

    def end() -> None:
        late.set()
        process.kill()

    timer = threading.Timer(seconds, end)
    timer.start()
    try:
        printed = process.stdout.read(most_bytes + 1) if process.stdout is not None else b""
        if len(printed) > most_bytes:
            raise GitError(f"git prints more than {most_bytes:,} bytes here; the history holds too much to be read")
        process.wait()
    finally:
        timer.cancel()
        process.kill()
    if late.is_set():
        raise GitError(f"git took longer than {seconds:.0f} s")
    return printed


def _said(complaints: IO[bytes]) -> str:
    complaints.seek(0)
    words = " ".join(complaints.read(_LONGEST_WORDS).decode("utf-8", "replace").split())
    # warnings may stand before what it failed at
    return words.rpartition("fatal: ")[2] or "nothing, but it failed"


def _program() -> str:
    """Git from a folder that is named in full: a search by the system may begin with the folder at hand."""
    for folder in os.get_exec_path():
        path = Path(folder, "git.exe" if os.name == "nt" else "git")
        if path.is_absolute() and (found := shutil.which(path)):
            return found
    raise GitError("git was not found; install it, or run this where the handbook's history is")


def _environment(top: Path) -> dict[str, str]:
    own = {name: value for name, value in os.environ.items() if name in _KEPT_VARIABLES or not name.startswith("GIT_")}
    return own | _VARIABLES | {"GIT_CEILING_DIRECTORIES": str(top.parent)}
