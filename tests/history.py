"""Histories of invented handbooks for tests, kept by git in a folder of the test."""

import os
import subprocess
from pathlib import Path

WHO = {
    "GIT_AUTHOR_NAME": "LT-1", "GIT_AUTHOR_EMAIL": "lt-1@saltmere.example",
    "GIT_COMMITTER_NAME": "LT-1", "GIT_COMMITTER_EMAIL": "lt-1@saltmere.example",
    "GIT_CONFIG_GLOBAL": os.devnull, "GIT_CONFIG_SYSTEM": os.devnull,
}  # fmt: skip
NOON = "2026-11-02T12:00:00Z"


def git(root: Path, *words: str, when: str = NOON) -> str:
    """What git prints, for somebody who works at that time; a failure fails the test."""
    environment = {**os.environ, **WHO, "GIT_AUTHOR_DATE": when, "GIT_COMMITTER_DATE": when}
    done = subprocess.run(["git", "-C", str(root), *words], check=True, capture_output=True, text=True, env=environment)
    return done.stdout.strip()


def kept(root: Path, message: str = "as it is", *, when: str = NOON) -> str:
    """Keep all files of the folder in its history, which begins here where there is none; the commit's name."""
    if not (root / ".git").exists():
        git(root, "init", "-q", "-b", "main")
    git(root, "add", "--all")
    git(root, "commit", "-q", "--allow-empty", "-m", message, when=when)
    return git(root, "rev-parse", "HEAD")
