"""The hazards and exercises that a handbook begins with: those of the demonstration, to be rewritten."""

import re
from collections.abc import Iterable
from functools import cache
from pathlib import Path

from notchbook.reading.blanks import MARK
from notchbook.reading.strict_yaml import parse

_PACKAGE = Path(__file__).resolve().parent.parent
EXERCISES = {"iso-179-1": "notched-charpy", "iso-180": "notched-izod"}
"""The exercise that a method begins with."""
LOSSES = "pendulum-losses"
_SAYS_WHOSE = re.compile(r"^# Invented department\..*\n", re.MULTILINE)
_ENTRY = re.compile(r"(?=^  - id: )", re.MULTILINE)
_READ_FIRST = (
    f"# {MARK} read this against your own risk assessment and your own rig, which come before it, and change it.\n"
)


def source(path: str) -> str:
    """A file of the demonstration's procedures: inside the package where it was installed, beside it in a checkout."""
    installed = _PACKAGE / "procedures"
    folder = installed if installed.is_dir() else _PACKAGE.parent.parent / "procedures"
    return (folder / path).read_text(encoding="utf-8")


def exercises(methods: Iterable[str]) -> dict[str, str]:
    """One exercise for each method and one about the losses, by id."""
    first, *_ = methods = tuple(methods)
    losses = _own(f"exercises/{LOSSES}.yaml").replace("method: iso-179-1\n", f"method: {first}\n")
    return {EXERCISES[each]: _own(f"exercises/{EXERCISES[each]}.yaml") for each in methods} | {LOSSES: losses}


def hazards(texts: Iterable[str]) -> str:
    """The list of hazards, without those that no exercise names."""
    named = {hazard for text in texts for hazard in _named(text)}
    head, *entries = _ENTRY.split(_own("hazards.yaml"))
    return head + "".join(each for each in entries if each.removeprefix("  - id: ").partition("\n")[0] in named)


@cache
def _own(path: str) -> str:
    return _SAYS_WHOSE.sub(_READ_FIRST, source(path))


def _named(exercise: str) -> list[str]:
    data, _ = parse(exercise)
    found: list[str] = data["hazards"] if data is not None else []
    return found
