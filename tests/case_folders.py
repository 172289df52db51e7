"""Handbooks that a folder of a case spoils: what lies in it is laid over a copy of the base handbook.

What cannot stand in a folder of text files is asked for in its `case.yaml`, by path in the handbook:

- `write_bytes: {path: "ff fe 6b 00"}`: a file with these bytes, in hexadecimal
- `fill: {path: 1048577}`: a file of so many bytes, all of them the letter a
- `move: {path: path}`: a file of the base handbook under another name
- `link: {path: target}`: a symbolic link; `elsewhere/` beside the handbook is a second copy of the base
- `remove: [path]`: a file or folder of the base handbook that is not there

`expected.txt` holds the findings of the result, one a line as `path:line:column severity rule`; without it there are
none.
"""

import shutil
from pathlib import Path

import yaml

BASE = Path(__file__).parent / "checks/handbook"
"""A small handbook without a finding."""
_OWN_FILES = frozenset({"case.yaml", "expected.txt"})


def prepare(case: Path, root: Path) -> None:
    """Write the handbook of the case into a folder that does not exist yet."""
    shutil.copytree(BASE, root)
    for source in case.rglob("*"):
        relative = source.relative_to(case)
        if source.is_file() and str(relative) not in _OWN_FILES:
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


def expected(case: Path) -> list[str]:
    """The findings that the case asks for."""
    path = case / "expected.txt"
    return path.read_text(encoding="utf-8").splitlines() if path.is_file() else []
