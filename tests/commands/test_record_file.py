"""The file of a record is written whole or not at all, and only where it was meant to be."""

import os
import resource
import stat
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from record_running import COMMON, DEFAULT, handbook, run

from notchbook.commands import record_file
from notchbook.commands.record_file import write_whole
from repeating import repeated

HEADS = "Bar;Width;Thickness;Remaining width;Rise;Break\r\n"
TABLE = HEADS + "".join(f"{n:02};10,0{n % 3};4,01;8,02;86,{n % 5};C\r\n" for n in range(1, 11))
OLD = "kind: test\r\n# as it was\r\n"
MOST_BYTES = 400
"""Less than a record has: the system refuses the rest, as on a disk that is full."""


@pytest.fixture
def root(tmp_path: Path) -> Path:
    (tmp_path / "readings.csv").write_bytes(TABLE.encode())
    return handbook(tmp_path / "handbook")


def record(root: Path, *more: object) -> tuple[int, str, str]:
    return run(root, "import", root.parent / "readings.csv", *COMMON, *more)


def files_below(folder: Path) -> list[str]:
    return sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*") if not path.is_dir())


@pytest.mark.skipif(sys.platform == "win32", reason="the system has no limits of a process")
@pytest.mark.parametrize("command", ["import", "new"])
@pytest.mark.parametrize("there", repeated([True, False], but=[True]))
def test_disk_that_is_full_leaves_what_was_there(root: Path, command: str, there: bool) -> None:
    path = root / DEFAULT
    path.parent.mkdir(parents=True)
    if there:
        path.write_bytes(OLD.encode())
    before = files_below(root)
    table = ["readings.csv"] if command == "import" else []
    done = subprocess.run(
        [sys.executable, "-m", "notchbook", "record", command, *table, *COMMON, "--root", "handbook", "--force"],
        cwd=root.parent,
        capture_output=True,
        encoding="utf-8",
        check=False,
        env={**os.environ, "PYTHONDONTWRITEBYTECODE": "1"},
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (MOST_BYTES, MOST_BYTES)),
    )
    said = f"Error: 'handbook/{DEFAULT}' cannot be written: File too large; what was there is as it was\n"
    assert (done.returncode, done.stdout, done.stderr) == (2, "", said)
    assert files_below(root) == before
    assert not there or path.read_bytes() == OLD.encode()


@pytest.mark.parametrize("step", ["fsync", "replace", "chmod", "interrupted"])
def test_failure_at_any_step_leaves_what_was_there(root: Path, monkeypatch: pytest.MonkeyPatch, step: str) -> None:
    path = root / DEFAULT
    path.parent.mkdir(parents=True)
    path.write_bytes(OLD.encode())
    before = files_below(root)

    def fail(*_: Any) -> None:
        raise KeyboardInterrupt if step == "interrupted" else OSError(28, "No space left on device")

    if step in ("fsync", "interrupted"):
        monkeypatch.setattr(record_file.os, "fsync", fail)
    else:
        monkeypatch.setattr(type(path), step, fail)
    status, _, error = record(root, "--force")
    assert status == 2
    assert error.strip().startswith("Error: ")
    assert (files_below(root), path.read_bytes()) == (before, OLD.encode())


@pytest.mark.skipif(sys.platform == "win32", reason="the system has no such permissions")
@pytest.mark.parametrize("mode", [0o640, 0o600, 0o664])
def test_permissions_and_line_ends_are_kept(root: Path, mode: int) -> None:
    record(root)
    path = root / DEFAULT
    text = path.read_bytes()
    path.write_bytes(text.replace(b"\n", b"\r\n"))
    path.chmod(mode)
    assert record(root, "--force")[0] == 0
    assert path.read_bytes() == text.replace(b"\n", b"\r\n")
    assert stat.S_IMODE(path.stat().st_mode) == mode


@pytest.mark.skipif(sys.platform == "win32", reason="the system has no such permissions")
def test_new_file_has_the_permissions_that_the_person_gives(root: Path) -> None:
    usual = os.umask(0o027)
    try:
        assert record(root)[0] == 0
    finally:
        os.umask(usual)
    assert stat.S_IMODE((root / DEFAULT).stat().st_mode) == 0o640
    assert b"\r" not in (root / DEFAULT).read_bytes()


@pytest.mark.parametrize("one_name", [False, True])
def test_file_that_came_in_the_meantime_is_kept(root: Path, monkeypatch: pytest.MonkeyPatch, one_name: bool) -> None:
    path = root / DEFAULT
    fill = record_file._fill

    def filled_late(beside: Path, content: bytes) -> None:
        fill(beside, content)
        path.write_text("of somebody else")

    monkeypatch.setattr(record_file, "_fill", filled_late)
    if one_name:
        monkeypatch.setattr(type(path), "hardlink_to", _refuse_links)
    status, _, error = record(root)
    assert (status, path.read_text()) == (2, "of somebody else")
    assert "is there already; name another file with --output, or write over it with --force" in error
    assert [name for name in files_below(root) if name.startswith("results/tests")] == [DEFAULT]


def _refuse_links(*_: Any) -> None:
    raise OSError(1, "Operation not permitted")


