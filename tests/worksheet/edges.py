"""Sessions at the edges of every limit: sound ones of which one number goes through its range, and where the engine's
word changes, both sides of the edge."""

import itertools
import struct
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from engine import said
from typed_session import Bench, Session

_LEAST = 1e-12
"""With all its digits a smaller number has more characters than a field takes."""
_APART = 1e-9
"""Share of a value, beside an edge, by which no two ways of computing it differ."""


@dataclass(frozen=True)
class Case:
    """A session on its bench, and whether it stands so near an edge that the last bit decides."""

    bench: Bench
    session: Session
    tight: bool
    rule: str
    """Of which the edge is, as far as it is known."""


Made = tuple[Bench, Session]


def _bits(value: float) -> int:
    bits: int = struct.unpack("<q", struct.pack("<d", abs(value)))[0]
    return bits


def _ordinal(value: float) -> int:
    """Where a number stands among all of double precision that a worksheet takes, 0 in their middle."""
    place = max(0, _bits(value) - _bits(_LEAST) + 1)
    return place if value > 0 else -place


def _of_ordinal(place: int) -> float:
    if not place:
        return 0.0
    value: float = struct.unpack("<d", struct.pack("<q", abs(place) + _bits(_LEAST) - 1))[0]
    return value if place > 0 else -value


def _word(made: Made, rules: frozenset[str] | None = None) -> tuple[Any, frozenset[str]]:
    """What must be the same on one side of an edge: refusals, complaints, and which numbers can be had."""
    found = said(*made, rules)
    told = frozenset(f"{each[0]} {each[1]} {each[3:]}" for each in found.get("findings", found["refused"]))
    had = [[value is None for value in each] for each in (*found.get("bars", ()), found.get("shares", ()))]
    sets = [each[0] for each in found.get("sets", [])]
    return (bool(found["refused"]), str((had, sets))), told


def edges(make: Callable[[float], Made], grid: Iterable[float], *, whole: bool = False) -> Iterator[Case]:
    """Cases on both sides of each change of the engine's word along a grid.

    Arguments:
        make: the session and its bench with a value.
        grid: the values to go along, rising.
        whole: whether only whole numbers are values.
    """
    words = [(value, _word(make(value))) for value in grid]
    for (low, before), (high, after) in itertools.pairwise(words):
        if before == after:
            continue
        rules = frozenset(each.split()[0] for each in before[1] ^ after[1])
        if whole:
            inside, outside = _between(lambda value, rules=rules: _word(make(value), rules), int(low), int(high))  # type: ignore[misc]
            near: tuple[float, ...] = ()
        else:
            inside, outside = _edge(make, low, high, rules)
            near = (inside - _APART * abs(inside), outside + _APART * abs(outside))
        rule = " ".join(sorted(rules))
        for value in (inside, outside):
            yield Case(*make(value), tight=not whole, rule=rule)
        for value in near:
            yield Case(*make(value), tight=False, rule=rule)


def _edge(make: Callable[[float], Made], low: float, high: float, rules: frozenset[str]) -> tuple[float, float]:
    return edge(lambda value: _word(make(value), rules), low, high)


def edge(word: Callable[[float], object], low: float, high: float) -> tuple[float, float]:
    """The two neighbours among all numbers of double precision between which a word changes."""
    inside, outside = _between(lambda place: word(_of_ordinal(place)), _ordinal(low), _ordinal(high))
    return _of_ordinal(inside), _of_ordinal(outside)


def _between(word: Callable[[int], object], first: int, last: int) -> tuple[int, int]:
    before = word(first)
    while last - first > 1:
        middle = (first + last) // 2
        if word(middle) == before:
            first = middle
        else:
            last = middle
    return first, last


def factors(value: float, low: float, high: float, steps: int) -> list[float]:
    """Values from one factor of a value to another, in even factors."""
    return [value * low * (high / low) ** (step / steps) for step in range(steps + 1)]


def steps(low: float, high: float, number: int) -> list[float]:
    """Values from one to another in even steps."""
    return [low + (high - low) * step / number for step in range(number + 1)]
