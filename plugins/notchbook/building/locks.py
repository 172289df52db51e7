"""Locks between processes on one machine, which end with the process whatever ends it."""

import contextlib
import os
import sys
from collections.abc import Iterator
from pathlib import Path


class FileLock:
    """A lock on a small file that is there only while the lock is held."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self._handle: int | None = None

    def take(self, *, wait: bool) -> bool:
        """Take the lock; False where another process has it and this one does not wait for it.

        Raises OSError where the file cannot be made.
        """
        while True:
            handle = os.open(self.path, os.O_RDWR | os.O_CREAT, 0o666)
            try:
                _lock(handle, wait=wait)
            except OSError:
                os.close(handle)
                if wait:
                    raise
                return False
            with contextlib.suppress(FileNotFoundError):
                if os.path.samestat(os.fstat(handle), self.path.stat()):
                    self._handle = handle
                    return True
            # whoever had it deleted the file, and another process may have made a new one
            os.close(handle)

    def give_back(self) -> None:
        """Delete the file and give the lock back."""
        if self._handle is None:
            return
        with contextlib.suppress(OSError):
            self.path.unlink()
        os.close(self._handle)
        self._handle = None


@contextlib.contextmanager
def held(path: Path) -> Iterator[None]:
    """Hold the lock of that file, after whoever has it."""
    lock = FileLock(path)
    lock.take(wait=True)
    try:
        yield
    finally:
        lock.give_back()


if sys.platform == "win32":
    import msvcrt

    def _lock(handle: int, *, wait: bool) -> None:
        msvcrt.locking(handle, msvcrt.LK_LOCK if wait else msvcrt.LK_NBLCK, 1)
else:
    import fcntl

    def _lock(handle: int, *, wait: bool) -> None:
        fcntl.flock(handle, fcntl.LOCK_EX | (0 if wait else fcntl.LOCK_NB))
