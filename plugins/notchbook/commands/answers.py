"""`notchbook answers`: what groups worked out, held against what their readings give."""

import sys
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import click

from notchbook.answers import words
from notchbook.answers.asking import NotAskedError, asked
from notchbook.answers.bars import Bars, bars_of
from notchbook.answers.digits import given
from notchbook.answers.judging import Answer, Verdict, judge
from notchbook.answers.marks import Scheme
from notchbook.commands import record_file
from notchbook.commands.opening import format_option, open_for_command, root_option
from notchbook.commands.output import RefusalError, say, write
from notchbook.facts.facts import Facts
from notchbook.reading import acceptance
from notchbook.reading.document import Document
from notchbook.reading.strict_yaml import parse
from notchbook.wording.csv_text import csv_table
from notchbook.wording.json_text import json_text
from notchbook.wording.lines import printable
from notchbook.wording.lists import counted
from notchbook.wording.nearest import nearest
from notchbook.wording.numbers import plain
from notchbook.writing.answers_table import HEADS, AnswerRow, read_answers
from notchbook.writing.trouble import Trouble, UnreadableError


@dataclass(frozen=True, slots=True)
class Judged:
    """One answer with what is said of it."""

    row: AnswerRow
    verdict: Verdict
    earned: float | None
    """Its points; None where nothing is marked."""
    worth: float
    """The points of a right one."""


@click.command()
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@root_option
@click.option(
    "--marks",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    metavar="FILE",
    help="Scheme of points, a YAML file.",
)
@format_option(("text", "csv", "json"), "Form.")
def answers(file: Path, root: Path, marks: Path | None, form: str) -> None:
    """Tell which step a wrong result of a group comes from.

    FILE is a table, text or workbook, with the columns record, specimen, breaks, quantity and value. The value counts
    with its digits. Each answer agrees to the digits given, or is what a known slip gives, or neither. A scheme of
    points marks them. Nothing of it is written into the handbook.

    \b
    Exit status: 0  every answer agrees
                 1  some do not
                 2  the table or the handbook could not be read
    """  # noqa: D301  # the mark that keeps the lines of the list apart
    scheme = _scheme(marks) if marks is not None else None
    try:
        rows, troubles = read_answers(_bytes(file))
    except UnreadableError as error:
        record_file.refuse([error.trouble], file)
    facts = Facts(open_for_command(root))
    judged = _judged(facts, rows, scheme, troubles)
    if troubles:
        record_file.refuse(troubles, file)
    write(_FORMS[form](judged))
    wrong = sum(each.verdict.kind != "agrees" for each in judged)
    say(f"{counted(len(judged), 'answer')}, of which {len(judged) - wrong} agree")
    sys.exit(1 if wrong else 0)


def _bytes(file: Path) -> bytes:
    try:
        return file.read_bytes()
    except OSError as error:
        raise RefusalError(f"'{file}' cannot be read: {error.strerror or error}") from error


def _scheme(file: Path) -> Scheme:
    """The scheme of points in a file; ends the command with all that is wrong in it, by line and column."""
    try:
        text = _bytes(file).decode("utf-8")
    except UnicodeDecodeError as error:
        raise RefusalError(f"'{file}' is no text in UTF-8; save it again as UTF-8") from error
    data, flaws = parse(text)
    if isinstance(data, dict) and not flaws:
        flaws = acceptance.flaws("marks", data)
    if flaws:
        found = Document(file.name, "marks", file.stem, text, data or {}).findings(flaws)
        for each in found:
            say(f"{file}:{each.line}:{each.column}: {each.message}{f'; {each.hint}' if each.hint else ''}")
        raise RefusalError(f"nothing was marked: {counted(len(found), 'flaw')} in '{file}'")
    return Scheme(**{key: value for key, value in data.items() if key != "kind"})


def _judged(facts: Facts, rows: Sequence[AnswerRow], scheme: Scheme | None, troubles: list[Trouble]) -> list[Judged]:
    """Every answer with its verdict, those of one record together; what is no answer is added to the troubles."""
    by_record: dict[str, list[tuple[AnswerRow, Answer]]] = {}
    bars: dict[str, Bars] = {}
    for row in rows:
        found = bars.get(row.record) or _bars(facts, row, troubles)
        if found is not None:
            bars[row.record] = found
            answer = _answer(found, row, troubles)
            if answer is not None:
                by_record.setdefault(row.record, []).append((row, answer))
    judged: dict[AnswerRow, Judged] = {}
    for record, answered in by_record.items():
        told = judge(bars[record], [answer for _, answer in answered])
        for (row, answer), verdict in zip(answered, told, strict=True):
            earned = scheme.earned(bars[record], answer, verdict) if scheme is not None else None
            judged[row] = Judged(row, verdict, earned, scheme.worth(answer) if scheme is not None else 0.0)
    return [judged[row] for row in rows if row in judged]


def _bars(facts: Facts, row: AnswerRow, troubles: list[Trouble]) -> Bars | None:
    line = facts.records.get(row.record)
    if line is None:
        hint = nearest(row.record, facts.records)
        troubles.append(Trouble(row.place, f"the handbook has no test record '{row.record}'", hint))
        return None
    found = bars_of(line, line.uncertainty)
    if found is None:
        message = f"nothing can be worked out from '{row.record}'"
        troubles.append(Trouble(row.place, message, "run `notchbook check`, and mend what it finds there"))
    return found


def _answer(bars: Bars, row: AnswerRow, troubles: list[Trouble]) -> Answer | None:
    value = given(row.value)
    if value is None:
        troubles.append(Trouble(row.place, f"'{row.value}' is no number", "write digits with one decimal point"))
        return None
    try:
        return Answer(asked(bars, row.specimen, row.breaks, row.quantity), value)
    except NotAskedError as error:
        troubles.append(Trouble(row.place, str(error), error.hint))
        return None


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


_FORMS = {"text": _as_text, "csv": _as_csv, "json": _as_json}
