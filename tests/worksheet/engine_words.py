"""What the engine refuses and complains of, in the form that the scripts are held against."""

import re
from collections.abc import Iterable
from typing import Any

from notchbook.checks.subject import Check
from notchbook.reading.nodes import Flaw
from notchbook.reading.schemas import schema

_NUMBER = re.compile(r"[0-9]+(?:\.[0-9]+)?(?:e[-−+]?[0-9]+)?")
_SIDES = ("larger", "smaller")


def numbers_in(text: str) -> list[float]:
    """Every number that stands in a text, without its sign."""
    return [float(each.replace("−", "-")) for each in _NUMBER.findall(text)]


def told(flaws: Iterable[Flaw], kind: str) -> list[list[Any]]:
    """Rule and place of each value that no file may hold, with the numbers that the schema states of it."""
    return [[each.rule.id, ".".join(map(str, each.keys)), _limits(each.keys, kind)] for each in flaws]


def _limits(keys: tuple[str | int, ...], kind: str) -> list[float]:
    about = schema(kind)
    for key in keys:
        about = about["items"] if isinstance(key, int) else about["properties"][key]
    stated = [about.get(name) for name in ("minimum", "exclusiveMinimum", "maximum", "maxLength")]
    return [abs(float(each)) for each in stated if each is not None]


def complaints(checks: Iterable[Check[Any]], case: Any, rules: frozenset[str] | None) -> list[list[Any]]:
    """Rule, place, numbers and side of each complaint; of the rules that are asked for, where not all are."""
    found = []
    for check in checks:
        if rules is not None and check.rule.id not in rules:
            continue
        for each in check.find(case):
            words = f"{each.message} {each.hint}"
            sides = [side for side in _SIDES if side in each.hint]
            found.append([check.rule.id, ".".join(map(str, each.keys)), numbers_in(words), sides])
    return sorted(found)
