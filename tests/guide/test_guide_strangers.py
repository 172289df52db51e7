"""The page on changes from strangers, tried with a repository and a branch that does all that the page speaks of."""

import json
import os
import re
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
import yaml
from guide_blocks import GUIDE
from test_guide_pipelines import FILES

import small_handbook as small
from history import git, kept
from repeating import repeated

PAGE = (GUIDE / "strangers.md").read_text(encoding="utf-8")
ROW = re.compile(r"^\| (?P<commands>`.+?`) \| (?P<runs>[^|]+) \|", re.MULTILINE)
RUNS = {
    command: row["runs"].strip() for row in ROW.finditer(PAGE) for command in re.findall(r"`(.+?)`", row["commands"])
}
NOTHING = "nothing"
WORDS = {
    "notchbook check": ["notchbook", "check"],
    "notchbook review": ["notchbook", "review", "--base", "main"],
    "notchbook results": ["notchbook", "results"],
    "notchbook hammer": ["notchbook", "hammer", "bench-1", "pp-h"],
    "notchbook uncertainty": ["notchbook", "uncertainty", "2026-10-06-g2-pp-h", "--draws", "1000"],
    "notchbook record": ["notchbook", "record", "new", "--exercise", "notched-charpy", "--rig", "bench-1",
                         "--hammer", "charpy-1", "--date", "2026-10-12", "--group", "G7"],
    "notchbook site": ["notchbook", "site"],
    "mkdocs build": ["mkdocs", "build", "--strict"],
}  # fmt: skip
"""How each command of the table is tried; a preview reads its settings as a build does."""
SITE = "site_name: A lab\ntheme: {name: material, font: false}\nplugins: [notchbook]\n"
SPOILED = """\
site_name: A lab
site_dir: results
site_description: !!python/object/apply:os.system ["touch {mark}"]
theme: {{name: material, font: false, custom_dir: overrides}}
hooks: [hooks/day.py]
plugins: [notchbook: {{deviations: label}}]
"""
MODULES = ("pip.py", "notchbook.py", "yaml.py", "sitecustomize.py", "usercustomize.py", "numpy/__init__.py")
"""Files that Python would take for a library where it looks into the folder at hand."""


@dataclass(frozen=True)
class Branch:
    """A clone on the branch of a stranger."""

    root: Path
    mark: Path
    """Is there once anything of the branch was run."""

    def run(self, *words: str, **variables: str) -> subprocess.CompletedProcess[str]:
        """Run a program as a pipeline does: from where it is installed, in the folder of the handbook."""
        programs = Path(sys.executable).parent
        environment = {**os.environ, "NO_MKDOCS_2_WARNING": "1", "COLUMNS": "1000", **variables}
        environment["PATH"] = f"{programs}{os.pathsep}{os.environ['PATH']}"
        return subprocess.run(words, cwd=self.root, env=environment, capture_output=True, text=True, check=False)

    def checked(self) -> set[tuple[str, str]]:
        """Rule and file of each error."""
        done = self.run("notchbook", "check", "--format", "json")
        found = json.loads(done.stdout)["findings"]
        return {(each["rule"], each["path"]) for each in found if each["severity"] == "error"}


def _code(mark: Path) -> str:
    return f"import pathlib\npathlib.Path({str(mark)!r}).touch()\n"


@pytest.fixture
def branch(tmp_path: Path) -> Branch:
    mark = tmp_path / "mark"
    (tmp_path / "key").write_text("a private key\n", encoding="utf-8")
    root = small.write(tmp_path / "lab", {**small.files(), "mkdocs.yml": SITE, "docs/about.md": "# About\n"})
    kept(root)
    git(root, "checkout", "-q", "-b", "change")
    contents = small.files()
    contents[small.TEST]["specimens"][2]["rise_angle_deg"] = 84.8
    contents["procedures/hazards.yaml"]["hazards"][0]["controls"] = {"guard": ["none"]}
    spoiled: dict[str, Any] = {
        "mkdocs.yml": SPOILED.format(mark=mark),
        "hooks/day.py": _code(mark),
        "overrides/main.html": '{% extends "base.html" %}\n',
        "docs/about.md": "# About\n\n<script>alert(1)</script>\n\n[here](javascript:alert(1))\n",
        f"docs/records/{small.TEST_ID}.md": "# 99 kJ/m²\n",
        "docs/data/results.json": "{}\n",
    }
    small.write(root, contents | spoiled | {name: _code(mark) for name in MODULES})
    (root / "docs/key.md").symlink_to(tmp_path / "key")
    kept(root, "an improvement", when="2026-11-03T12:00:00Z")
    return Branch(root, mark)


