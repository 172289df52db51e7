"""How a review says things, in every form that people read."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from notchbook.review.pairs import same_length
from notchbook.wording.lists import counted
from notchbook.wording.numbers import NO_NUMBER, minus, to_decimals
from notchbook.wording.quoting import cut

if TYPE_CHECKING:
    from notchbook.review.changes import Edit, FileChange, ResultMove

LONGEST_VALUE = 200
_CONTEXT = 40
"""Characters before the first difference of two long values that are shown."""
_LEAST_SHOWN = 0.01
"""Of an expanded uncertainty; less is said as less than it."""
_STATES = {"changed": "changed", "added": "new", "removed": "lost", "moved": "moved", "unreadable": "cannot be read"}


def state_words(state: str) -> str:
    """What became of a value, in a word or two."""
    return _STATES[state]


def value_words(value: str | None) -> str:
    """A value of a file on one line, a long one shortened."""
    if value is None:
        return "nothing"
    line = " ".join(value.split()) or "''"
    return line if len(line) <= LONGEST_VALUE else f"{cut(line, LONGEST_VALUE)} ({len(line):,} characters)"


def edit_values(edit: Edit) -> tuple[str, str]:
    """Older and newer value on one line each; of two long ones what comes before their difference is left out."""
    if edit.old is None or edit.new is None:
        return value_words(edit.old), value_words(edit.new)
    if edit.state == "moved":
        # the text is the same and stands behind the newer number
        return f"{edit.old.partition('.')[0]}.", value_words(edit.new)
    old, new = " ".join(edit.old.split()), " ".join(edit.new.split())
    if max(len(old), len(new)) > LONGEST_VALUE:
        start = same_length(old, new) - _CONTEXT
        if start > 0:
            return value_words(f"…{old[start:]}"), value_words(f"…{new[start:]}")
    return value_words(edit.old), value_words(edit.new)


def edit_line(edit: Edit) -> str:
    """An edit on one line of a terminal."""
    old, new = edit_values(edit)
    place = f"{edit.path}:{edit.line}" + (f": {edit.what}" if edit.what else "")
    told = {"added": f"new: {new}", "removed": f"lost: {old}", "moved": f"moved: {old} -> {new}"}
    if edit.state == "unreadable":
        return f"{place}: cannot be read now: {old}"
    return f"{place}: {told.get(edit.state, f'{old} -> {new}')}"


def lines_words(change: FileChange) -> str:
    """How many lines of a file are new and gone; empty where that is not known or says nothing."""
    if change.lines_came is None or change.lines_went is None:
        return ""
    if change.state == "changed" and not change.lines_came and not change.lines_went:
        return "only the order of its lines, their ends or empty ones"
    parts = ((change.lines_came, "new"), (change.lines_went, "gone"))
    return ", ".join(f"{counted(number, 'line')} {what}" for number, what in parts if number)


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
    old, new = (to_decimals(each, decimals) for each in (move.old_kJ_m2, move.new_kJ_m2))
    return old, new, NO_NUMBER if moved is None else minus(f"{moved:+.{decimals}f}")


def against(move: ResultMove, before: str = "") -> str:
    """How far a mean moved against its expanded uncertainty; empty where that is not known."""
    ratio = move.in_uncertainties
    if ratio is None:
        return ""
    shown = f"{ratio:.2g}" if ratio < 100 else f"{ratio:.0f}"  # no exponents
    return f"{before}{shown if ratio >= _LEAST_SHOWN else f'less than {_LEAST_SHOWN}'} of its expanded uncertainty"
