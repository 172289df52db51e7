"""Handbooks that somebody spoiled on purpose or by accident, checked by the command as a person runs it.

Each gives its findings and no others, with the work and memory that a handbook of its size needs, and never a
traceback.
`cases/` holds them in the form that `case_folders` describes, `recipes.py` those that no repository can hold.
"""

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from recipes import MATERIAL, RECIPES

import case_folders
import prepared_command
from notchbook.findings import RENDERINGS, Finding, Severity
from notchbook.handbook import RULES
from repeating import repeated

HERE = Path(__file__).parent
CASES = sorted(path for path in (HERE / "cases").iterdir() if path.is_dir())
DAY = "1805068800"
"""2027-03-15, after every date in the base handbook, in seconds of Unix time."""
# What a file may cost above what the command costs with a handbook that is in order: calls of functions, which are the
# same on every machine, and memory. The costliest case, a file as large as is read, takes 4.7 million.
MOST_CALLS, MOST_MB = 6_000_000, 200.0


@dataclass(frozen=True)
class Run:
    """What the command did."""

    status: int
    megabytes: float
    """The most memory that it had."""
    calls: int | None
    """Of functions, where it ran in a copy."""
    stdout: str
    stderr: str

    @property
    def findings(self) -> list[dict[str, Any]]:
        """What it found, where it was asked for JSON."""
        return json.loads(self.stdout)["findings"]


@dataclass(frozen=True)
class Way:
    """How the command is run, and what it costs with a handbook that has no finding."""

    check: Callable[[Path, str], Run]
    start: Run


def _check_in_a_copy(folder: Path, form: str, *before: str) -> Run:
    """In a copy of a process that has loaded the engine."""
    done = prepared_command.run(
        "notchbook", "check", "--root", str(folder / "handbook"), "--format", form,
        folder=folder, environment={"SOURCE_DATE_EPOCH": DAY}, before=before, strict=True,
        counted=True,
    )  # fmt: skip
    return Run(done.status, done.megabytes, done.calls, done.stdout.decode("utf-8"), done.stderr.decode("utf-8"))


def _check(folder: Path, form: str, *before: str) -> Run:
    """In a process of its own, as a person runs it."""
    command = [
        *before,
        sys.executable,
        "-m",
        "notchbook",
        "check",
        "--root",
        str(folder / "handbook"),
        "--format",
        form,
    ]
    runner = [sys.executable, str(HERE / "measured_run.py"), str(folder), *command]
    environment = {**os.environ, "SOURCE_DATE_EPOCH": DAY, "PYTHONWARNINGS": "error"}
    done = subprocess.run(runner, capture_output=True, encoding="utf-8", timeout=600, env=environment, check=True)
    printed = [(folder / name).read_text("utf-8") for name in ("stdout", "stderr")]
    return Run(*json.loads(done.stdout), None, *printed)


