"""A review as text for a terminal, as Markdown for a comment, and as JSON for scripts."""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING, Any

from notchbook.review.markdown import as_markdown
from notchbook.review.questions import headline, questions
from notchbook.review.sections import sections
from notchbook.wording.json_text import json_text
from notchbook.wording.lines import printable

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from notchbook.review.changes import Review


def as_text(review: Review) -> str:
    """For a terminal: a line a change, what weighs most first."""
    return "".join(f"{printable(line)}\n" for line in _lines(review))


def _lines(review: Review) -> Iterator[str]:
    yield headline(review)
    for section in sections(review):
        yield ""
        yield f"{section.title}:"
        yield from (f"  {each.line}" for each in section.rows)


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
