"""`notchbook record new`: the blank that it writes, and how it refuses."""

from pathlib import Path

import pytest
from record_running import COMMON, DEFAULT, SETUP, handbook, run

import small_handbook as small
from notchbook.findings import Severity
from notchbook.handbook import open_handbook
from notchbook.reading.strict_yaml import parse


@pytest.fixture
def root(tmp_path: Path) -> Path:
    return handbook(tmp_path / "handbook")


def test_blank_goes_to_the_screen_with_a_line_a_bar(root: Path) -> None:
    status, said, error = run(root, "new", *SETUP, "--output", "-")
    assert (status, error) == (0, "")
    assert not list(root.glob("results/tests/*"))
    data, flaws = parse(said)
    assert flaws == []
    assert [data[key] for key in ("exercise", "rig", "hammer", "date")] == [*SETUP[1::2], None]
    assert [bar["id"] for bar in data["specimens"]] == [f"{number:02}" for number in range(1, 11)]
    assert set(data["specimens"][0].values()) == {"01", None}


def test_blank_of_an_exercise_without_bars_is_one_of_free_swings(root: Path) -> None:
    contents = small.files()
    for key in ("specimen", "number_of_specimens"):
        del contents[small.EXERCISE][key]
    small.write(root, {"procedures/exercises/swings.yaml": contents[small.EXERCISE]})
    options = ["--exercise", "swings", *SETUP[2:], "--date", "2026-10-07", "--group", "G2"]
    status, _, error = run(root, "new", *options)
    path = root / "results/swings/2026-10-07-g2-swings-bench-1-charpy-1.yaml"
    assert (status, error) == (0, f"wrote {path}: fill in the blanks, then run `notchbook check`\n")
    data, flaws = parse(path.read_text(encoding="utf-8"))
    assert flaws == []
    assert data["free_swings"] == {"first_rise_deg": None, "second_rise_deg": None}
    assert "# series: {rises_deg: [95.0, 93.8, 92.7], half_swings_between: 2}\n" in path.read_text(encoding="utf-8")


def test_what_is_known_is_filled_in_and_names_the_file(root: Path) -> None:
    status, said, error = run(root, "new", *COMMON, "--batch", "PP-26-01", "--first-rise", "94,6")
    assert (status, said) == (0, "")
    assert error == f"wrote {root / DEFAULT}: fill in the blanks, then run `notchbook check`\n"
    data, _ = parse((root / DEFAULT).read_text(encoding="utf-8"))
    assert (data["date"], data["batch"], data["free_swings"]) == ("2026-10-13", "PP-26-01", {"first_rise_deg": 94.6})
    assert data["test_atmosphere"] == {"temperature_C": 23.4, "humidity_pct": 47}


def test_check_finds_every_blank_of_what_was_written(root: Path) -> None:
    run(root, "new", *COMMON)
    found = [each for each in open_handbook(root).findings if each.path == DEFAULT]
    assert len(found) == 10 * 5
    assert {(each.rule, each.severity) for each in found} == {("value-type", Severity.ERROR)}


def test_line_of_the_schema_leads_to_it(tmp_path: Path) -> None:
    root = handbook(tmp_path, with_schema=True)
    run(root, "new", *COMMON)
    first = (root / DEFAULT).read_text(encoding="utf-8").partition("\n")[0]
    assert first == "# yaml-language-server: $schema=../../schema/test.schema.json"
    _, said, _ = run(root, "new", *COMMON, "--output", "-")
    assert "yaml-language-server" not in said


def test_schema_on_another_drive_is_not_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def apart(path: str, start: str) -> str:
        raise ValueError(f"path is on mount '{path}', start on mount '{start}'")

    root = handbook(tmp_path, with_schema=True)
    # Windows, where no relative path leads from drive to drive: os.path.relpath, Library Reference
    monkeypatch.setattr("notchbook.commands.record_file.os.path.relpath", apart)
    status, _, _ = run(root, "new", *COMMON)
    assert status == 0
    assert "yaml-language-server" not in (root / DEFAULT).read_text(encoding="utf-8")


def test_file_that_is_there_is_kept_unless_forced(root: Path) -> None:
    assert run(root, "new", *COMMON)[0] == 0
    (root / DEFAULT).write_text("kept", encoding="utf-8")
    status, _, error = run(root, "new", *COMMON)
    assert (status, (root / DEFAULT).read_text(encoding="utf-8")) == (2, "kept")
    assert "is there already" in error
    assert run(root, "new", *COMMON, "--force")[0] == 0
    assert (root / DEFAULT).read_text(encoding="utf-8") != "kept"


def test_without_a_name_for_the_file_it_asks_for_one(root: Path) -> None:
    status, said, error = run(root, "new", *SETUP)
    assert (status, said) == (2, "")
    assert error == (
        "Error: the file is named by day, group, material and exercise; "
        "give --date, --group, --material and --exercise, or --output\n"
    )


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (
            [],
            [
                "Exercise is missing; give --exercise ID",
                "Rig is missing; give --rig ID",
                "Hammer is missing; give --hammer ID",
            ],
        ),
        (
            ["--exercise", "notched-charp", "--rig", "bench-1", "--hammer", "charpy-9", "--date", "soon"],
            [
                "--date: 'soon' is no date; write year, month and day, such as 2026-10-06",
                "--exercise: there is no exercise 'notched-charp'; did you mean 'notched-charpy'?",
                "--hammer: rig 'bench-1' has no hammer 'charpy-9'; did you mean 'charpy-2'?",
            ],
        ),
        (
            [*SETUP, "--atmosphere-temperature", "5000"],
            [
                "--atmosphere-temperature: 'temperature_C' is 5000; it must be at most 1000; "
                "Temperature in degrees Celsius during the test."
            ],
        ),
    ],
    ids=["nothing", "unknown", "range"],
)  # fmt: skip
def test_everything_in_the_way_is_told_at_once(root: Path, arguments: list[str], told: list[str]) -> None:
    status, said, error = run(root, "new", *arguments)
    *lines, last = error.splitlines()
    assert (status, said, lines) == (2, "", told)
    assert last.startswith(f"not written: {len(told)} thing")


@pytest.mark.parametrize("command", ["import", "new"])
def test_help_says_what_it_does_and_how_it_ends(tmp_path: Path, command: str) -> None:
    status, said, _ = run(tmp_path, command, "--help")
    assert status == 0
    assert "\n  Exit status: 0  the record was written" in said
    assert "\n               2  nothing was written" in said
    for option in ("--root", "--exercise", "--output", "--force", "--conditioning-hours"):
        assert option in said
