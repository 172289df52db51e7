"""Faults that no single number shows: how many of them the check tells, and where."""

import shutil
from pathlib import Path

import pytest
from planting import Files
from quiet import FAULTS, Fault

from notchbook.findings import Severity
from notchbook.handbook import open_handbook

pytestmark = pytest.mark.repeats

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def demo() -> Files:
    names = sorted(path for folder in ("procedures", "results") for path in (ROOT / folder).rglob("*.yaml"))
    return {path.relative_to(ROOT).as_posix(): path.read_text(encoding="utf-8") for path in names}


def _told(root: Path, files: Files) -> dict[str, list[str]]:
    """Errors and warnings by the file in which they are told."""
    shutil.copyfile(ROOT / "mkdocs.yml", root / "mkdocs.yml")
    for name, text in files.items():
        (root / name).parent.mkdir(parents=True, exist_ok=True)
        (root / name).write_text(text, encoding="utf-8")
    told: dict[str, list[str]] = {}
    for each in open_handbook(root).findings:
        if each.severity is not Severity.NOTE:
            told.setdefault(each.path, []).append(str(each))
    return told


@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: fault.name)
def test_fault_is_told_at_the_file_that_is_wrong(fault: Fault, demo: Files, tmp_path: Path) -> None:
    files = dict(demo)
    fault.plant(files)
    assert files != demo
    told = _told(tmp_path, files)
    assert fault.path in told, f"told elsewhere: {sorted(told)}"
