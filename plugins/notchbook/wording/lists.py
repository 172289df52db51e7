"""Counts with their nouns, and several things in one sentence."""

from collections.abc import Iterable, Sequence

_MOST_NAMED = 10


def counted(count: int, one: str, many: str = "") -> str:
    """A count with its noun in the right number: `1 bar`, `10 bars`."""
    return f"{count:,} {one if count == 1 else many or one + 's'}"


def listed(words: Iterable[str]) -> str:
    """The words as a list in a sentence: `a`, `a and b`, `a, b and c`; empty without any."""
    *most, last = list(words) or [""]
    return f"{', '.join(most)} and {last}" if most else last


def first_of(names: Sequence[str], most: int = _MOST_NAMED) -> str:
    """The first names, and how many there are beside."""
    shown = ", ".join(names[:most])
    return shown if len(names) <= most else f"{shown} and {len(names) - most:,} more"
