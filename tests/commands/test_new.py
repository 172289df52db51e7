"""`notchbook new`: by options, in a dialogue, and where it must not write."""

from pathlib import Path

import pytest
from click.testing import CliRunner

from notchbook.cli import main
from notchbook.commands import new as command


def run(*arguments: str, typed: str | None = None) -> tuple[int, str]:
    done = CliRunner().invoke(main, ["new", *arguments], input=typed)
    return done.exit_code, done.output


def test_a_folder_that_holds_a_handbook_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "procedures").mkdir()
    (tmp_path / "README.md").write_text("mine", "utf-8")
    status, told = run(str(tmp_path), "--yes")
    assert status == 2
    assert "holds README.md, procedures already" in told
    assert sorted(each.name for each in tmp_path.iterdir()) == ["README.md", "procedures"]


def test_a_repository_that_is_empty_gets_one(tmp_path: Path) -> None:
    (tmp_path / ".git").mkdir()
    assert run(str(tmp_path), "--yes")[0] == 0
    assert (tmp_path / "mkdocs.yml").is_file()


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("--division", "one"), "no list of numbers"),
        (("--length-mm", "-3"), "length"),
        (("--method", "iso-1"), "no method"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_written(
    options: tuple[str, ...], words: str, tmp_path: Path
) -> None:
    folder = tmp_path / "lab"
    status, told = run(str(folder), "--yes", *options)
    assert (status, folder.exists()) == (2, False)
    assert words in told
    assert "Traceback" not in told


def test_in_a_terminal_it_asks_for_what_no_option_says(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(command, "is_asked", lambda: True)
    folder = tmp_path / "lab"
    slips = {"iso-180": "iso-18", "1,2.75": "one"}
    right = ["energy", "0.02", "390", "0", "iso-180", "", "1,2.75", "", "PMMA", "PC", "", "For practice"]
    answers = [typed for each in right for typed in (*filter(None, [slips.get(each)]), each)]
    status, told = run(str(folder), "--name", "Ours", typed="\n".join(answers) + "\n")
    assert status == 0, told
    assert "Name of the site" not in told
    # what cannot be is asked again
    assert told.count("Method (") == 3
    assert "no list of numbers" in told
    rig = (folder / "procedures/rigs/bench-1.yaml").read_text("utf-8")
    assert "division_J: 0.02\n" in rig
    assert "method: iso-180" in rig
    assert sorted(each.stem for each in (folder / "procedures/materials").iterdir()) == ["pc", "pmma"]
    assert "For practice" in (folder / "mkdocs.yml").read_text("utf-8")
