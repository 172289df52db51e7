"""Histories of invented handbooks for tests, kept by git in a folder of the test."""

import os
import subprocess
from pathlib import Path

_WHO = {
    "GIT_AUTHOR_NAME": "LT-1", "GIT_AUTHOR_EMAIL": "lt-1@saltmere.example", "GIT_AUTHOR_DATE": "2026-11-02T10:00:00Z",
    "GIT_COMMITTER_NAME": "LT-1", "GIT_COMMITTER_EMAIL": "lt-1@saltmere.example",
    "GIT_COMMITTER_DATE": "2026-11-02T10:00:00Z", "GIT_CONFIG_GLOBAL": os.devnull, "GIT_CONFIG_SYSTEM": os.devnull,
}  # fmt: skip


def git(root: Path, *words: str) -> str:
    """What git prints; a failure fails the test."""
    done = subprocess.run(
        ["git", "-C", str(root), *words], check=True, capture_output=True, text=True, env={**os.environ, **_WHO}
    )
    return done.stdout.strip()


def kept(root: Path, message: str = "as it is") -> str:
    """Keep all files of the folder in its history, which begins here where there is none; the commit's name."""
    if not (root / ".git").exists():
        git(root, "init", "-q", "-b", "main")
    git(root, "add", "--all")
    git(root, "commit", "-q", "--allow-empty", "-m", message)
    return git(root, "rev-parse", "HEAD")
