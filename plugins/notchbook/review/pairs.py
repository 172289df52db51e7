"""Data files as single values under their keys, and which entry of an older list is which of a newer one.

Entries are paired by id, by what they say, or by saying something like it, and never by their number alone, because a
lost one would make all after it look edited.
"""

from __future__ import annotations

import json
from bisect import bisect_left
from collections import Counter, defaultdict, deque
from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any

STEP = " › "
"""Between the keys that lead to a value."""
_MOST_COMPARED = 1_000
"""Pairs of entries of a list that are held against each other by their wording; of more only near ones."""
_LONGEST_COMPARED = 2_000
_ALIKE = 0.5
"""Share of their wording from which two entries are one that was edited."""
_NAMING_KEYS = ("id", "do", "rule", "title", "method")
"""Keys of which an entry keeps the value when the rest of it is edited."""


def text_at(holder: dict[Any, Any], key: Any) -> str | None:
    """How a number of a mapping is written, where that is another way than the usual one."""
    return getattr(holder, "written", {}).get(key)


def written(value: Any) -> str:
    """A single value as it stands in a file."""
    return json.dumps(value) if isinstance(value, bool | dict | list | None) else str(value)


def entry_words(value: Any) -> str:
    """A whole entry of a list on one line, with the keys of its values."""
    return "; ".join(f"{STEP.join(label)}: {text}" if label else text for label, text in _texts(value))


def _texts(value: Any, label: tuple[str, ...] = (), text: str | None = None) -> Iterator[tuple[tuple[str, ...], str]]:
    """Every single value as it is written, under its keys in words; entries of a list by their number from 1."""
    if isinstance(value, dict) and value:
        for key, each in value.items():
            yield from _texts(each, (*label, str(key)), text_at(value, key))
    elif isinstance(value, list) and value:
        for number, each in enumerate(value, start=1):
            yield from _texts(each, (*label, str(number)))
    else:
        yield label, written(value) if text is None else text


def meaning(value: Any) -> Hashable:
    """What a value says, to be compared: 4.0 and 4.00 say the same, a number and a text do not."""
    if isinstance(value, dict):
        return "mapping", frozenset((str(key), meaning(each)) for key, each in value.items())
    if isinstance(value, list):
        return "list", tuple(map(meaning, value))
    if isinstance(value, bool) or value is None:
        return "word", value
    if isinstance(value, int | float):
        return "number", float(value)
    return "text", str(value)


@dataclass(slots=True)
class Pairs:
    """The entries of two lists, by their places from 0."""

    both: list[tuple[int, int]] = field(default_factory=list)
    """Older and newer place of an entry that is in both lists, in the newer order."""
    gone: list[int] = field(default_factory=list)
    came: list[int] = field(default_factory=list)
    moved: set[int] = field(default_factory=set)
    """Newer places of the fewest entries whose moving explains the other order."""
    ids: bool = False
    """Whether the entries are told by ids of their own, so that their order says nothing."""


def paired(old: Sequence[Any], new: Sequence[Any]) -> Pairs:
    """Pair the entries of two lists."""
    before, after = _ids(old), _ids(new)
    if before is not None and after is not None and (old or new):
        places = {name: place for place, name in enumerate(before)}
        both = [(places.pop(name), place) for place, name in enumerate(after) if name in places]
        taken = {place for _, place in both}
        return Pairs(both, sorted(places.values()), [each for each in range(len(new)) if each not in taken], ids=True)
    same_before, same_after = [meaning(each) for each in old], [meaning(each) for each in new]
    head = same_length(same_before, same_after)
    shorter = min(len(old), len(new)) - head
    tail = min(same_length(same_before[::-1], same_after[::-1]), shorter)
    both = [(place, place) for place in range(head)]
    both += [(len(old) - place, len(new) - place) for place in range(tail, 0, -1)]
    left = list(range(head, len(old) - tail))
    right = list(range(head, len(new) - tail))
    numbers = not any(isinstance(each, str | dict | list) for each in (*old, *new))
    # a number has no wording to know it by
    both += (
        list(zip(left, right, strict=False)) if numbers else _by_wording(old, new, same_before, same_after, left, right)
    )
    both.sort(key=lambda pair: pair[1])
    older, newer = {each for each, _ in both}, {each for _, each in both}
    return Pairs(
        both,
        [each for each in left if each not in older],
        [each for each in right if each not in newer],
        _out_of_order(both),
    )


