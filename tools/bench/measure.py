"""Child processes: how long they take and the most memory they hold."""

import os
import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

import click

# Linux counts in kibibytes, macOS in bytes.
_BYTES_PER_UNIT = 1 if sys.platform == "darwin" else 1024


class ChildError(click.ClickException):
    """A measured command failed, so its time means nothing."""


@dataclass(frozen=True, slots=True)
class Command:
    """Something to run and measure; several parts are run one after the other and their times added."""

    parts: Sequence[Sequence[str]]
    """Program and arguments of each part."""
    cwd: Path
    text: str = ""
    """Standard input of each part."""
    before: Callable[[], None] = lambda: None
    """Called before each run and not measured."""


@dataclass(frozen=True, slots=True)
class Cost:
    """What a command cost."""

    seconds: float
    """Median of its runs."""
    memory_MB: float
    """Most that any process of any run held at once: `ru_maxrss`."""


def measure(commands: Sequence[Command], repeat: int) -> list[Cost]:
    """The costs of the commands, run in turn so that a busy moment of the machine falls on all; raises ChildError."""
    runs: list[list[Cost]] = [[] for _ in commands]
    for _ in range(repeat):
        for command, costs in zip(commands, runs, strict=True):
            command.before()
            parts = [_run(part, command) for part in command.parts]
            costs.append(Cost(sum(each.seconds for each in parts), max(each.memory_MB for each in parts)))
    return [
        Cost(statistics.median(each.seconds for each in costs), max(each.memory_MB for each in costs)) for costs in runs
    ]


def _run(arguments: Sequence[str], command: Command) -> Cost:
    environment = {**os.environ, "NO_MKDOCS_2_WARNING": "1"}
    started = time.perf_counter()
    child = subprocess.Popen(  # noqa: S603  # only commands that stand in this package
        arguments,
        cwd=command.cwd,
        env=environment,
        text=True,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
    )
    assert child.stdin is not None and child.stdout is not None  # noqa: S101, PT018  # both are pipes
    with child.stdin, child.stdout:
        child.stdin.write(command.text)
        child.stdin.close()
        said = child.stdout.read()
        _, status, usage = os.wait4(child.pid, 0)
    seconds = time.perf_counter() - started
    child.returncode = os.waitstatus_to_exitcode(status)
    if child.returncode:
        raise ChildError(f"{' '.join(arguments[:4])} ... ended with {child.returncode}:\n{said[-2000:]}")
    return Cost(seconds, usage.ru_maxrss * _BYTES_PER_UNIT / 1e6)
