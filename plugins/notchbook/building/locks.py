"""Locks between processes, which end with the process whatever ends it; on a disk that knows none, work goes on."""

import contextlib
import errno
import json
import os
import platform
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

Tell = Callable[[str], None]
"""Says a line to whoever waits."""
_HELD = (errno.EWOULDBLOCK, errno.EAGAIN, errno.EACCES, errno.EDEADLK)
"""What the systems say of a lock that another process has; of anything else, that the disk knows no locks."""
_POLL_S = 0.1
_WORD_AFTER_S = 2.0
_PATIENCE_S = 600.0
"""Longer than any build takes; whoever holds the lock then was left to itself."""
_MOST_BYTES = 1_000


def nowhere(_line: str) -> None:
    """Say nothing: for whoever has nobody to tell."""


class FileLock:
    """A lock on a small file that is there only while the lock is held, and says who holds it."""

    def __init__(self, path: Path, tell: Tell = nowhere) -> None:
        self.path = path
        self.is_real = True
        """False once a lock was taken on a disk that knows none, which keeps nobody else out."""
        self._tell = tell
        self._handle: int | None = None

    def take(self, *, wait: bool) -> bool:
        """Take the lock; False where another process has it and this one does not wait for it.

        Raises OSError where the file cannot be made, or somebody held it for longer than any build takes.
        """
        begun, told = time.monotonic(), False
        while not self._taken():
            waited_s = time.monotonic() - begun
            if not wait:
                return False
            if waited_s > _PATIENCE_S:
                message = f"{self._holder()} has held it for {_PATIENCE_S / 60:.0f} minutes: end that, or wait for it"
                raise TimeoutError(errno.ETIMEDOUT, message, str(self.path))
            if waited_s > _WORD_AFTER_S and not told:
                self._tell(f"waiting for {self._holder()}, which is writing here too ('{self.path.name}')")
                told = True
            time.sleep(_POLL_S)
        return True

    def _taken(self) -> bool:
        handle = os.open(self.path, os.O_RDWR | os.O_CREAT, 0o666)
        try:
            _lock(handle)
        except OSError as error:
            if error.errno in _HELD:
                os.close(handle)
                return False
            self.is_real = False
            self._tell(f"this disk knows no locks ({error.strerror}): let nobody else build here at the same time")
        with contextlib.suppress(FileNotFoundError):
            if os.path.samestat(os.fstat(handle), self.path.stat()):
                self._handle = handle
                self._sign()
                return True
        # whoever had it deleted the file, and another process may have made a new one
        os.close(handle)
        return False

    def _sign(self) -> None:
        """Write down who holds the lock."""
        handle = self._handle
        with contextlib.suppress(OSError):
            if handle is not None:
                os.ftruncate(handle, 0)
                os.write(handle, json.dumps({"process": os.getpid(), "computer": platform.node()}).encode())

    def _holder(self) -> str:
        """Who holds the lock by what stands in the file, in words."""
        try:
            with self.path.open("rb") as file:
                said = json.loads(file.read(_MOST_BYTES))
            return f"process {int(said['process'])} on '{said['computer']}'"
        except (OSError, ValueError, LookupError, TypeError):
            return "another process"

    def give_back(self) -> None:
        """Delete the file and give the lock back."""
        if self._handle is None:
            return
        handle, self._handle = self._handle, None
        try:
            self.path.unlink()
            os.close(handle)
        except OSError:
            # Windows deletes no file that is open
            os.close(handle)
            with contextlib.suppress(OSError):
                self.path.unlink()


@contextlib.contextmanager
def held(path: Path, tell: Tell = nowhere) -> Iterator[None]:
    """Hold the lock of that file, after whoever has it."""
    lock = FileLock(path, tell)
    lock.take(wait=True)
    try:
        yield
    finally:
        lock.give_back()


if sys.platform == "win32":
    import msvcrt

    _BEHIND = 1 << 20
    """The byte that is locked lies behind what is written, which others could not read otherwise."""

    def _lock(handle: int) -> None:
        os.lseek(handle, _BEHIND, os.SEEK_SET)
        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        finally:
            os.lseek(handle, 0, os.SEEK_SET)
else:
    import fcntl

    def _lock(handle: int) -> None:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
