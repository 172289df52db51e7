"""The three forms under foreign and endless text: a terminal, a log and a comment show it and obey none of it."""

import json
import re
import string
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import example, given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

import small_handbook as small
from full_review import everything
from history import git, kept
from notchbook.cli import main
from notchbook.findings import Finding, Severity
from notchbook.review.changes import Edit, Review
from notchbook.review.forms import FORMS, as_json, as_markdown, as_text
from notchbook.review.sections import sections
from notchbook.review.words import headline, questions
from notchbook.wording.lines import printable

SCHEMA = json.loads((Path(__file__).resolve().parents[2] / "schema/outputs/review.schema.json").read_text("utf-8"))
# An escape of a terminal, marks of direction, signs without width, NUL, ends of lines, a byte that is no text
HOSTILE = "\x1b[31m\u202e\u2066\u200b\ufeff\0\r\n\u2028\x9b\x7f\udcff ::error::x ##[error]x ##vso[task.end]x"
# Largest comment of a forge, in characters (the limit of its database column; common practice, no source)
MOST_CHARACTERS = 65_536


def is_command(line):
    """Whether a runner takes the line for a command: one by its beginning after spaces, others wherever the sign is."""
    return line.strip().startswith("::") or re.search(r"##(vso)?\[", line, re.IGNORECASE)


@pytest.mark.parametrize("form", FORMS)
@given(text=st.text(max_size=40))
@example(text=HOSTILE)
@example(text="::error ::x")
@example(text="##[group]x")
@example(text="  ::set-output name=x::y")
@example(text="###VSO[x]")
def test_every_form_shows_every_character_and_gives_no_command(form, text):
    shown = FORMS[form](everything(text))
    shown.encode("utf-8")
    for line in shown.split("\n"):
        assert line.isprintable(), line
        assert not is_command(line), line


@given(text=st.text(alphabet=st.sampled_from("#[:vso x\n"), max_size=30))
def test_a_line_that_is_made_safe_is_no_command(text):
    assert not is_command(printable(text.replace("\n", " ")))


@given(text=st.text(max_size=40))
@example(text=HOSTILE)
def test_json_still_says_what_it_escapes(text):
    data = json.loads(as_json(everything(text)))
    Draft202012Validator(SCHEMA).validate(data)
    assert data["base"] == data["not_compared"][0] == data["readings"][0]["old"] == text


WORDS = {
    "letters of two bytes": "Удар " * 80,
    "letters of three bytes": "冲击强度" * 100,
    "signs of four bytes": "𝔖𝔠𝔥" * 100,
    "signs that are escaped": "\u202e" * 300,
    "ticks": "`" * 400,
    "bars": "|" * 400,
    "a word": "bar",
}


@pytest.mark.repeats
@pytest.mark.parametrize("text", WORDS.values(), ids=WORDS)
def test_a_comment_is_never_longer_than_a_forge_takes(text):
    shown = as_markdown(everything(text, 500))
    assert len(shown.encode("utf-8")) < 65_000
    assert len(shown.encode("utf-16-le")) // 2 < MOST_CHARACTERS
    assert shown.count("<details>") == shown.count("</details>")
    # the answer is whole, and what was left out is said before the tables
    for each in questions(everything(text, 500)):
        assert each.split()[0] in shown.partition("####")[0]
    assert "This comment is shortened" in shown.partition("####")[0]


def test_what_is_left_out_is_counted_and_what_weighs_most_stays():
    review = Review("0123abc")
    lost = "x" * 150
    review.safety = [Edit("procedures/hazards.yaml", n, f"hazards › {n}", lost, None, "removed") for n in range(900)]
    review.readings = [Edit("results/tests/a.yaml", n, f"specimens › {n}", "1", "2") for n in range(5_000)]
    review.gone_findings = [Finding("file-text", Severity.ERROR, "a", n, 1, "b", "c") for n in range(70)]
    shown = as_markdown(review)
    left_out = dict(re.findall(r"([\d,]+) of [\d,]+ under “([^”]+)”", shown))
    left_out = {title: int(number.replace(",", "")) for number, title in left_out.items()}
    for section in sections(review):
        told = shown.partition(f"#### {section.title}\n")[2].partition("####")[0]
        rows = sum(line.startswith("| ") for line in told.splitlines()) - 2
        assert max(rows, 0) + left_out.get(section.title, 0) == len(section.rows), section.title
    assert shown.index("What can hurt") < shown.index("#### Raw readings")
    assert "`notchbook review --base 0123abc` shows all" in shown
    assert as_text(review).count("\n  procedures/hazards.yaml:") == 900


def test_what_fits_is_not_shortened():
    shown = as_markdown(everything("bar"))
    assert "shortened" not in shown
    assert all(f"#### {each.title}\n" in shown for each in sections(everything("bar")))


