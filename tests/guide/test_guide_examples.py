"""Every example of the guide goes through the check, and every screen of the guide is what the command prints."""

import datetime as dt
import re
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner
from guide_blocks import Block, base_handbook, blocks, pages, write

from notchbook.cli import main
from notchbook.findings import Severity
from notchbook.handbook import RULES, Handbook, open_handbook
from notchbook.pages.written.prose import checked

DAY = dt.date(2026, 11, 30)
"""After every date in the guide."""
WITH_FILES = [page for page in pages() if any(each.path for each in blocks(page))]


@pytest.fixture(scope="module")
def base(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return base_handbook(tmp_path_factory.mktemp("base"))


def _open(root: Path) -> Handbook:
    return checked(open_handbook(root, day=DAY))


def _found(handbook: Handbook, path: str) -> list[tuple[str, str, str, int, int]]:
    """Errors and warnings of the whole handbook, notes of the file."""
    told = [each for each in handbook.findings if each.severity is not Severity.NOTE or each.path == path]
    return sorted((each.path, str(each.severity), each.rule, each.line, each.column) for each in told)


def _words(text: str) -> list[str]:
    """The words of a screen; the guide breaks long lines, and counts files of a handbook that grows."""
    return re.sub(r"\bin \d+ files?\b", "in some files", text).split()


def _printed(root: Path, command: str, monkeypatch: pytest.MonkeyPatch) -> str:
    seconds = dt.datetime.combine(DAY, dt.time(), tzinfo=dt.UTC).timestamp()
    monkeypatch.setenv("SOURCE_DATE_EPOCH", str(int(seconds)))
    monkeypatch.chdir(root)
    return CliRunner().invoke(main, command.split()[1:], catch_exceptions=False).output


def test_base_of_the_examples_is_free_of_errors_and_warnings(base: Path) -> None:
    assert _found(_open(base), "") == []


@pytest.mark.parametrize("page", WITH_FILES, ids=lambda page: page.stem)
def test_examples_of_a_page(page: Path, base: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Good blocks build up one handbook; each bad one spoils a copy of it, and what is found is what it says."""
    good, tried = tmp_path / "good", tmp_path / "tried"
    shutil.copytree(base, good)
    for block in blocks(page):
        where = f"{block.page}:{block.line}"
        if block.path is not None:
            shutil.rmtree(tried, ignore_errors=True)
            shutil.copytree(good, tried)
            text = block.applied(_text(good, block.path))
            write(tried, block.path, text)
            assert _found(_open(tried), block.path) == sorted(block.finds), where
            if block.is_kept:
                write(good, block.path, text)
        elif block.is_screen:
            command, _, screen = block.text.removeprefix("$ ").partition("\n")
            printed = _printed(tried if tried.is_dir() else good, command, monkeypatch)
            assert _words(screen) == _words(printed), where


def _text(root: Path, path: str) -> str | None:
    return (root / path).read_text(encoding="utf-8") if (root / path).is_file() else None


@pytest.mark.parametrize("page", pages(), ids=lambda page: page.stem)
def test_no_example_escapes(page: Path) -> None:
    """A block of data without a path would be an example that nothing tries."""
    for block in blocks(page):
        if block.language == "python":  # the test of notebooks runs it
            continue
        assert block.language in {"yaml", "text", "markdown"}, f"{block.page}:{block.line}"
        if block.language in {"yaml", "markdown"}:
            assert block.path, f"{block.page}:{block.line}"
        if "notchbook" in block.text.partition("\n")[0]:
            assert block.is_screen, f"{block.page}:{block.line}"


@pytest.mark.parametrize("page", pages(), ids=lambda page: page.stem)
def test_rules_that_are_named_exist(page: Path) -> None:
    named = re.findall(r"checks\.md#([\w-]+)", page.read_text(encoding="utf-8"))
    assert set(named) <= set(RULES)


def test_passage_takes_the_place_of_what_has_its_name() -> None:
    text = 'kind: test\ngroup: G2\nspecimens:\n  - {id: "01", break: C}\n  - {id: "02", break: C,\n     excluded: x}\n'
    row = Block("p", 1, "yaml", '# in a.yaml\n# finds: break-type at 6:1\n  - {id: "02", break: Q}\n')
    assert row.applied(text) == text.replace("break: C,\n     excluded: x}", "break: Q}")
    key = Block("p", 1, "yaml", "# in a.yaml\ngroup: G3\nnotes: New.\n")
    assert key.applied(text) == text.replace("G2", "G3") + "notes: New.\n"
