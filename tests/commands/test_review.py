"""`notchbook review` in a handbook with a history: its three forms, its exit status, and how it refuses."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner
from jsonschema import Draft202012Validator

import small_handbook as small
from history import kept
from notchbook.cli import main

SCHEMAS = Path(__file__).resolve().parents[2] / "schema"


@pytest.fixture
def handbook(tmp_path):
    root = small.write(tmp_path / "lab", small.files())
    kept(root)
    return root


def run(root, *words):
    return CliRunner().invoke(main, ["review", "--root", str(root), *words])


def change(root, change_of):
    contents = small.files()
    change_of(contents)
    small.write(root, contents)


def other_reading(contents):
    contents[small.TEST]["specimens"][2]["rise_angle_deg"] = 84.8


def test_nothing_changed(handbook):
    done = run(handbook)
    assert (done.exit_code, done.stdout.partition(": ")[2]) == (0, "nothing changed.\n")


def test_a_changed_reading_is_the_first_thing_to_ask_about(handbook):
    change(handbook, other_reading)
    done = run(handbook)
    assert done.exit_code == 1
    first, _, rest = done.stdout.partition("\n\n")
    assert "1 raw reading changed after publication" in first
    assert rest.startswith("Raw readings changed after publication:\n")
    assert "specimens › 03 › rise_angle_deg: 85.8 -> 84.8" in rest.splitlines()[1]


def test_markdown_says_it_in_the_same_order(handbook):
    change(handbook, other_reading)
    shown = run(handbook, "--format", "markdown").stdout
    pieces = ("raw reading changed", "#### Raw readings", "`85.8` | `84.8`", "#### Results")
    places = [shown.index(each) for each in pieces]
    assert places == sorted(places)


@pytest.mark.parametrize(
    "change_of",
    [
        other_reading,
        lambda contents: contents[small.RIG]["hammers"]["charpy-1"].update(moment_Nm=0.95),
        lambda contents: contents[small.TEST].update(specimens="none", notes="</details>"),
        lambda contents: contents.update({"results/tests/new.yaml": contents[small.TEST]}),
        lambda _: None,
    ],
)
def test_json_is_as_its_schema_says(handbook, change_of):
    change(handbook, change_of)
    done = run(handbook, "--format", "json")
    schema = json.loads((SCHEMAS / "outputs/review.schema.json").read_text(encoding="utf-8"))
    Draft202012Validator.check_schema(schema)
    data = json.loads(done.stdout)
    Draft202012Validator(schema).validate(data)
    assert done.exit_code == (1 if data["questions"] else 0)


def test_against_an_older_revision(handbook):
    change(handbook, other_reading)
    kept(handbook, "another reading")
    assert run(handbook).exit_code == 0
    done = run(handbook, "--base", "HEAD~1")
    assert done.exit_code == 1
    assert "85.8 -> 84.8" in done.stdout


def test_a_handbook_that_is_not_there(tmp_path):
    done = run(tmp_path)
    assert done.exit_code == 2
    assert "holds neither" in done.stderr


@pytest.mark.parametrize(
    ("base", "words"), [("nowhere", "there is no revision 'nowhere'"), ("-x", "there is no revision")]
)
def test_a_revision_that_is_not_there(handbook, base, words):
    done = run(handbook, f"--base={base}")
    assert (done.exit_code, done.stdout) == (2, "")
    assert words in done.stderr
    assert "Traceback" not in done.stderr


def test_without_a_history(tmp_path):
    root = small.write(tmp_path / "lab", small.files())
    done = run(root)
    assert done.exit_code == 2
    assert "git" in done.stderr


def test_check_and_review_hold_records_against_the_day_of_the_commit(tmp_path, monkeypatch):
    """As a build does: what was refused when it was committed is not sound on a later day."""
    monkeypatch.delenv("SOURCE_DATE_EPOCH", raising=False)
    root = small.write(tmp_path / "lab", small.files())
    kept(root, when="2026-10-05T12:00:00Z")  # the day before the record
    done = CliRunner().invoke(main, ["check", "--root", str(root)])
    assert "[date-future]" in done.stdout
    (root / "notes.txt").write_text("changed since", encoding="utf-8")
    assert "[date-future]" not in CliRunner().invoke(main, ["check", "--root", str(root)]).stdout


def test_a_date_in_the_future_makes_no_record_sound(tmp_path, monkeypatch):
    monkeypatch.delenv("SOURCE_DATE_EPOCH", raising=False)
    contents = small.files()
    contents[small.TEST]["date"] = "2098-10-06"
    root = small.write(tmp_path / "lab", contents)
    kept(root, when="2099-01-01T12:00:00Z")
    assert "[date-future]" in CliRunner().invoke(main, ["check", "--root", str(root)]).stdout


def test_a_hook_that_stops_nothing_ends_well_whatever_there_is_to_say(handbook):
    change(handbook, other_reading)
    assert run(handbook).exit_code == 1
    asked = run(handbook, "--exit-zero")
    assert (asked.exit_code, asked.stdout) == (0, run(handbook).stdout)
    nothing = run(handbook, "--base", "no-such-branch", "--exit-zero")
    assert nothing.exit_code == 0
    assert nothing.stderr.startswith("Error: ")