def test_of_two_long_values_the_difference_is_shown():
    before = "The pendulum hangs. " * 40 + "It is blocked or locked." + " Nobody reaches in." * 10
    after = before.replace("blocked or locked", "raised and unlocked")
    review = Review("0123abc", safety=[Edit("a", 1, "b", before, after)])
    for form in ("text", "markdown"):
        assert "blocked or locked" in FORMS[form](review)
        assert "raised and unlocked" in FORMS[form](review)


def test_the_first_screen_of_a_comment_is_the_answer():
    first = as_markdown(everything("bar")).splitlines()[:25]
    assert first[0] == "### Notchbook review"
    assert "ask about" in first[2]
    asked = [each.removeprefix("- ") for each in first if each.startswith("- ")]
    assert asked == questions(everything("bar"))
    assert headline(Review("0123abc")) in as_markdown(Review("0123abc"))


@pytest.fixture
def lab(tmp_path):
    root = small.write(tmp_path / "lab", small.files() | {"mkdocs.yml": "plugins: [notchbook]\n", "docs/a.md": "a\n"})
    kept(root)
    return root


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("name", ["::error ::x", "\x1b[31m", "\u202egnp", "##[error]x", "a\nb", "\udcff", "-x", "a|`b"])
def test_names_and_values_in_a_handbook_with_a_history(lab, form, name):
    escaped = json.dumps("\x1b]0;x\x07 ::error::x\u202e ##[error]x")
    small.write(lab, {f"docs/{name}.md": "x\n", f"docs/{name}/b.js": "x\n", f"results/tests/{name}.yaml": "x\n"})
    (lab / "docs" / f"link{name}").symlink_to("nowhere")
    contents = small.files()
    contents["procedures/hazards.yaml"]["hazards"][0]["harm"] = "::error::x \u202e"
    small.write(lab, contents)
    (lab / "mkdocs.yml").write_text(f"plugins: [notchbook]\nsite_name: {escaped}\n", "utf-8")
    done = CliRunner().invoke(main, ["review", "--root", str(lab), "--format", form])
    assert done.exit_code == 1, done.output
    for line in done.output.split("\n"):
        assert line.isprintable(), line
        assert not is_command(line), line
    if form == "json":
        Draft202012Validator(SCHEMA).validate(json.loads(done.stdout))


@pytest.mark.parametrize("base", ["\x1b[31mred", "\u202egnp", "::error::x", "##[error]x", "a\nb", "\udcff"])
def test_revisions_that_are_not_there(lab, base):
    done = CliRunner().invoke(main, ["review", "--root", str(lab), "--base", base])
    assert (done.exit_code, done.stdout) == (2, "")
    for line in done.stderr.split("\n"):
        assert line.isprintable(), line
        assert not is_command(line), line


def test_a_branch_with_an_odd_name(lab):
    git(lab, "branch", "odd\u202e\u200b")
    done = CliRunner().invoke(main, ["review", "--root", str(lab), "--base", "odd\u202e\u200b"])
    assert done.exit_code == 0
    assert all(line.isprintable() for line in done.output.split("\n"))


@pytest.mark.parametrize("name", ["\x1b[31m", "\u202egnp", "a\n::error::", "##[error]x", "\udcff"])
def test_a_folder_with_an_odd_name_that_holds_nothing(tmp_path, name):
    root = tmp_path / name
    root.mkdir()
    done = CliRunner().invoke(main, ["review", "--root", str(root)])
    assert done.exit_code == 2
    assert all(line.isprintable() and not is_command(line) for line in done.stderr.split("\n"))


def test_thousands_of_changes_in_long_foreign_text(lab):
    contents = small.files()
    record = contents[small.TEST]
    for number in range(60):
        other = {**record, "group": f"G{number}", "notes": "冲击" * 4_000, "batch": "б" * 190}
        contents[f"results/tests/2026-10-06-g{number}-pp-h.yaml"] = other
    small.write(lab, contents)
    kept(lab)
    for number in range(60):
        other = contents[f"results/tests/2026-10-06-g{number}-pp-h.yaml"]
        other["specimens"] = [
            {**each, "width_mm": each["width_mm"] + 0.01, "excluded": f"Подпись {string.ascii_letters} {'|' * 80}"}
            for each in other["specimens"]
        ]
        other["batch"], other["notes"] = "ж" * 190, "弯曲" * 4_000
    small.write(lab, contents)
    done = CliRunner().invoke(main, ["review", "--root", str(lab), "--format", "markdown"])
    assert len(done.stdout.encode("utf-8")) < 65_000
    asked = done.stdout.partition("####")[0]
    assert "1,200 raw readings" in asked
    assert "Left out" in asked
