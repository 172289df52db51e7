"""The package as others get it: what its page says, and whether the source archive builds and is tested by itself."""

import email
import os
import re
import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path

import pytest

from notchbook.starting.procedures import EXERCISES, LOSSES

pytest.importorskip("hatchling")

ROOT = Path(__file__).resolve().parent.parent
BUILDING = "import sys; from hatchling.build import {step}; print({step}(sys.argv[1]))"


def built(step: str, folder: Path, target: Path) -> Path:
    """The archive that the build back-end makes of a folder (PEP 517)."""
    words = [sys.executable, "-c", BUILDING.format(step=step), str(target)]
    done = subprocess.run(words, cwd=folder, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return target / done.stdout.splitlines()[-1]


def held(archive: Path) -> dict[str, bytes]:
    """The files of a wheel by their path."""
    with zipfile.ZipFile(archive) as wheel:
        return {each.filename: wheel.read(each) for each in wheel.infolist()}


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    return held(built("build_wheel", ROOT, tmp_path_factory.mktemp("wheel")))


@pytest.fixture(scope="module")
def unpacked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("source")
    with tarfile.open(built("build_sdist", ROOT, folder)) as archive:
        archive.extractall(folder / "in", filter="data")
    (top,) = (folder / "in").iterdir()
    return top


def test_the_package_holds_all_that_it_reads(wheel: dict[str, bytes]) -> None:
    paths = {path.relative_to(ROOT / "plugins") for path in (ROOT / "plugins/notchbook").rglob("*") if path.is_file()}
    assert {path.as_posix() for path in paths if "__pycache__" not in path.parts} <= wheel.keys()
    schemas = {f"notchbook/{path.relative_to(ROOT).as_posix()}" for path in (ROOT / "schema").rglob("*.json")}
    assert schemas <= wheel.keys()
    assert any(name.startswith("notchbook/guide/") for name in wheel)
    # what a handbook of one's own begins with
    begun = ["hazards.yaml", *(f"exercises/{each}.yaml" for each in (*EXERCISES.values(), LOSSES))]
    assert {name for name in wheel if name.startswith("notchbook/procedures/")} == {
        f"notchbook/procedures/{each}" for each in begun
    }
    assert not [name for name in wheel if "__pycache__" in name or name.startswith("tests/")]


def test_the_page_of_the_package_leads_nowhere_that_is_not_there(wheel: dict[str, bytes]) -> None:
    (name,) = (each for each in wheel if each.endswith(".dist-info/METADATA"))
    about = email.message_from_bytes(wheel[name])
    text = str(about.get_payload())
    assert re.findall(r"\]\((?!https://)[^)]*\)", text) == []
    assert text.startswith("# Notchbook\n\nA teaching laboratory")
    assert (about["Description-Content-Type"], about["License-Expression"]) == ("text/markdown", "MIT")
    assert about["Author"] == "The Notchbook authors"
    assert about.get_all("Project-URL") is None
    # the index refuses a package with one of these (core metadata specification, Classifier)
    assert not [each for each in about.get_all("Classifier", []) if each.startswith("Private ::")]


def test_the_source_archive_holds_what_is_kept(unpacked: Path) -> None:
    words = ["git", "ls-files", "--cached", "--others", "--exclude-standard", "-z"]
    listed = subprocess.run(words, cwd=ROOT, capture_output=True, check=False)
    if listed.returncode != 0:
        pytest.skip("this is no clone")
    kept = {os.fsdecode(each) for each in listed.stdout.split(b"\0")[:-1]}
    there = {path.relative_to(unpacked).as_posix() for path in unpacked.rglob("*") if path.is_file()}
    assert {each for each in kept if (ROOT / each).is_file()} - there == set()
    assert there - kept - {"PKG-INFO"} == set()


@pytest.mark.repeats
def test_the_source_archive_builds_the_same_package_and_is_tested(
    unpacked: Path, wheel: dict[str, bytes], tmp_path: Path
) -> None:
    again = held(built("build_wheel", unpacked, tmp_path))
    assert {name: data for name, data in again.items() if not name.endswith("/RECORD")} == {
        name: data for name, data in wheel.items() if not name.endswith("/RECORD")
    }
    tests = ["tests/physics", "tests/schema", "tests/test_golden.py", "tests/test_documentation.py"]
    words = [sys.executable, "-m", "pytest", "-p", "no:cacheprovider", "-m", "not repeats", *tests]
    environment = {**os.environ, "PYTHONPATH": str(unpacked / "plugins")}
    done = subprocess.run(words, cwd=unpacked, env=environment, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout[-3000:]
