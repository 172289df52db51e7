"""What is said of answers: for people, for a spreadsheet, for scripts."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from notchbook.answers import words
from notchbook.answers.judging import Verdict
from notchbook.wording.csv_text import csv_table
from notchbook.wording.json_text import json_text
from notchbook.wording.lines import printable
from notchbook.wording.lists import counted
from notchbook.wording.numbers import plain
from notchbook.writing.answers_table import HEADS, AnswerRow


@dataclass(frozen=True, slots=True)
class Judged:
    """One answer with what is said of it."""

    row: AnswerRow
    verdict: Verdict
    earned: float | None
    """Its points; None where nothing is marked."""
    worth: float
    """The points of a right one."""


def _as_json(judged: Sequence[Judged]) -> str:
    """The form is that of `schema/outputs/answers.schema.json`."""
    return json_text([
        {
            "record": each.row.record, "specimen": each.row.specimen, "breaks": each.row.breaks,
            "quantity": each.row.quantity, "value": each.row.value,
            "verdict": each.verdict.kind, "slips": list(each.verdict.slips),
        }
        for each in judged
    ])  # fmt: skip


def _as_csv(judged: Sequence[Judged]) -> str:
    """A row an answer, with its points where it was marked."""
    columns = (*HEADS, "verdict", "slips", "points", "of")
    return csv_table(columns, (
        {name: getattr(each.row, name) for name in HEADS}
        | {"verdict": each.verdict.kind, "slips": " ".join(each.verdict.slips), "points": each.earned}
        | {"of": each.worth if each.earned is not None else None}
        for each in judged
    ))  # fmt: skip


def _as_text(judged: Sequence[Judged]) -> str:
    """A part a record: how many agree, and of each other answer which step to look at again."""
    parts = []
    for record in dict.fromkeys(each.row.record for each in judged):
        own = [each for each in judged if each.row.record == record]
        right = sum(each.verdict.kind == "agrees" for each in own)
        parts.append(f"{record}: {right} of {counted(len(own), 'answer')} agree{_points(own)}\n")
        for each in own:
            if each.verdict.kind == "agrees":
                continue
            about = f"bar {each.row.specimen}" if each.row.specimen else each.row.breaks or "the set"
            parts.append(f"  {about}, {each.row.quantity} {each.row.value}\n    {words.said(each.verdict)}\n")
            if chance := words.chance(each.verdict):
                parts.append(f"    ({chance})\n")
        usual = Counter(slip for each in own for slip in each.verdict.slips[:1])
        if usual and (often := usual.most_common(1)[0])[1] > 1:
            parts.append(f"  most often: {often[0]}, in {counted(often[1], 'answer')}\n")
    return "".join(printable(line) + "\n" for part in parts for line in part.splitlines())


def _points(judged: Sequence[Judged]) -> str:
    """The points of a group; empty where nothing is marked."""
    earned = [each.earned for each in judged if each.earned is not None]
    return f"; {plain(sum(earned))} of {plain(sum(each.worth for each in judged))} points" if earned else ""


FORMS = {"text": _as_text, "csv": _as_csv, "json": _as_json}
