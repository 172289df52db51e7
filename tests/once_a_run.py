"""What is made once in a run of the tests, however many processes share them."""

import os
import time
from collections.abc import Callable
from pathlib import Path

import pytest

MOST_SECONDS = 600


def made_once(factory: pytest.TempPathFactory, name: str, make: Callable[[Path], None]) -> Path:
    """The folder of that name, filled by the process that comes first; a folder beside it is the lock.

    Raises TimeoutError where that process did not come to its end.
    """
    top = factory.getbasetemp()
    if "PYTEST_XDIST_WORKER" in os.environ:
        # that of the run, in which each process has one
        top = top.parent
    folder, lock, ready = top / name, top / f"{name}.lock", top / f"{name}.ready"
    try:
        lock.mkdir()
    except FileExistsError:
        end = time.monotonic() + MOST_SECONDS
        while not ready.exists():
            if time.monotonic() > end:
                raise TimeoutError(f"{folder} was not made by the process that began it") from None
            time.sleep(0.2)
    else:
        make(folder)
        ready.touch()
    return folder
