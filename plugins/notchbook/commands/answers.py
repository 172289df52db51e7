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
from notchbook.commands import record_file
from notchbook.commands.opening import format_option, open_for_command, root_option
from notchbook.commands.output import RefusalError, say, write
from notchbook.facts.facts import Facts
from notchbook.wording.json_text import json_text
from notchbook.wording.lines import printable
from notchbook.wording.lists import counted
from notchbook.wording.nearest import nearest
from notchbook.writing.answers_table import AnswerRow, read_answers
from notchbook.writing.trouble import Trouble, UnreadableError


@dataclass(frozen=True, slots=True)
class Judged:
    """One answer with what is said of it."""

    row: AnswerRow
    verdict: Verdict


@click.command()
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@root_option
@format_option(("text", "json"), "Form.")
def answers(file: Path, root: Path, form: str) -> None:
    """Tell which step a wrong result of a group comes from.

    FILE is a table, text or workbook, with the columns record, specimen, breaks, quantity and value. The value counts
    with its digits. Each answer agrees to the digits given, or is what a known slip gives, or neither. Nothing of it is
    written into the handbook.

    \b
    Exit status: 0  every answer agrees
                 1  some do not
                 2  the table or the handbook could not be read
    """  # noqa: D301  # the mark that keeps the lines of the list apart
    try:
        raw = file.read_bytes()
    except OSError as error:
        raise RefusalError(f"'{file}' cannot be read: {error.strerror or error}") from error
    try:
        rows, troubles = read_answers(raw)
    except UnreadableError as error:
        record_file.refuse([error.trouble], file)
    facts = Facts(open_for_command(root))
    judged = _judged(facts, rows, troubles)
    if troubles:
        record_file.refuse(troubles, file)
    write(_FORMS[form](judged))
    wrong = sum(each.verdict.kind != "agrees" for each in judged)
    say(f"{counted(len(judged), 'answer')}, of which {len(judged) - wrong} agree")
    sys.exit(1 if wrong else 0)


def _judged(facts: Facts, rows: Sequence[AnswerRow], troubles: list[Trouble]) -> list[Judged]:
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
    verdicts: dict[AnswerRow, Verdict] = {}
    for record, answered in by_record.items():
        told = judge(bars[record], [answer for _, answer in answered])
        verdicts |= {row: verdict for (row, _), verdict in zip(answered, told, strict=True)}
    return [Judged(row, verdicts[row]) for row in rows if row in verdicts]


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


def _as_text(judged: Sequence[Judged]) -> str:
    """A part a record: how many agree, and of each other answer which step to look at again."""
    parts = []
    for record in dict.fromkeys(each.row.record for each in judged):
        own = [each for each in judged if each.row.record == record]
        right = sum(each.verdict.kind == "agrees" for each in own)
        parts.append(f"{record}: {right} of {counted(len(own), 'answer')} agree\n")
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


_FORMS = {"text": _as_text, "json": _as_json}