@pytest.fixture(scope="module", params=["copy", pytest.param("process", marks=pytest.mark.repeats)])
def way(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Way:
    """The start is a run over the base handbook, which has no finding."""
    folder = tmp_path_factory.mktemp("start")
    shutil.copytree(case_folders.BASE, folder / "handbook")
    check = _check_in_a_copy if request.param == "copy" else _check
    start = check(folder, "json")
    assert (start.status, start.findings) == (0, [])
    return Way(check, start)


def _assert_in_order(run: Run, way: Way) -> None:
    assert "Traceback" not in run.stdout + run.stderr
    assert len(run.stderr.splitlines()) == 1, run.stderr  # the summary
    assert run.status == int(any(each["severity"] == "error" for each in run.findings))
    for each in run.findings:
        assert each["line"] >= 1
        assert each["column"] >= 1
        assert len(each["message"]) < 2_000
        assert each["hint"] or each["severity"] == "note", each
    again = [Finding(**{**each, "severity": Severity(each["severity"])}) for each in run.findings]
    for form, rendering in RENDERINGS.items():
        text = rendering(again, list(RULES.values()))
        text.encode("utf-8")
        assert form not in ("text", "github") or len(text.splitlines()) == len(again), form
        assert all(each.isprintable() for each in text.split("\n")), form
    if run.calls is not None and way.start.calls is not None:
        assert run.calls < way.start.calls + MOST_CALLS
    assert run.megabytes < way.start.megabytes + MOST_MB


def _lines(run: Run) -> list[str]:
    return [
        f"{each['path']}:{each['line']}:{each['column']} {each['severity']} {each['rule']}" for each in run.findings
    ]


@pytest.mark.parametrize("case", CASES, ids=[case.name for case in CASES])
def test_spoiled_file_gives_its_findings(case: Path, tmp_path: Path, way: Way) -> None:
    case_folders.prepare(case, tmp_path / "handbook")
    run = way.check(tmp_path, "json")
    _assert_in_order(run, way)
    assert _lines(run) == case_folders.expected(case)
    assert not list(tmp_path.rglob("built"))


@pytest.mark.parametrize("name", repeated(RECIPES, but=[*RECIPES][::6]))
def test_handbook_after_a_recipe_gives_its_findings(name: str, tmp_path: Path, way: Way) -> None:
    recipe = RECIPES[name]
    shutil.copytree(case_folders.BASE, tmp_path / "handbook")
    try:
        recipe.make(tmp_path / "handbook")
        run = way.check(tmp_path, "json")
    finally:
        # folders can be deeper than Python follows them
        subprocess.run(["rm", "-rf", str(tmp_path / "handbook")], check=True)
    _assert_in_order(run, way)
    if recipe.number is None:
        assert _lines(run) == list(recipe.expected)
    else:
        assert (_lines(run)[: len(recipe.expected)], len(run.findings)) == (list(recipe.expected), recipe.number)


@pytest.mark.parametrize("form", RENDERINGS)
@pytest.mark.parametrize("name", ["name-of-two-lines", "name-turns-direction", "page-name-that-is-no-text"])
def test_names_that_are_no_text_are_printed_in_every_form(name: str, form: str, tmp_path: Path) -> None:
    shutil.copytree(case_folders.BASE, tmp_path / "handbook")
    RECIPES[name].make(tmp_path / "handbook")
    run = _check_in_a_copy(tmp_path, form)
    assert run.status == 1
    assert "Traceback" not in run.stderr
    assert all(each.isprintable() for each in run.stdout.split("\n"))


@pytest.mark.parametrize("path", [MATERIAL, "procedures/materials", "mkdocs.yml", "docs/index.md", "docs/below"])
def test_what_may_not_be_read_is_told(path: str, tmp_path: Path) -> None:
    # the superuser may read everything unless that is taken from him
    before = ("setpriv", "--bounding-set=-dac_override,-dac_read_search") if os.geteuid() == 0 else ()
    if before and shutil.which("setpriv") is None:
        pytest.skip("needs a user who is not the superuser, or setpriv")
    root = tmp_path / "handbook"
    shutil.copytree(case_folders.BASE, root)
    (root / "docs/below").mkdir(parents=True)
    (root / "docs/index.md").write_text("fine")
    (root / "mkdocs.yml").write_text("site_name: x\nplugins: [notchbook]\n")
    if not (root / path).exists():
        (root / path).write_text("kind: material\n")
    (root / path).chmod(0)
    run = _check_in_a_copy(tmp_path, "json", *before)
    (root / path).chmod(0o700)
    assert "Traceback" not in run.stderr
    assert run.status == 1
    told = [each for each in run.findings if each["path"] == path]
    assert [each["rule"] for each in told] == ["settings" if path == "mkdocs.yml" else "file-text"]
    assert "cannot be read: Permission denied" in told[0]["message"]


def test_every_case_says_what_it_spoils() -> None:
    for case in CASES:
        assert [path for path in case.rglob("*") if path.is_file() and path.name != "expected.txt"], case


@pytest.mark.parametrize(
    "name",
    ["pipe-as-a-page", "pipe-as-a-picture", "picture-linked-from-outside", "pages-linked-in-a-circle",
     "page-in-two-bytes", "page-name-that-is-no-text", "formula-of-brackets", "notation-without-end"],
)  # fmt: skip
def test_nothing_is_built_of_hostile_pages(name: str, tmp_path: Path) -> None:
    root = tmp_path / "handbook"
    shutil.copytree(case_folders.BASE, root)
    RECIPES[name].make(root)
    _assert_not_built(root)


@pytest.mark.parametrize("folder", [r"a\0b", r"\u202e", "a" * 5_000, "../..", "nowhere"])
def test_nothing_is_built_from_a_folder_that_cannot_be(folder: str, tmp_path: Path) -> None:
    root = tmp_path / "handbook"
    shutil.copytree(case_folders.BASE, root)
    (root / "docs").mkdir()
    settings = f'site_name: x\nplugins:\n  - notchbook:\n      results: "{folder}"\n'
    (root / "mkdocs.yml").write_text(settings, encoding="utf-8")
    _assert_not_built(root)


def _assert_not_built(root: Path) -> None:
    done = prepared_command.run(
        "mkdocs", "build", "--strict", "--config-file", str(root / "mkdocs.yml"),
        folder=root.parent, environment={"SOURCE_DATE_EPOCH": DAY, "NO_MKDOCS_2_WARNING": "1"},
    )  # fmt: skip
    said = done.stderr.decode("utf-8")
    assert done.status == 1, said
    assert "Nothing was built" in said
    assert "Traceback" not in said
    assert all(each.isprintable() for each in said.split("\n"))
    assert not (root / "site").exists()
