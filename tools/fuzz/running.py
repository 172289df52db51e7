"""One worker: inputs drawn by Hypothesis and given to a target, within bounds of time, until one of them fails."""

import hashlib
import os
import signal
import time
import traceback
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from types import FrameType
from typing import Any

from hypothesis import HealthCheck, Phase, given, seed, settings

FOLDER = Path(".fuzz")
# An input of this tool is a few kilobytes: what takes so long of the processor would take for ever.
MOST_SECONDS = 2.0
_HANGS_SECONDS = 30
_BATCH = 500


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came of the inputs of one target."""

    target: str
    inputs: int
    seconds: float
    """Of the processor."""
    slowest_seconds: float
    """Of the processor, for a single input."""
    failure: str = ""
    """What failed, with the file that makes it happen again."""


class TooSlowError(Exception):
    """An input that takes longer than its size accounts for."""


class _Counted:
    def __init__(self, name: str, give: Any) -> None:
        self.name, self.give = name, give
        self.inputs, self.slowest_seconds = 0, 0.0
        self.last: Any = None
        FOLDER.mkdir(exist_ok=True)
        self.path = FOLDER / f"running-{name}-{os.getpid()}"
        # a crash of a library ends the process: what it was given must stand in a file before
        self._file = self.path.open("w+", encoding="utf-8")

    def __call__(self, value: Any) -> None:
        self.inputs += 1
        self.last = value
        self._file.seek(0)
        self._file.truncate()
        self._file.write(_as_text(self.name, value))
        self._file.flush()
        began = time.process_time()
        signal.alarm(_HANGS_SECONDS)
        self.give(value)
        signal.alarm(0)
        took = time.process_time() - began
        self.slowest_seconds = max(self.slowest_seconds, took)
        if took > MOST_SECONDS:
            raise TooSlowError(f"{took:.1f} s")

    def close(self) -> None:
        signal.alarm(0)
        self._file.close()
        self.path.unlink()


def _as_text(name: str, value: Any) -> str:
    return f"{name}\n{value!r}\n"


def _hangs(_signal: int, _frame: FrameType | None) -> None:
    raise TooSlowError(f"more than {_HANGS_SECONDS} s")


def _function(counted: _Counted) -> Callable[[Any], None]:
    """Hypothesis takes functions only."""

    def given_one(value: Any) -> None:
        counted(value)

    return given_one


def run(name: str, number: int, first_seed: int) -> Outcome:
    """Give so many inputs to a target; of the first failure the smallest input is kept."""
    from fuzz.targets import TARGETS

    signal.signal(signal.SIGALRM, _hangs)
    target = TARGETS[name]
    counted = _Counted(name, target.give)
    strategy = target.inputs()
    began, failure = time.process_time(), ""
    batch = 0
    while counted.inputs < number and not failure:
        # many small batches: what Hypothesis remembers of its own inputs grows with them
        size = min(_BATCH, number - counted.inputs)
        options = settings(
            max_examples=size, database=None, deadline=None, phases=(Phase.generate, Phase.shrink),
            suppress_health_check=list(HealthCheck), print_blob=False,
        )  # fmt: skip
        test = seed(first_seed + 1_000_003 * batch)(options(given(strategy)(_function(counted))))
        batch += 1
        try:
            test()
        except Exception as error:  # whatever escapes is what is looked for
            failure = _kept(name, counted.last, error)
    outcome = Outcome(name, counted.inputs, time.process_time() - began, counted.slowest_seconds, failure)
    counted.close()
    return outcome


def _kept(name: str, value: Any, error: Exception) -> str:
    path = FOLDER / f"{name}-{hashlib.sha256(repr(value).encode('utf-8', 'replace')).hexdigest()[:12]}"
    path.write_text(_as_text(name, value), encoding="utf-8", errors="backslashreplace")
    report = "".join(traceback.format_exception(error))
    path.with_suffix(".report").write_text(report, encoding="utf-8", errors="backslashreplace")
    said = f"{type(error).__name__}: {error}".splitlines()[0]
    return f'{said}\n  again: make fuzz FUZZ="--replay {path}"'
