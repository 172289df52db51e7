"""A review as Markdown that fits into a comment on a pull request: a summary, then tables, long lists folded.

Everything that stands in a file is foreign here. It is set as code, in which no forge looks for links, names of people
or numbers of other discussions.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from notchbook.findings import printable
from notchbook.review.words import against, headline, numbers, value_words

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from notchbook.findings import Finding
    from notchbook.review.changes import Edit, Review

_MOST_OPEN = 10
"""Rows of a table that are shown without unfolding it."""
_MOST_ROWS = 200
"""Rows of a table that are shown at all: a comment has a greatest length."""
_TICKS = re.compile("`+")


def as_markdown(review: Review) -> str:
    """The review as one comment."""
    return "\n".join(_blocks(review))


def _blocks(review: Review) -> Iterator[str]:
    yield "### Notchbook review\n"
    yield f"**{headline(review)}**\n"
    yield from _edits("Raw readings changed after publication", review.readings)
    yield from _edits("What was tested, changed after publication", review.identities)
    for change in review.setup:
        name = f"{change.kind} {code(change.id)} {change.state}"
        yield from _edits(name[0].upper() + name[1:], change.edits, always=True)
        if change.dependents:
            rows = [(code(each),) for each in change.dependents]
            yield from _table("Published results that rest on it", ("Record",), rows, level=5)
    yield from _table(
        "Results that moved",
        ("Record", "Breaks", "Was, kJ/m²", "Is, kJ/m²", "Moved", "Against its uncertainty", "From"),
        [
            (
                code(each.record),
                " and ".join(map(code, each.breaks)),
                *numbers(each),
                against(each).removesuffix(" of its expanded uncertainty") or "–",
                ", ".join(each.causes) or "–",
            )
            for each in review.moves
        ],
    )
    yield from _files("Removed", review.removed)
    yield from _files("Published, and cannot be read now", review.unreadable)
    yield from _findings("New findings", review.new_findings)
    yield from _files("Added", review.added)
    renamed = [(each.kind, code(each.old), code(each.new)) for each in review.renamed]
    yield from _table("Renamed", ("Kind", "Was", "Is"), renamed)
    yield from _edits("Said beside the readings", review.statements)
    yield from _findings("Findings that are gone", review.gone_findings)


def code(text: str) -> str:
    """Foreign text as code in a cell of a table, whatever it holds."""
    shown = printable(text).replace("|", "\\|") or " "
    fence = "`" * (max(map(len, _TICKS.findall(shown)), default=0) + 1)
    edge = " " if shown.startswith("`") or shown.endswith("`") else ""
    return f"{fence}{edge}{shown}{edge}{fence}"


def _edits(title: str, edits: Sequence[Edit], *, always: bool = False) -> Iterator[str]:
    rows = [
        (code(f"{each.path}:{each.line}"), code(each.what), code(value_words(each.old)), code(value_words(each.new)))
        for each in edits
    ]
    yield from _table(title, ("Place", "Value", "Was", "Is"), rows, always=always)


def _files(title: str, files: Iterable[tuple[str, str]]) -> Iterator[str]:
    yield from _table(title, ("Kind", "Id"), [(kind, code(name)) for kind, name in files])


def _findings(title: str, findings: Sequence[Finding]) -> Iterator[str]:
    rows = [
        (str(each.severity), code(f"{each.path}:{each.line}"), code(each.rule), code(value_words(each.message)))
        for each in findings
    ]
    yield from _table(title, ("Severity", "Place", "Rule", "What"), rows)


def _table(
    title: str, head: Sequence[str], rows: Sequence[Sequence[str]], *, always: bool = False, level: int = 4
) -> Iterator[str]:
    """A table under its title, folded where it is long."""
    if not rows and not always:
        return
    yield f"{'#' * level} {title}\n"
    if not rows:
        return
    folded = len(rows) > _MOST_OPEN
    if folded:
        yield f"<details><summary>{len(rows)} rows</summary>\n"
    yield f"| {' | '.join(head)} |"
    yield f"|{' --- |' * len(head)}"
    yield from (f"| {' | '.join(row)} |" for row in rows[:_MOST_ROWS])
    yield ""
    if len(rows) > _MOST_ROWS:
        yield f"and {len(rows) - _MOST_ROWS} more.\n"
    if folded:
        yield "</details>\n"
