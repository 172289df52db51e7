"""How a review says things, in every form that people read: what there is to ask about, and each value and file."""

import math
from collections.abc import Sized

from notchbook.review.changes import Edit, FileChange, ResultMove, Review
from notchbook.review.pairs import same_length
from notchbook.wording.lists import counted
from notchbook.wording.numbers import NO_NUMBER, minus, to_decimals
from notchbook.wording.quoting import cut

_MOST_NAMED = 4
"""Grave changes of settings that are named in the sentence; the others are counted."""
LONGEST_VALUE = 200
_CONTEXT = 40
"""Characters before the first difference of two long values that are shown."""
_LEAST_SHOWN = 0.01
"""Of an expanded uncertainty; less is said as less than it."""
STATES = {"changed": "changed", "added": "new", "removed": "lost", "moved": "moved", "unreadable": "cannot be read"}
"""What became of a value, in a word or two."""


def questions(review: Review) -> list[str]:
    """What there is to ask about, in words; empty where there is nothing."""
    plain = [each for each in review.settings if not each.grave]
    run = [each for each in review.files if each.acts]
    pages = [each for each in review.files if each.kind == "page"]
    others = [each for each in review.files if each.kind == "file"]
    resting = [each for each in review.setup if each.under_results]
    other_setup = [each for each in review.setup if each.asked and not each.under_results]
    return [
        *_counted(
            (review.safety, "matter(s) of safety changed"), (review.not_compared, "thing(s) could not be compared")
        ),
        *review.grave[:_MOST_NAMED],
        *_counted(
            (review.grave[_MOST_NAMED:], "further grave setting(s) changed"),
            (run, "file(s) of code, templates or styles changed"),
            (plain, "setting(s) changed"),
            (pages, "hand-written page(s) changed"),
            (others, "other file(s) of the site changed"),
            (review.readings, "raw reading(s) changed after publication"),
            (review.identities, "statement(s) of what was tested changed after publication"),
            (resting, "part(s) of the setup changed under published results"),
            (other_setup, "part(s) of the setup changed"),
            (review.moves, "published result(s) moved"),
            (review.removed, "published file(s) removed"),
            (review.unreadable, "published file(s) cannot be read now"),
            (review.declarations, "declared deviation(s) or acknowledged warning(s) changed"),
            ([each for each in review.new_findings if each.severity != "note"], "finding(s) new"),
        ),
    ]


def headline(review: Review) -> str:
    """The whole review in a sentence."""
    asked, also, told = questions(review), also_words(review), f"Against {review.base}: "
    if asked:
        return told + f"ask about {'; '.join(asked)}" + (f". Also {also}." if also else ".")
    if also:
        return told + f"nothing to ask about; {also}."
    words_only = review.statements or review.setup or review.new_findings
    return told + ("nothing to ask about; words changed only." if words_only else "nothing changed.")


def also_words(review: Review) -> str:
    """What changed and is no question, in words; empty where there is nothing."""
    return ", ".join(
        _counted(
            (review.added, "published file(s) added"),
            (review.renamed, "published file(s) renamed"),
            (review.gone_findings, "finding(s) gone"),
        )
    )


def _counted(*rows: tuple[Sized, str]) -> list[str]:
    """Each number with its words, where there are any; an `(s)` in them is one of the plural."""
    numbers = [(len(listed), words) for listed, words in rows if len(listed)]
    return [f"{number:,} {words.replace('(s)', '' if number == 1 else 's')}" for number, words in numbers]


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