def test_disk_that_gives_a_file_one_name_only(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(type(tmp_path), "hardlink_to", _refuse_links)
    write_whole(tmp_path / "below/a.yaml", "a\nb\n", replace=False)
    assert files_below(tmp_path) == ["below/a.yaml"]
    assert (tmp_path / "below/a.yaml").read_bytes() == b"a\nb\n"


@pytest.mark.parametrize("force", [[], ["--force"]])
@pytest.mark.parametrize(
    ("target", "said"),
    [
        ("nothing.yaml", "is a link that leads to nothing; name the file itself"),
        ("../../../outside.yaml", "is a link that leads out of the handbook; name the file itself"),
        ("../../../nothing.yaml", "is a link that leads out of the handbook; name the file itself"),
        (DEFAULT.rpartition("/")[2], "is a link that leads to itself; name the file itself"),
    ],
)
def test_link_is_not_written_through(root: Path, target: str, said: str, force: list[str]) -> None:
    outside = root.parent / "outside.yaml"
    outside.write_text("kept")
    path = root / DEFAULT
    path.parent.mkdir(parents=True)
    path.symlink_to(target)
    status, _, error = record(root, *force)
    assert (status, error) == (2, f"Error: '{path}' {said}\n")
    assert path.is_symlink()
    assert outside.read_text() == "kept"
    assert not (root.parent / "nothing.yaml").exists()


def test_link_within_the_handbook_stays_one(root: Path) -> None:
    path, target = root / DEFAULT, root / "results/kept.yaml"
    path.parent.mkdir(parents=True)
    target.write_text("old")
    path.symlink_to("../kept.yaml")
    assert record(root)[0] == 2
    assert target.read_text() == "old"
    assert record(root, "--force")[0] == 0
    assert path.is_symlink()
    assert target.read_text().startswith("kind: test\n")


def test_folder_that_leads_out_is_not_written_into(root: Path) -> None:
    outside = root.parent / "outside"
    outside.mkdir()
    (root / DEFAULT).parent.parent.joinpath("tests").symlink_to(outside)
    status, _, error = record(root, "--force")
    assert status == 2
    assert error.endswith("lies in a folder that leads out of the handbook; name another with --output\n")
    assert not list(outside.iterdir())
    assert record(root, "--output", outside / "a.yaml")[0] == 0


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="the system has no such files")
@pytest.mark.parametrize(
    ("make", "said"),
    [
        (os.mkfifo, "is no file; name a file with --output, or - for the screen"),
        (os.mkdir, "is a folder; name a file with --output, or - for the screen"),
        (lambda path: path.symlink_to("/dev/full"), "is a link that leads out of the handbook; name the file itself"),
    ],
)
def test_what_is_no_file_is_not_written_over(root: Path, make: Any, said: str) -> None:
    path = root / DEFAULT
    path.parent.mkdir(parents=True)
    make(path)
    status, _, error = record(root, "--force")
    assert (status, error) == (2, f"Error: '{path}' {said}\n")


def test_file_that_may_not_be_written_is_not_replaced(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    record(root)
    path, access = root / DEFAULT, os.access
    # the superuser may write to every file
    monkeypatch.setattr(os, "access", lambda name, mode, **rest: mode != os.W_OK and access(name, mode, **rest))
    path.write_text("kept")
    status, _, error = record(root, "--force")
    assert (status, path.read_text()) == (2, "kept")
    assert "may not be written over; see who may write to it" in error


@pytest.mark.skipif(sys.platform != "linux", reason="the device that is always full is one of Linux")
def test_record_whose_findings_cannot_be_printed_is_written(root: Path) -> None:
    (root.parent / "readings.csv").write_bytes(TABLE.replace("10,01", "1,001", 1).encode())
    with open("/dev/full", "wb") as full:  # noqa: PTH123
        done = subprocess.run(
            [sys.executable, "-m", "notchbook", "record", "import", "readings.csv", *COMMON, "--root", "handbook"],
            cwd=root.parent, stdout=full, stderr=subprocess.PIPE, encoding="utf-8", check=False,
        )  # fmt: skip
    assert done.returncode == 2
    wrote, refused = done.stderr.splitlines()
    assert wrote.startswith(f"wrote handbook/{DEFAULT}: 10 bars")
    assert refused == "Error: the output cannot be written: No space left on device"
    assert "width_mm: 1.001" in (root / DEFAULT).read_text(encoding="utf-8")


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="the system has no such files")
def test_table_that_is_no_file_is_refused_at_once(root: Path, tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.csv")
    (tmp_path / "linked.csv").symlink_to("/dev/zero")
    with (tmp_path / "large.csv").open("wb") as file:
        file.truncate(2 << 30)
    said = "name the file with the readings"
    for name, why in {
        "pipe.csv": "is no file that can be read",
        "linked.csv": "is no file that can be read",
        "large.csv": "has 2,147,483,648 bytes; at most 1,048,576 are read",
    }.items():
        path = tmp_path / name
        assert run(root, "import", path, *COMMON) == (2, "", f"Error: '{path}' {why}; {said}\n")
    for name in ("/dev/full", "/dev/zero"):
        assert run(root, "import", name, *COMMON)[0] == 2
    status, _, error = run(root, "import", tmp_path, *COMMON)
    assert (status, "is a directory" in error) == (2, True)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="the system has no such files")
def test_pipe_that_takes_the_place_of_a_file_is_not_waited_for(
    root: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    usual = os.open

    def late(path: Any, *arguments: Any, **options: Any) -> int:
        if str(path).endswith("readings.csv"):
            (tmp_path / "readings.csv").unlink()
            os.mkfifo(tmp_path / "readings.csv")
        return usual(path, *arguments, **options)

    monkeypatch.setattr(os, "open", late)
    status, _, error = record(root)
    assert (status, "is no file that can be read" in error) == (2, True)
