"""What the names of files may hold, of a whole handbook."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass
from itertools import chain
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from notchbook.model.library import Library


@dataclass(frozen=True, slots=True)
class Names:
    """What the names of files may hold: ids by how they stand in a name."""

    materials: dict[str, str]
    rigs: dict[str, str]
    groups: dict[str, str]
    spellings: dict[str, Counter[str]]
    """By a code without separators and leading zeros, how many records have each spelling."""


def names_of(library: Library) -> Names:
    """The ids and codes of a handbook, gathered once; who checks pendulums may test as well."""
    spellings: dict[str, Counter[str]] = {}
    for record in library.records.values():
        spellings.setdefault(bare(record.group), Counter())[record.group] += 1
    codes = [*(each.checked_by for each in library.verifications.values()), *chain.from_iterable(spellings.values())]
    groups = {each.casefold(): each for each in codes}
    return Names({each: each for each in library.materials}, {each: each for each in library.rigs}, groups, spellings)


def bare(code: str) -> str:
    """A code without case, separators and the zeros that begin its numbers."""
    return re.sub(r"(?<![0-9])0+(?=[0-9])", "", re.sub(r"[\W_]+", "", code.casefold()))
