"""`notchbook answers`: what groups worked out, held against what their readings give."""

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TypeVar

import click

from notchbook.answers.asking import NotAskedError, asked
from notchbook.answers.bars import Bars, bars_of
from notchbook.answers.digits import given
from notchbook.answers.judging import Answer, judge
from notchbook.answers.marks import Scheme
from notchbook.commands import record_file
from notchbook.commands.answer_forms import FORMS, Judged
from notchbook.commands.opening import format_option, open_for_command, root_option
from notchbook.commands.output import RefusalError, say, write
from notchbook.facts.facts import Facts
from notchbook.reading import acceptance
from notchbook.reading.document import Document
from notchbook.reading.files import Refused, bytes_of, text_of
from notchbook.reading.strict_yaml import parse
from notchbook.wording.lists import counted
from notchbook.wording.nearest import nearest
from notchbook.writing.answers_table import AnswerRow, read_answers
from notchbook.writing.trouble import Trouble, UnreadableError

_Content = TypeVar("_Content", str, bytes)


@click.command()
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@root_option
@click.option(
    "--marks",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    metavar="FILE",
    help="Scheme of points, a YAML file.",
)
@format_option(FORMS, "Form.")
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
    raw = _read(bytes_of(file), file)
    try:
        rows, troubles = read_answers(raw)
    except UnreadableError as error:
        record_file.refuse([error.trouble], file)
    facts = Facts(open_for_command(root))
    judged = _judged(facts, rows, scheme, troubles)
    if troubles:
        record_file.refuse(troubles, file)
    write(FORMS[form](judged))
    wrong = sum(each.verdict.kind != "agrees" for each in judged)
    say(f"{counted(len(judged), 'answer')}, of which {len(judged) - wrong} agree")
    sys.exit(1 if wrong else 0)


def _read(found: _Content | Refused, file: Path) -> _Content:
    """What a file holds; ends the command where it cannot be read."""
    if isinstance(found, Refused):
        raise RefusalError(f"'{file}' {found.message}; {found.hint}")
    return found


def _scheme(file: Path) -> Scheme:
    """The scheme of points in a file; ends the command with all that is wrong in it, by line and column."""
    text = _read(text_of(file), file)
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