def _ids(entries: Sequence[Any]) -> list[str] | None:
    """The ids of the entries, where each has one of its own."""
    ids = [each.get("id") if isinstance(each, dict) else None for each in entries]
    named = [each for each in ids if isinstance(each, str)]
    return named if len(set(named)) == len(entries) else None


def same_length(old: Sequence[Any], new: Sequence[Any]) -> int:
    """How many entries, or characters, are the same from the start."""
    pairs = enumerate(zip(old, new, strict=False))
    return next((place for place, (one, other) in pairs if one != other), min(len(old), len(new)))


def _by_wording(
    old: Sequence[Any], new: Sequence[Any], same_before: list[Any], same_after: list[Any],
    left: list[int], right: list[int],
) -> list[tuple[int, int]]:  # fmt: skip
    """Entries that say the same first, then those that say something like it, the most alike first."""
    waiting: defaultdict[Any, deque[int]] = defaultdict(deque)
    for place in left:
        waiting[same_before[place]].append(place)
    both = [(waiting[same_after[place]].popleft(), place) for place in right if waiting.get(same_after[place])]
    older, newer = {each for each, _ in both}, {each for _, each in both}
    return both + _alike(
        old, new, [each for each in left if each not in older], [each for each in right if each not in newer]
    )


def _alike(old: Sequence[Any], new: Sequence[Any], left: list[int], right: list[int]) -> list[tuple[int, int]]:
    if not left or not right:
        return []
    reach = len(right) if len(left) * len(right) <= _MOST_COMPARED else _MOST_COMPARED // len(left) // 2
    before, after = [_Wording.of(old[each]) for each in left], [_Wording.of(new[each]) for each in right]
    candidates = []
    for rank, wording in enumerate(before):
        for other in range(max(0, rank - reach), min(len(right), rank + reach + 1)):
            share = wording.share_with(after[other])
            if share >= _ALIKE:
                candidates.append((-share, abs(rank - other), rank, other))
    both, taken = [], set()
    for _, _, rank, other in sorted(candidates):
        if ("old", rank) not in taken and ("new", other) not in taken:
            taken |= {("old", rank), ("new", other)}
            both.append((left[rank], right[other]))
    return both


@dataclass(frozen=True, slots=True)
class _Wording:
    """What an entry says, as the number of each run of three characters: scripts without spaces have no words."""

    name: str | None
    runs: Counter[str]
    size: int

    @classmethod
    def of(cls, entry: Any) -> _Wording:
        text = f"  {entry_words(entry)[:_LONGEST_COMPARED]} "
        runs = Counter(text[start : start + 3] for start in range(len(text) - 2))
        return cls(_name(entry), runs, runs.total())

    def share_with(self, other: _Wording) -> float:
        """How much of their wording both have, from 0 to 1; at least alike where they have the same name."""
        shared = 2 * sum(min(number, other.runs[run]) for run, number in self.runs.items() if run in other.runs)
        share = shared / (self.size + other.size)
        return max(share, _ALIKE) if self.name is not None and self.name == other.name else share


def _name(entry: Any) -> str | None:
    if isinstance(entry, str):
        return entry
    if not isinstance(entry, dict):
        return None
    named = next((str(entry[key]) for key in _NAMING_KEYS if key in entry), None)
    # settings name what has settings of its own by the only key of an entry
    return str(next(iter(entry))) if named is None and len(entry) == 1 else named


def _out_of_order(both: Sequence[tuple[int, int]]) -> set[int]:
    """Newer places of the pairs that are not in the longest run of pairs in the older order."""
    ends: list[int] = []  # the smallest older place that a run of each length ends with
    lengths = []
    for older, _ in both:
        length = bisect_left(ends, older)
        ends[length : length + 1] = [older]
        lengths.append(length)
    kept, wanted = set(), len(ends) - 1
    for (_, newer), length in zip(reversed(both), reversed(lengths), strict=True):
        if length == wanted:
            kept.add(newer)
            wanted -= 1
    return {newer for _, newer in both} - kept
