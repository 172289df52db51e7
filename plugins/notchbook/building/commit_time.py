"""When the files at hand were committed: the date of a site that is the same whenever and wherever it is built."""

from __future__ import annotations

import datetime as dt
import os
import shutil
import subprocess
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

_SECONDS = 20


@dataclass(frozen=True, slots=True)
class CommitTime:
    """When a commit was made."""

    epoch: int
    """Seconds since 1970 in UTC."""
    day: dt.date
    """The day where it was made."""


def commit_time(root: Path) -> CommitTime | None:
    """The time of the commit that the files under the root are.

    Returns:
        None where they are in no history, differ from it, or git is missing: they are then as old as this moment.
    """
    program = shutil.which("git")
    if program is None:
        return None
    changed = _said(program, root, "status", "--porcelain", "--untracked-files=normal", "--", ".")
    if changed is None or changed:
        return None
    # %ct: seconds; %cs: the day in the time zone of whoever committed (git-log, pretty formats)
    told = _said(program, root, "log", "-1", "--no-show-signature", "--format=%ct %cs")
    try:
        epoch, _, day = (told or "").strip().partition(" ")
        return CommitTime(int(epoch), dt.date.fromisoformat(day))
    except ValueError:
        return None


def _said(program: str, root: Path, *arguments: str) -> str | None:
    """What git prints; None where it fails."""
    environment = {**os.environ, "GIT_OPTIONAL_LOCKS": "0", "LC_ALL": "C"}
    try:
        done = subprocess.run(  # noqa: S603  # a program with fixed words
            [program, "-C", str(root), *arguments],
            capture_output=True,
            env=environment,
            timeout=_SECONDS,
            check=True,
        )
    except (OSError, subprocess.SubprocessError):
        return None
    return done.stdout.decode("utf-8", "replace")
