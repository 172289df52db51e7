"""Slips planted by program in every file of the demo: each is told once, on its line, in words of its kind."""

import re
from pathlib import Path

import pytest
from planted_slips import KINDS, Kind, places

from notchbook.reading.folder import PROCEDURE_FOLDERS, RESULT_FOLDERS, Read, read_text
from notchbook.reading.slips import diagnosis
from notchbook.reading.strict_yaml import parse

ROOT = Path(__file__).resolve().parents[2]
FILES = sorted([*(ROOT / "procedures").rglob("*.yaml"), *(ROOT / "results").rglob("*.yaml")])
_KIND_OF_FOLDER = {folder: kind for kind, folder in (PROCEDURE_FOLDERS | RESULT_FOLDERS).items()}


def findings(path: Path, text: str):
    """What is told of a text in the place of that file of the demo."""
    read = Read()
    read_text(path.name, path.stem, _KIND_OF_FOLDER.get(path.parent.name, "hazards"), text, read)
    return sorted(read.findings, key=lambda each: each.order)


@pytest.mark.parametrize("kind", KINDS.values(), ids=KINDS)
def test_a_planted_slip_is_told_once_on_its_line_in_words_of_its_kind(kind: Kind):
    planted = 0
    for path in FILES:
        text = path.read_text("utf-8")
        for spoiled, line in places(kind, text, most=2 if "procedures" in path.parts else 1):
            found = findings(path, spoiled)
            if not found and parse(spoiled)[0] == parse(text)[0]:
                continue  # it changes nothing that is read, such as the depth of an only entry
            planted += 1
            assert [each.line for each in found] == [line], f"{path.name}:{line} {found}"
            assert any(word in found[0].text for word in kind.words), found[0]
    assert planted


@pytest.mark.parametrize("kind", KINDS.values(), ids=KINDS)
def test_two_slips_far_apart_give_no_third_finding(kind: Kind):
    path = ROOT / "procedures/exercises/notched-charpy.yaml"
    text = path.read_text("utf-8")
    planted = [(spoiled, line) for spoiled, line in kind.plant(text) if spoiled.count("\n") == text.count("\n")]
    lines = text.split("\n")
    for spoiled, number in planted[:1] + planted[-1:]:
        lines[number - 1] = spoiled.split("\n")[number - 1]
    found = {each.line for each in findings(path, "\n".join(lines))}
    assert found <= {line for _, line in planted[:1] + planted[-1:]}
    # what breaks the reading may stand before what only the schema refuses
    assert found or not planted


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_files_of_the_demo_are_told_nothing(path: Path):
    assert findings(path, path.read_text("utf-8")) == []


SOUND = """\
kind: material   # a remark: with a colon, "a quotation mark and a { brace
title: "A title: quoted,
  and on two lines"
symbol: 'PP''H'
form: >-
  Folded text: with a colon, an "open mark,
    a deeper line
  - a dash, a # sign, {and [brackets
notes: |
  <<<<<<< kept as it is
  \tA tab, `a backtick`, a % sign
"""


def test_texts_over_several_lines_are_read_as_they_stand(monkeypatch: pytest.MonkeyPatch):
    def never(*_: object) -> None:
        raise AssertionError

    # a file in order is not looked at for slips
    monkeypatch.setattr(diagnosis, "flaws_of", never)
    data, flaws = parse(SOUND)
    assert flaws == []
    assert data["title"] == "A title: quoted, and on two lines"
    assert data["notes"].startswith("<<<<<<< kept")
    path = ROOT / "procedures/materials/pp-h.yaml"
    assert findings(path, SOUND) == []


@pytest.mark.parametrize(
    ("old", "new", "line"),
    [
        ("symbol: 'PP''H'", "symbol 'PP''H'", 4),
        ("form: >-", "form:>-", 5),
        ("kind: material ", "kind: material: ", 1),
        ("notes: |", "\tnotes: |", 9),
    ],
)
def test_a_slip_beside_texts_over_several_lines_is_found(old: str, new: str, line: int):
    (flaw,) = parse(SOUND.replace(old, new))[1]
    assert flaw.line == line
    assert not re.search("quotation mark .* is not closed", flaw.message)
