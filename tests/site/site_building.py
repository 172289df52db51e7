"""Whole builds in a folder of their own, as `mkdocs build` makes them."""

import datetime as dt
import os
import shutil
import subprocess
import sys
from pathlib import Path

import prepared_command

ROOT = Path(__file__).resolve().parents[2]
DAY = dt.datetime(2026, 11, 2, tzinfo=dt.UTC)
"""After every date in the demo, and while its newest verifications are in force."""
DEMO_PARTS = ("procedures", "results", "site_src", "mkdocs.yml")


def copy_demo(root: Path) -> Path:
    """The demo's data files, own pages and settings."""
    root.mkdir(parents=True, exist_ok=True)
    for name in DEMO_PARTS:
        if (ROOT / name).is_dir():
            shutil.copytree(ROOT / name, root / name)
        else:
            shutil.copyfile(ROOT / name, root / name)
    return root


def small_demo(root: Path) -> Path:
    """The demo without most of its records, so that a build is quick."""
    copy_demo(root)
    for each in sorted((root / "results/tests").glob("*.yaml"))[:-3]:
        each.unlink()
    # what the pages by hand name is not there any more
    for each in (root / "site_src").rglob("*.md"):
        each.unlink()
    (root / "site_src/about.md").write_text("# About\n\nA part of the demo.\n", encoding="utf-8")
    settings = (root / "mkdocs.yml").read_text(encoding="utf-8")
    kept = settings[: settings.index("nav:")] + settings[settings.index("theme:") :]
    (root / "mkdocs.yml").write_text(kept.partition("validation:")[0], encoding="utf-8")
    return root


def environment(**variables: str) -> dict[str, str]:
    """Variables of a build on a fixed day."""
    return os.environ | {
        "NO_MKDOCS_2_WARNING": "1",  # the theme's news for its maintainers
        "PYTHONUTF8": "1",
        "PYTHONPATH": os.pathsep.join([str(ROOT / "plugins"), os.environ.get("PYTHONPATH", "")]).rstrip(os.pathsep),
        "SOURCE_DATE_EPOCH": str(int(DAY.timestamp())),
        "COLUMNS": "1000",  # MkDocs wraps its log at the width of the terminal
        **variables,
    }


def run(root: Path, *command: str, **variables: str) -> subprocess.CompletedProcess[str]:
    """Run a Python module in the folder on a fixed day; output and errors come as one text in `stdout`."""
    module, *arguments = command
    done = prepared_command.run(module, *arguments, folder=root, environment=environment(**variables), together=True)
    return subprocess.CompletedProcess(command, done.status, done.stdout.decode("utf-8"))


def run_alone(root: Path, *command: str, **variables: str) -> subprocess.CompletedProcess[str]:
    """The same in a process that is started for it, as a person starts it."""
    return subprocess.run(
        [sys.executable, "-m", *command],
        cwd=root,
        env=environment(**variables),
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        encoding="utf-8",
        check=False,
    )


def build(root: Path, *options: str, **variables: str) -> subprocess.CompletedProcess[str]:
    """`mkdocs build` with those options."""
    return run(root, "mkdocs", "build", *options, **variables)


def built(root: Path, *options: str, **variables: str) -> Path:
    """The folder of the site; an assertion fails where it cannot be built."""
    done = build(root, *options, **variables)
    assert done.returncode == 0, done.stdout
    return root / "site"


def contents(folder: Path) -> dict[str, bytes]:
    """All files of a folder by their path in it."""
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}
