"""A branch that tries at once all that git could do for it: reviewed, checked and built by whoever looks at it."""

import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest
from site_building import environment

import small_handbook as small
from forged import looks_like_a_repository, plain_git, settings_text
from history import git, kept

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="the commands are those of a shell")
SITE = "site_name: A lab\ntheme: {name: mkdocs}\nplugins: [{notchbook: {deviations: label}}]\n"


@dataclass(frozen=True)
class Branch:
    """A clone on the branch."""

    root: Path
    mark: Path
    """Is there once a command was run."""
    temporary: Path

    def run(self, *command: str) -> subprocess.CompletedProcess[str]:
        """Run a module in the handbook's folder, by somebody whose search for programs begins there."""
        variables = environment(PATH=os.pathsep.join([".", os.environ["PATH"]]), TMPDIR=str(self.temporary))
        del variables["SOURCE_DATE_EPOCH"]
        return subprocess.run(
            [sys.executable, "-m", *command], cwd=self.root, env=variables, capture_output=True, text=True, check=False
        )

    def outside(self) -> set[str]:
        """Everything around the handbook but the inside of the repository."""
        top = self.root.parent.parent
        return {each.relative_to(top).as_posix() for each in top.rglob("*") if ".git" not in each.parts} - {"marks"}


def changed_readings() -> dict[str, small.Data]:
    contents = small.files()
    contents[small.TEST]["specimens"][2]["rise_angle_deg"] = 84.8
    contents[small.TEST]["specimens"][4]["rise_angle_deg"] = 85.6
    return contents


def script(path: Path, run: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(f"#!/bin/sh\n{run}\n", encoding="utf-8")
    path.chmod(0o755)


def spoil(root: Path, run: str, forged: Path) -> None:
    """All that a commit can hold."""
    settings = settings_text(
        core={
            "repositoryformatversion": "1", "bare": "false", "worktree": ".", "fsmonitor": f"{run}; false",
            "hooksPath": "lab/hooks", "sshCommand": run, "pager": run, "editor": run, "askPass": run,
            "attributesFile": "lab/.gitattributes", "alternateRefsCommand": run,
        },
        extensions={"partialClone": "far"},
        remote__far={"url": f"ext::{run}", "promisor": "true", "partialclonefilter": "blob:none"},
        protocol={"allow": "always"}, protocol__ext={"allow": "always"},
        filter__door={"clean": f"{run}; cat", "smudge": f"{run}; cat", "required": "true"},
        diff={"external": run}, diff__door={"textconv": run, "command": run},
        gpg={"program": run}, log={"showSignature": "true"}, credential={"helper": f"!{run}"},
    )  # fmt: skip
    looks_like_a_repository(root, settings, history_of=forged)
    script(root / "git", run)
    for name in ("post-index-change", "post-checkout", "fsmonitor-watchman", "reference-transaction"):
        script(root / "hooks" / name, run)
    (root / ".gitattributes").write_text("* filter=door diff=door\n", encoding="utf-8")
    modules = settings_text(submodule__far={"path": "far", "url": f"ext::{run}", "update": f"!{run}"})
    (root.parent / ".gitmodules").write_text(modules, encoding="utf-8")


@pytest.fixture
def branch(tmp_path: Path) -> Branch:
    mark = tmp_path / "marks/mark"
    mark.parent.mkdir()
    run = f"touch {mark}"
    root = small.write(tmp_path / "all/lab", {**small.files(), "mkdocs.yml": SITE, "docs/index.md": "# A lab\n"})
    kept(tmp_path / "all")
    forged = small.write(tmp_path / "forged", {**changed_readings(), "mkdocs.yml": SITE, "docs/index.md": "# A lab\n"})
    kept(forged)
    git(root, "checkout", "-q", "-b", "change")
    small.write(root, changed_readings())
    kept(tmp_path / "all", "two readings", when="2026-11-03T12:00:00Z")
    spoil(root, run, forged)
    kept(tmp_path / "all", "and more", when="2099-01-01T12:00:00Z")
    # settings that a team shares by including them from a file that is checked out
    git(root.parent, "config", "include.path", "../lab/config")
    (tmp_path / "temporary").mkdir()
    mark.unlink(missing_ok=True)
    return Branch(root, mark, tmp_path / "temporary")


def test_no_command_is_run_and_the_readings_are_seen(branch: Branch) -> None:
    before = branch.outside()
    done = branch.run("notchbook", "review", "--base", "main")
    assert done.returncode == 1, done.stderr
    assert "2 raw readings changed after publication" in done.stdout
    assert "85.8 -> 84.8" in done.stdout
    assert branch.run("notchbook", "check").returncode == 0
    assert branch.outside() == before
    assert not branch.mark.exists()


@pytest.mark.repeats
def test_a_build_runs_none_either_and_is_of_today(branch: Branch) -> None:
    before = branch.outside()
    done = branch.run("mkdocs", "build", "--strict")
    assert done.returncode == 0, done.stderr
    assert {each for each in branch.outside() - before if not each.startswith("all/lab/site")} == set()
    assert "2099" not in (branch.root / "site/index.html").read_text(encoding="utf-8")
    assert not branch.mark.exists()


def test_git_itself_takes_the_folder_for_a_repository(branch: Branch) -> None:
    """What the tests before guard against."""
    assert git(branch.root, "rev-parse", "--git-dir") in (".", str(branch.root))
    plain_git(branch.root, "status")
    assert branch.mark.exists()