def test_every_command_of_the_table_is_tried() -> None:
    assert set(RUNS) == {*WORDS, "notchbook serve", "mkdocs serve"}
    building = {RUNS[each] for each in ("notchbook site", "notchbook serve", "mkdocs build", "mkdocs serve")}
    assert len(building) == 1
    assert NOTHING not in building


@pytest.mark.repeats
@pytest.mark.parametrize("command", repeated(WORDS, but=[*WORDS][:2]))
def test_what_runs_of_a_change(command: str, branch: Branch) -> None:
    branch.run(*WORDS[command])
    assert branch.mark.exists() is (RUNS[command] != NOTHING)


def test_python_itself_looks_into_the_folder_first(branch: Branch) -> None:
    """Why a pipeline calls `pip` and never `python -m pip`, or says PYTHONSAFEPATH."""
    branch.run("python", "-m", "pip", "--version", PYTHONSAFEPATH="1")
    assert not branch.mark.exists()
    branch.run("python", "-m", "pip", "--version")
    assert branch.mark.exists()


def test_the_review_asks_first_about_what_can_hurt_and_what_a_build_would_run(branch: Branch) -> None:
    done = branch.run("notchbook", "review", "--base", "main", "--format", "json")
    assert done.returncode == 1, done.stderr
    review = json.loads(done.stdout)
    assert review["safety"]
    told = "\n".join(f"{each['what']} {each['new']}" for each in review["settings"])
    for setting in ("hooks", "custom_dir", "site_dir", "deviations", "python/object/apply"):
        assert setting in told
    files = {each["path"] for each in review["files"]}
    assert {"hooks/day.py", "overrides/main.html", "docs/about.md"} <= files
    assert any("docs/key.md" in each for each in review["not_compared"])
    assert any(each["new"] == "84.8" for each in review["readings"])


def test_the_check_refuses_what_would_be_lost_replaced_or_given_away(branch: Branch) -> None:
    errors = branch.checked()
    assert ("site-place", "mkdocs.yml") in errors
    assert ("computed-address", f"docs/records/{small.TEST_ID}.md") in errors
    assert ("computed-address", "docs/data/results.json") in errors
    assert {("page-markup", "docs/about.md"), ("page-link", "docs/about.md")} <= errors
    assert any(path == "docs/key.md" for _, path in errors)


def test_a_build_of_the_change_leaves_the_readings_where_they_are(branch: Branch) -> None:
    before = {path: path.read_bytes() for path in (branch.root / "results").rglob("*.yaml")}
    done = branch.run("mkdocs", "build", "--strict")
    assert done.returncode != 0
    assert {path: path.read_bytes() for path in (branch.root / "results").rglob("*.yaml")} == before


def _jobs(path: str) -> dict[str, Any]:
    text = re.sub(r"^on:", '"on":', FILES[path], flags=re.MULTILINE)
    return yaml.safe_load(text)["jobs"]


@pytest.mark.repeats
def test_steps_that_read_a_change_run_nothing_of_it(branch: Branch, tmp_path: Path) -> None:
    """The lines of the pipeline itself, after the one that installs."""
    for path, text in FILES.items():
        assert "python -m" not in text, path
    runner = tmp_path / "runner"
    runner.mkdir()
    steps = [step["run"] for step in _jobs(".github/workflows/handbook.yml")["check"]["steps"] if "run" in step]
    steps = [step for step in steps if not step.startswith("pip ")]
    assert len(steps) == 2
    summary = tmp_path / "summary"
    for step in steps:
        branch.run("sh", "-c", step, BASE="main", RUNNER_TEMP=str(runner), GITHUB_STEP_SUMMARY=str(summary))
    assert "Notchbook review" in summary.read_text(encoding="utf-8")
    assert not branch.mark.exists()


def test_what_may_write_never_fetches_the_change() -> None:
    text = FILES[".github/workflows/handbook.yml"]
    assert yaml.safe_load(text)["permissions"] == {"contents": "read"}
    for name, job in _jobs(".github/workflows/handbook.yml").items():
        fetches = [step for step in job["steps"] if step.get("uses", "").startswith("actions/checkout@")]
        assert bool(fetches) is ("permissions" not in job), name
        assert all(step["with"]["persist-credentials"] is False for step in fetches), name
        if fetches:
            trusted, change = map(job["steps"].index, fetches)
            assert job["steps"][trusted]["with"]["ref"] == "${{ env.TRUSTED }}"
            (installs,) = [place for place, each in enumerate(job["steps"]) if "pip install" in each.get("run", "")]
            assert trusted < installs < change, name
    assert _jobs(".github/workflows/handbook.yml")["publish"]["if"] == "github.event_name == 'push'"
