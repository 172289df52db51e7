"""Locks between processes, where another one has them, where open files stay, and where a disk knows none."""

import errno
import os
import subprocess
import sys
from pathlib import Path

import pytest

from notchbook.building import locks
from notchbook.building.locks import FileLock, held

HOLDING = """
import pathlib, sys
from notchbook.building.locks import FileLock
lock = FileLock(pathlib.Path(sys.argv[1]))
assert lock.take(wait=False)
print("held", flush=True)
sys.stdin.readline()
lock.give_back()
"""


@pytest.fixture
def holder(tmp_path):
    words = [sys.executable, "-c", HOLDING, str(tmp_path / "lock")]
    with subprocess.Popen(words, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout.readline() == "held\n"
        yield process


def freed(process):
    process.stdin.write("\n")
    process.stdin.flush()


def test_a_lock_that_another_process_has_is_not_taken(tmp_path, holder):
    lock = FileLock(tmp_path / "lock")
    assert lock.take(wait=False) is False
    freed(holder)
    holder.wait()
    assert lock.take(wait=False) is True
    lock.give_back()
    assert not (tmp_path / "lock").exists()


def test_who_waits_is_told_for_whom_and_gets_the_lock(tmp_path, holder, monkeypatch):
    monkeypatch.setattr(locks, "_WORD_AFTER_S", 0.0)
    said = []

    def tell(line):
        said.append(line)
        freed(holder)

    with held(tmp_path / "lock", tell):
        assert holder.wait() == 0
    (line,) = said
    assert line.startswith(f"waiting for process {holder.pid} on '")
    assert line.endswith("', which is writing here too ('lock')")


def test_who_waits_for_longer_than_any_build_takes_is_told_what_to_end(tmp_path, holder, monkeypatch):
    monkeypatch.setattr(locks, "_PATIENCE_S", 0.2)
    with pytest.raises(TimeoutError, match=f"process {holder.pid} on '.*' has held it"):
        FileLock(tmp_path / "lock").take(wait=True)
    freed(holder)


@pytest.mark.parametrize("text", ["", "{}", "[1]", '{"process": "x", "computer": 5}', "\udcff"])
def test_a_file_that_does_not_say_who_holds_it_is_no_obstacle(tmp_path, text):
    lock = FileLock(tmp_path / "lock")
    lock.path.write_bytes(text.encode("utf-8", "surrogateescape"))
    assert lock._holder() == "another process"


def test_a_file_that_cannot_be_deleted_while_it_is_open_is_deleted_after(tmp_path, monkeypatch):
    # Windows, DeleteFile: fails for a file that is open without FILE_SHARE_DELETE, as open() opens it
    opened, close, unlink = set(), os.close, Path.unlink
    usual = os.open

    def open_file(path, *arguments):
        handle = usual(path, *arguments)
        opened.add(handle)
        return handle

    def close_file(handle):
        opened.discard(handle)
        close(handle)

    def unlink_file(path, **options):
        if opened:
            raise PermissionError(errno.EACCES, "The process cannot access the file", str(path))
        unlink(path, **options)

    monkeypatch.setattr(os, "open", open_file)
    monkeypatch.setattr(os, "close", close_file)
    monkeypatch.setattr(Path, "unlink", unlink_file)
    lock = FileLock(tmp_path / "lock")
    assert lock.take(wait=False)
    lock.give_back()
    assert not (tmp_path / "lock").exists()


@pytest.mark.parametrize(
    ("number", "is_held"),
    # Linux, flock(2): EWOULDBLOCK where it is held, ENOLCK or others where none can be had; Windows, _locking: EACCES
    [(errno.EWOULDBLOCK, True), (errno.EACCES, True), (errno.ENOLCK, False), (errno.EOPNOTSUPP, False),
     (errno.ENOSYS, False), (errno.EINVAL, False)],
)  # fmt: skip
def test_a_disk_that_knows_no_locks_is_told_from_a_lock_that_is_held(tmp_path, monkeypatch, number, is_held):
    def refuse(_handle):
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(locks, "_lock", refuse)
    said = []
    lock = FileLock(tmp_path / "lock", said.append)
    assert lock.take(wait=False) is not is_held
    assert (lock.is_real, len(said)) == ((True, 0) if is_held else (False, 1))
    lock.give_back()
