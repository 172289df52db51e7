"""Every rule against its examples.

`examples/<rule>/` holds folders `bad-<case>` and `good-<case>`. Each is laid over a copy of the base handbook in
`handbook/`, and all findings of the result, those of hand-written pages among them, are compared with the case's
`expected.txt`, one a line as `path:line:column severity rule`. A case without that file expects none. What cannot stand
in a folder of text files is asked for in its `case.yaml`, by path in the handbook:

- `write_bytes: {path: "ff fe 6b 00"}`: a file with these bytes, in hexadecimal
- `fill: {path: 1048577}`: a file of so many bytes, all of them the letter a
- `move: {path: path}`: a file of the base handbook under another name
- `link: {path: target}`: a symbolic link; `elsewhere/` beside the handbook is a second copy of the base
- `remove: [path]`: a file or folder of the base handbook that is not there
"""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
import yaml

from notchbook.handbook import RULES, open_handbook
from notchbook.pages.prose import checked

HERE = Path(__file__).parent
BASE, EXAMPLES = HERE / "handbook", HERE / "examples"
OWN_FILES = frozenset({"case.yaml", "expected.txt"})
CASES = sorted(path for path in EXAMPLES.glob("*/*") if path.is_dir())


def _prepare(case: Path, root: Path) -> None:
    shutil.copytree(BASE, root)
    for source in case.rglob("*"):
        relative = source.relative_to(case)
        if source.is_file() and str(relative) not in OWN_FILES:
            (root / relative).parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(source, root / relative)
    asked = case / "case.yaml"
    wishes = yaml.safe_load(asked.read_text(encoding="utf-8")) if asked.is_file() else {}
    assert set(wishes) <= {"write_bytes", "fill", "move", "link", "remove"}
    for path, digits in wishes.get("write_bytes", {}).items():
        (root / path).write_bytes(bytes.fromhex(digits))
    for path, size in wishes.get("fill", {}).items():
        (root / path).write_bytes(b"a" * size)
    for path, target in wishes.get("move", {}).items():
        (root / target).parent.mkdir(parents=True, exist_ok=True)
        (root / path).rename(root / target)
    for path in wishes.get("remove", []):
        shutil.rmtree(root / path) if (root / path).is_dir() else (root / path).unlink()
    if "link" in wishes:
        shutil.copytree(BASE, root.parent / "elsewhere")
    for path, target in wishes.get("link", {}).items():
        (root / path).symlink_to(target)


def _expected(case: Path) -> list[str]:
    path = case / "expected.txt"
    return path.read_text(encoding="utf-8").splitlines() if path.is_file() else []


@pytest.mark.parametrize("case", CASES, ids=[f"{path.parent.name}-{path.name}" for path in CASES])
def test_example_gives_exactly_its_findings(case: Path, tmp_path: Path, day: object) -> None:
    _prepare(case, tmp_path / "handbook")
    found = checked(open_handbook(tmp_path / "handbook", day=day)).findings
    assert sorted(f"{each.path}:{each.line}:{each.column} {each.severity} {each.rule}" for each in found) == sorted(
        _expected(case)
    ), "\n".join(map(str, found))
    for each in found:
        assert each.message, each
        assert each.hint or each.severity == "note", f"says nothing about what to do: {each}"


def test_base_handbook_gives_nothing(day: object) -> None:
    assert open_handbook(BASE, day=day).findings == ()


def test_every_rule_has_a_bad_and_a_good_example_and_no_folder_is_of_another_name() -> None:
    assert sorted(path.name for path in EXAMPLES.iterdir()) == sorted(RULES)


@pytest.mark.parametrize("rule", sorted(RULES))
def test_examples_of_a_rule_show_it(rule: str) -> None:
    folder = EXAMPLES / rule
    bad, good = sorted(folder.glob("bad-*")), sorted(folder.glob("good-*"))
    assert bad
    assert good
    assert {path.name for path in folder.iterdir()} == {path.name for path in bad + good}
    for case in bad:
        assert any(line.endswith(f" {rule}") for line in _expected(case)), f"{case.name} does not break {rule}"
    for case in good:
        assert not any(line.endswith(f" {rule}") for line in _expected(case)), f"{case.name} breaks {rule}"


@pytest.mark.parametrize("case", CASES, ids=[f"{path.parent.name}-{path.name}" for path in CASES])
def test_example_is_in_order(case: Path) -> None:
    expected = _expected(case)
    assert expected == sorted(expected)
    assert any(case.iterdir())
