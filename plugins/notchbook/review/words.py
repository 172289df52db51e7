"""How a review says things, in every form that people read."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from notchbook.review.changes import ResultMove, Review

_LONGEST_VALUE = 200
_LEAST_SHOWN = 0.01
"""Of an expanded uncertainty; less is said as less than it."""


def headline(review: Review) -> str:
    """The whole review in a sentence."""
    counts = []
    for files, verb in ((review.added, "added"), (review.renamed, "renamed")):
        if files:
            counts.append(f"{len(files)} published file{'' if len(files) == 1 else 's'} {verb}")
    if review.gone_findings:
        counts.append(f"{len(review.gone_findings)} finding{'' if len(review.gone_findings) == 1 else 's'} gone")
    asked, told = review.questions, f"Against {review.base}: "
    if asked:
        return told + f"ask about {'; '.join(asked)}" + (f". Also {', '.join(counts)}." if counts else ".")
    if counts:
        return told + f"nothing to ask about; {', '.join(counts)}."
    return told + ("nothing to ask about; words changed only." if review.anything else "nothing changed.")


def value_words(value: str | None) -> str:
    """A value of a file on one line, a long one shortened."""
    if value is None:
        return "nothing"
    line = " ".join(value.split()) or "''"
    return line if len(line) <= _LONGEST_VALUE else f"{line[:_LONGEST_VALUE]}… ({len(line)} characters)"


def move_words(move: ResultMove) -> str:
    """What became of a mean, with as many decimals as show the difference."""
    if move.old_kJ_m2 is None or move.new_kJ_m2 is None:
        known = move.new_kJ_m2 if move.old_kJ_m2 is None else move.old_kJ_m2
        return f"{'new' if move.old_kJ_m2 is None else 'gone'}, {0.0 if known is None else known:.4g} kJ/m²"
    old, new, moved = numbers(move)
    return f"{old} -> {new} kJ/m² ({moved}{against(move, ', ')})"


def numbers(move: ResultMove) -> tuple[str, str, str]:
    """Older mean, newer mean and their difference with its sign, a dash for what is not there."""
    moved = move.moved_kJ_m2
    decimals = 2
    if moved:
        decimals = min(max(1 - math.floor(math.log10(abs(moved))), 1), 9)
    old, new = ("–" if each is None else f"{each:.{decimals}f}" for each in (move.old_kJ_m2, move.new_kJ_m2))
    return old, new, "–" if moved is None else f"{moved:+.{decimals}f}".replace("-", "−")


def against(move: ResultMove, before: str = "") -> str:
    """How far a mean moved against its expanded uncertainty; empty where that is not known."""
    ratio = move.in_uncertainties
    if ratio is None:
        return ""
    shown = f"{ratio:.2g}" if ratio < 100 else f"{ratio:.0f}"  # no exponents
    return f"{before}{shown if ratio >= _LEAST_SHOWN else f'less than {_LEAST_SHOWN}'} of its expanded uncertainty"
