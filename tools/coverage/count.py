"""Counting how often intervals hold what they are meant to hold."""

import math
import zlib
from collections import Counter
from dataclasses import dataclass, field
from typing import Protocol

import numpy as np


class Case(Protocol):
    """One kind of class that is simulated again and again."""

    @property
    def title(self) -> str:
        """As it stands in the table."""

    def held(self, random: np.random.Generator) -> dict[str, bool | None]:
        """Whether each interval of one class holds the truth, by its name; None where there is none."""


@dataclass(slots=True)
class Covered:
    """How often each interval of one case held the truth."""

    title: str
    classes: int
    held: Counter[str] = field(default_factory=Counter)
    known: Counter[str] = field(default_factory=Counter)

    @property
    def names(self) -> list[str]:
        """The intervals, in their order."""
        return list(self.known)

    def pct(self, name: str) -> float:
        """Of the classes that had such an interval, in percent; NaN where none had."""
        return 100.0 * self.held[name] / self.known[name] if self.known[name] else math.nan

    def margin_pct(self, name: str) -> float:
        """Two standard errors of that percentage where the intervals are of 95 %."""
        return 200.0 * math.sqrt(0.95 * 0.05 / self.known[name]) if self.known[name] else math.nan


def cover(case: Case, classes: int, seed: int) -> Covered:
    """Simulate so many classes; the same seed makes the same ones."""
    random = np.random.default_rng([seed, zlib.crc32(case.title.encode())])
    found = Covered(case.title, classes)
    for _ in range(classes):
        for name, holds in case.held(random).items():
            found.known[name] += holds is not None
            found.held[name] += bool(holds)
    return found
