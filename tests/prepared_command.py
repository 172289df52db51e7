"""Commands in copies of a process that has loaded what they need; see `prepared_process.py`."""

import atexit
import functools
import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import IO

HERE = Path(__file__).resolve().parent
# What a process reads when it starts and never again; each of these needs a process that was started so.
AT_START = ("LC_ALL", "PYTHONUTF8", "PYTHONCOERCECLOCALE", "PYTHONHASHSEED")
USUAL = {"PYTHONUTF8": "1"}


@dataclass(frozen=True)
class Ended:
    """What a command did."""

    status: int
    stdout: bytes
    stderr: bytes
    megabytes: float
    """The most memory that it had, with what was loaded."""
    calls: int | None
    """Of functions, where they were counted."""


class Prepared:
    """A loaded process, and the commands that copies of it run."""

    def __init__(self, before: tuple[str, ...], at_start: Mapping[str, str]) -> None:
        # a process of several threads cannot be copied
        environment = {**os.environ, **USUAL, **at_start, "OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}
        # only the usual one builds
        parts = ["check"] if before or at_start else ["check", "build"]
        command = [*before, sys.executable, str(HERE / "prepared_process.py"), *parts]
        self._process = subprocess.Popen(
            command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, env=environment
        )
        atexit.register(self._close)

    def _close(self) -> None:
        _of(self._process.stdin).close()
        self._process.wait()
        _of(self._process.stdout).close()

    def run(self, request: dict[str, object]) -> list[float]:
        """Exit status and MB."""
        print(json.dumps(request), file=_of(self._process.stdin), flush=True)
        answer: list[float] = json.loads(_of(self._process.stdout).readline())
        return answer


def _of(stream: IO[str] | None) -> IO[str]:
    assert stream is not None
    return stream


@functools.cache
def _prepared(before: tuple[str, ...], at_start: tuple[tuple[str, str], ...]) -> Prepared:
    return Prepared(before, dict(at_start))


def prepared(before: tuple[str, ...] = (), environment: Mapping[str, str] | None = None) -> Prepared:
    """The process that was started by that command and with those variables; it is started once."""
    usual = {**os.environ, **USUAL}
    given = {name: value for name, value in (environment or {}).items() if name in AT_START}
    chosen = {name: value for name, value in given.items() if usual.get(name) != value}
    return _prepared(before, tuple(sorted(chosen.items())))


def run(
    module: str,
    *arguments: str,
    folder: Path,
    environment: Mapping[str, str] | None = None,
    before: tuple[str, ...] = (),
    stdout: str | None = "",
    stderr: str | None = "",
    removed: bool = False,
    strict: bool = False,
    together: bool = False,
    largest_file: int | None = None,
    counted: bool = False,
) -> Ended:
    """Run a module as `python -m` does, in a copy of a loaded process.

    Args:
        module: `notchbook` or `mkdocs`.
        arguments: of the command.
        folder: where it is run.
        environment: variables that are set beside those of the tests.
        before: a command that starts the process.
        stdout: where its output goes: a path, "gone" for a pipe that nobody reads, None for a closed stream; it is
            given back where this is empty.
        stderr: the same of its errors.
        removed: whether the folder, which is empty, is deleted below it.
        together: whether errors go where the output goes.
        strict: whether a warning of Python is an error.
        largest_file: bytes that it can write into one file.
        counted: whether the calls of functions are counted, which makes it slower.
    """
    variables = {**os.environ, **(environment or {})}
    with tempfile.TemporaryDirectory() as kept:
        places = {"stdout": f"{kept}/stdout", "stderr": f"{kept}/stderr"}
        request = {
            "module": module, "arguments": arguments, "folder": str(folder), "removed": removed,
            "environment": variables, "warnings": "error" if strict else "",
            "largest_file": largest_file,
            "together": together,
            "calls": f"{kept}/calls" if counted else "",
            "stdout": places["stdout"] if stdout == "" else stdout,
            "stderr": places["stderr"] if stderr == "" else stderr,
        }  # fmt: skip
        status, megabytes = prepared(before, environment).run(request)
        calls = int(Path(f"{kept}/calls").read_text()) if counted else None
        said = [Path(place).read_bytes() if Path(place).exists() else b"" for place in places.values()]
    return Ended(int(status), *said, megabytes, calls)
