"""Repositories that are meant badly: commands in settings, folders that look like a repository, trees made by hand."""

import os
import shutil
import subprocess
from pathlib import Path

from history import WHO, git

NOTHING = {"HEAD": "ref: refs/heads/main\n", "objects/info/packs": "", "refs/heads/.keep": ""}


def plain_git(root: Path, *words: str) -> None:
    """What somebody types without a thought, with whatever the repository's settings make of it."""
    subprocess.run(["git", "-C", str(root), *words], check=False, capture_output=True, env={**os.environ, **WHO})


def set_in(root: Path, **settings: str) -> None:
    """Settings of the repository itself; two underscores stand for a full stop."""
    for name, value in settings.items():
        git(root, "config", name.replace("__", "."), value)


def lose(root: Path, name: str) -> None:
    """Take the contents of a committed file out of the repository, as a partial clone leaves them out."""
    hash_hex = git(root, "rev-parse", f"HEAD:./{name}")
    top = Path(git(root, "rev-parse", "--path-format=absolute", "--git-common-dir"))
    (top / "objects" / hash_hex[:2] / hash_hex[2:]).unlink()


def looks_like_a_repository(folder: Path, settings: str, history_of: Path | None = None) -> None:
    """Put into a folder what makes git take it for the inside of a repository, with a history of somebody's choice."""
    if history_of is not None:
        for name in ("objects", "refs"):
            shutil.copytree(history_of / ".git" / name, folder / name, dirs_exist_ok=True)
    for name, text in {**NOTHING, "config": settings}.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(text, encoding="utf-8")


def settings_text(**sections: dict[str, str]) -> str:
    """The text of a file of git's settings."""
    lines = []
    for section, values in sections.items():
        name, _, part = section.partition("__")
        lines += [f'[{name} "{part}"]' if part else f"[{name}]"]
        lines += [f'\t{key} = "{value}"' for key, value in values.items()]
    return "\n".join(lines) + "\n"


def object_of(root: Path, kind: str, content: bytes) -> str:
    """Keep an object with any contents, sound or not; its hash."""
    done = subprocess.run(
        ["git", "-C", str(root), "hash-object", "-t", kind, "--literally", "-w", "--stdin"],
        input=content, capture_output=True, check=True,
    )  # fmt: skip
    return done.stdout.decode().strip()


def tree_of(root: Path, *entries: tuple[str, str, str]) -> str:
    """A tree of entries of any mode and name: mode, name, hash."""
    content = b"".join(
        f"{mode} ".encode() + os.fsencode(name) + b"\0" + bytes.fromhex(hash_hex) for mode, name, hash_hex in entries
    )
    return object_of(root, "tree", content)


def commit_of_tree(root: Path, tree: str) -> str:
    """A commit of a tree, that nothing else knows of."""
    return git(root, "commit-tree", tree, "-m", "made by hand")


def as_tree(root: Path) -> str:
    """The tree of what was committed last in the folder."""
    return git(root, "rev-parse", "HEAD:./")
