"""A review as text for a terminal, as Markdown for a comment, and as JSON for scripts."""

from __future__ import annotations

import dataclasses
import json
from itertools import chain
from typing import TYPE_CHECKING, Any

from notchbook.findings import printable
from notchbook.review.markdown import as_markdown
from notchbook.review.words import headline, move_words, value_words

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from notchbook.review.changes import Edit, ResultMove, Review


def as_text(review: Review) -> str:
    """For a terminal: a line a change, what there is to ask about first."""
    return "".join(f"{printable(line)}\n" for line in _lines(review))


def _lines(review: Review) -> Iterator[str]:
    yield headline(review)
    yield from _edits("Raw readings changed after publication", review.readings)
    yield from _edits("What was tested, changed after publication", review.identities)
    for change in review.setup:
        resting = f", {len(change.dependents)} published rest on it" if change.dependents else ""
        yield from _edits(f"{change.kind} {change.id} {change.state}{resting}", change.edits, always=True)
        yield from (f"    {each}" for each in change.dependents)
    yield from _list("Results that moved", chain.from_iterable(map(_move, review.moves)))
    for title, files in (
        ("Removed", review.removed),
        ("Published, and cannot be read now", review.unreadable),
        ("Added", review.added),
    ):
        yield from _list(title, (f"{kind} {name}" for kind, name in files))
    yield from _list("Renamed", (f"{each.kind} {each.old} -> {each.new}" for each in review.renamed))
    yield from _list("New findings", map(str, review.new_findings))
    yield from _list("Findings that are gone", map(str, review.gone_findings))
    yield from _edits("Said beside the readings", review.statements)


def _move(move: ResultMove) -> Iterator[str]:
    yield f"{move.record}, {' and '.join(move.breaks)}: {move_words(move)}"
    if move.causes:
        yield f"  from {', '.join(move.causes)}"


def _list(title: str, lines: Iterable[str], *, always: bool = False) -> Iterator[str]:
    """Lines under their title, after an empty one; nothing where there are none."""
    listed = list(lines)
    if listed or always:
        yield ""
        yield f"{title}{':' if listed else ''}"
        yield from (f"  {each}" for each in listed)


def _edits(title: str, edits: Iterable[Edit], *, always: bool = False) -> Iterator[str]:
    lines = (
        f"{each.path}:{each.line}: {each.what}: {value_words(each.old)} -> {value_words(each.new)}" for each in edits
    )
    yield from _list(title, lines, always=always)


def as_json(review: Review) -> str:
    """For scripts; the form is that of `schema/outputs/review.schema.json`."""
    data: dict[str, Any] = {
        "base": review.base,
        "questions": review.questions,
        "readings": [dataclasses.asdict(each) for each in review.readings],
        "identities": [dataclasses.asdict(each) for each in review.identities],
        "statements": [dataclasses.asdict(each) for each in review.statements],
        "added": [_named(*each) for each in review.added],
        "removed": [_named(*each) for each in review.removed],
        "unreadable": [_named(*each) for each in review.unreadable],
        "renamed": [dataclasses.asdict(each) for each in review.renamed],
        "moves": [
            dataclasses.asdict(each)
            | {"moved_kJ_m2": each.moved_kJ_m2, "in_uncertainties": each.in_uncertainties}
            for each in review.moves
        ],
        "setup": [dataclasses.asdict(each) for each in review.setup],
        "new_findings": [dataclasses.asdict(each) for each in review.new_findings],
        "gone_findings": [dataclasses.asdict(each) for each in review.gone_findings],
    }
    return json.dumps(data, ensure_ascii=False, indent=2) + "\n"


def _named(kind: str, name: str) -> dict[str, str]:
    return {"kind": kind, "id": name}


FORMS: dict[str, Callable[[Review], str]] = {"text": as_text, "markdown": as_markdown, "json": as_json}
