"""A review as text for a terminal, as Markdown that fits into a comment on a pull request, and as JSON for scripts.

Markdown is a summary, then tables, long lists folded. Everything that stands in a file is foreign there. It is set as
code, in which no forge looks for links, names of people or numbers of other discussions.
"""

import dataclasses
import re
from collections.abc import Callable
from typing import Any

from notchbook.review.changes import Review
from notchbook.review.sections import Foreign, Row, Section, sections
from notchbook.review.words import also_words, headline, questions
from notchbook.wording.json_text import json_text
from notchbook.wording.lines import printable

MOST_BYTES = 60_000
"""Of the whole in UTF-8. A forge refuses a comment of more than 65,536 characters, and this leaves room for what a
pipeline writes round it."""
_FOR_NOTE = 2_500
"""Bytes kept for what was left out."""
_MOST_OPEN = 10
"""Rows of a table that are shown without unfolding it."""
_MOST_ROWS = 200
"""Rows of a table that are shown at all where the whole is too long."""
_LONGEST_CELL = 300
_LEAST_LISTED = 3
_TICKS = re.compile("`+")


def as_markdown(review: Review) -> str:
    """The review as one comment; where it would be too long, each list has at most half of the room that is left."""
    found = sections(review)
    top = f"### Notchbook review\n\n{_summary(review)}\n"
    whole = top + "".join(_section(each, each.rows) for each in found)
    if _size(whole) <= MOST_BYTES:
        return whole
    room = MOST_BYTES - _size(top) - _FOR_NOTE
    left_out, shown = [], []
    for section in found:
        rows = _rows_within(section, room // 2)
        if rows:
            shown.append(_section(section, rows))
            room -= _size(shown[-1])
        if len(rows) < len(section.rows):
            left_out.append(f"{len(section.rows) - len(rows):,} of {len(section.rows):,} under “{section.title}”")
    note = (
        "This comment is shortened, what weighs most stands first. Left out: "
        f"{'; '.join(left_out)}. `notchbook review --base {_plain(review.base)}` shows all in a terminal.\n\n"
    )
    return top + note + "".join(shown)


def code(text: str) -> str:
    """Foreign text as code in a cell of a table, whatever it holds; a long one is cut."""
    shown = printable(text)
    if len(shown) > _LONGEST_CELL:
        shown = f"{shown[:_LONGEST_CELL]}…"
    shown = shown.replace("|", "\\|") or " "
    fence = "`" * (max(map(len, _TICKS.findall(shown)), default=0) + 1)
    edge = " " if shown.startswith("`") or shown.endswith("`") else ""
    return f"{fence}{edge}{shown}{edge}{fence}"


def _summary(review: Review) -> str:
    """The whole in a sentence, or as a list where there is more than one thing to ask about."""
    asked = questions(review)
    if len(asked) < _LEAST_LISTED:
        return f"**{_plain(headline(review))}**\n"
    also = also_words(review)
    listed = "".join(f"- {_plain(each)}\n" for each in asked)
    return f"**Against {_plain(review.base)}, ask about:**\n\n{listed}" + (f"\nAlso {also}.\n" if also else "")


def _plain(text: str) -> str:
    """Words of ours, in which a name from elsewhere may stand, without what Markdown or a log would act on."""
    return re.sub(r"[^\w\s.,:;()/+›'-]", "·", printable(text))


def _section(section: Section, rows: list[Row]) -> str:
    """A table under its title, folded where it is long."""
    lines = [f"#### {section.title}\n"]
    folded = len(rows) > _MOST_OPEN
    left_out = len(section.rows) - len(rows)
    if folded:
        of_all = f" of {len(section.rows):,}" if left_out else ""
        lines.append(f"<details><summary>{len(rows):,}{of_all} rows</summary>\n")
    lines += [f"| {' | '.join(section.head)} |", f"|{' --- |' * len(section.head)}", *map(_row, rows), ""]
    if left_out:
        lines.append(f"and {left_out:,} more.\n")
    if folded:
        lines.append("</details>\n")
    return "".join(f"{line}\n" for line in lines)


def _row(row: Row) -> str:
    return f"| {' | '.join(code(each) if isinstance(each, Foreign) else each for each in row.cells)} |"


def _rows_within(section: Section, room: int) -> list[Row]:
    """The first rows of a section that it can have with its title in so many bytes."""
    room -= _size(_section(section, []))
    kept: list[Row] = []
    for row in section.rows[:_MOST_ROWS]:
        room -= _size(_row(row)) + 1
        if room < 0:
            break
        kept.append(row)
    return kept


def _size(text: str) -> int:
    return len(text.encode("utf-8", "replace"))


def as_text(review: Review) -> str:
    """For a terminal: a line a change, what weighs most first."""
    lines = [headline(review)]
    for section in sections(review):
        lines += ["", f"{section.title}:", *(f"  {each.line}" for each in section.rows)]
    return "".join(f"{printable(line)}\n" for line in lines)


def as_json(review: Review) -> str:
    """For scripts; the form is that of `schema/outputs/review.schema.json`."""
    lists = {
        name: [dataclasses.asdict(each) for each in getattr(review, name)]
        for name in (
            "safety", "files", "readings", "identities", "declarations", "statements", "renamed", "setup",
            "new_findings", "gone_findings",
        )
    }  # fmt: skip
    named = {
        name: [{"kind": kind, "id": object_id} for kind, object_id in getattr(review, name)]
        for name in ("added", "removed", "unreadable")
    }
    data: dict[str, Any] = {
        "base": review.base,
        "questions": questions(review),
        "not_compared": review.not_compared,
        "settings": [dataclasses.asdict(each.edit) | {"grave": each.grave} for each in review.settings],
        "moves": [
            dataclasses.asdict(each) | {"moved_kJ_m2": each.moved_kJ_m2, "in_uncertainties": each.in_uncertainties}
            for each in review.moves
        ],
    }
    return json_text(data | lists | named)


FORMS: dict[str, Callable[[Review], str]] = {"text": as_text, "markdown": as_markdown, "json": as_json}
