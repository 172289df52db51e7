"""`notchbook record`: the file of a test record, from a table of readings, or blank."""

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import click

from notchbook.commands import record_file
from notchbook.commands.opening import open_for_command
from notchbook.commands.output import RefusalError, say, write
from notchbook.commands.record_options import known_of, record_options, typed
from notchbook.commands.terminal import at_terminal, for_terminal
from notchbook.facts.facts import Facts
from notchbook.findings import Severity, as_text, summary
from notchbook.handbook import Handbook
from notchbook.reading.files import Refused, bytes_of
from notchbook.wording.lists import counted
from notchbook.writing.blank_record import blank_record
from notchbook.writing.draft import Draft, record_text
from notchbook.writing.fields import SETUP
from notchbook.writing.given import common_of
from notchbook.writing.readings import records_in_file
from notchbook.writing.sheets import Sheet
from notchbook.writing.table_bars import record_of_table
from notchbook.writing.table_swings import as_swings, swings_of_table
from notchbook.writing.trouble import UnreadableError


@click.command("import")
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@record_options
@click.option(
    "--skip", multiple=True, metavar="COLUMN", help="Column to leave out, by head or letter; may be given again."
)
def import_(file: Path, root: Path, skip: tuple[str, ...], output: Path | None, force: bool, **values: Any) -> None:
    """Make test records from a table of readings.

    FILE is a workbook (.xlsx, .ods) or a CSV file: heads of columns, then one row a bar. Columns may stand in any
    order. What all bars share is given by options, in rows above the heads, a name and its value, or in columns.
    Options win. Where a column names several groups, days, exercises, hammers, materials or batches, each gets its
    record, and so does each sheet with a table, which may be called by its group.

    Under an exercise without bars the record is one of free swings: their names with values in rows, and for a series
    of swings a row each below the heads 'half swing' and 'angle of rise' or 'indicated energy'.

    Readings are taken over digit by digit. Whatever cannot be used is named with its row and column, all at once, and
    nothing is written then. A record that was written is checked.

    \b
    Exit status: 0  the record was written, and the check finds no errors in it
                 1  the record was written, and the check finds errors in it
                 2  nothing was written, or what the check finds could not be printed
    """  # noqa: D301  # the mark that keeps the lines of the list apart
    raw = bytes_of(file)
    if isinstance(raw, Refused):
        raise RefusalError(f"'{file}' {raw.message}; name the file with the readings")
    try:
        found = records_in_file(raw, skip, typed(values)[0])
    except UnreadableError as error:
        record_file.refuse([error.trouble], file)
    handbook = open_for_command(root)
    facts, given = Facts(handbook), typed(values)
    drafts = [_draft_of(sheet, common_of(sheet, *given, skip), facts, skip) for sheet in found.sheets]
    troubles = [*found.troubles, *(each for draft in drafts for each in draft.troubles)]
    if troubles:
        record_file.refuse(troubles, file)
    paths = record_file.record_paths(handbook, output, [draft.values for draft in drafts])
    for remark in dict.fromkeys([*found.remarks, *(each for draft in drafts for each in draft.remarks)]):
        say(f"{file}: {remark}")
    if not force:
        record_file.refuse_taken(paths)
    for sheet, draft, path in zip(found.sheets, drafts, paths, strict=True):
        kind, bars = draft.values["kind"], draft.values.get("specimens")
        text = record_text(draft.values, record_file.schema_comment(handbook, path, kind))
        if record_file.write_record(handbook, path, text, force=force):
            what = counted(len(bars), "bar") if bars is not None else "free swings"
            say(f"wrote {path}: {what} ({sheet.described})")
    written = [path for path in paths if path != record_file.STDOUT]
    if written:
        _check(handbook, written)


def _draft_of(sheet: Sheet, draft: Draft, facts: Facts, skip: tuple[str, ...]) -> Draft:
    """The record of a table, of bars or of free swings as its exercise is."""
    known = known_of(facts, draft)
    draft.troubles[:0] = known.troubles
    if known.without_bars:
        return swings_of_table(sheet, draft, skip)
    return record_of_table(sheet, draft, known.form, known.specimen, skip)


def _check(before: Handbook, paths: Sequence[Path]) -> None:
    """Print what the check finds in the new files, and end with 1 where there are errors."""
    places = {place for path in paths if (place := record_file.in_handbook(before, path)) is not None}
    if not places:
        say("not checked: the file is not among the records of the handbook")
        return
    found = [each for each in open_for_command(before.root).findings if each.path in places]
    write("".join(for_terminal(found, before.root)) if at_terminal() else as_text(found, ()))
    say(summary(found, len(places)))
    sys.exit(1 if any(each.severity is Severity.ERROR for each in found) else 0)


@click.command()
@record_options
def new(root: Path, output: Path | None, force: bool, **values: Any) -> None:
    """Write a blank record of an exercise, of tests or of free swings.

    It takes --exercise, --rig and --hammer. The file holds every key in the order of the contract, with a comment of
    what belongs there and in which unit, and a line for each bar that the exercise asks for. What is given by other
    options is filled in. `notchbook check` points at each blank that is left.

    \b
    Exit status: 0  the record was written
                 2  nothing was written
    """  # noqa: D301  # the mark that keeps the lines of the list apart
    handbook = open_for_command(root)
    draft = common_of(None, *typed(values))
    known = known_of(Facts(handbook), draft)
    draft.tell_missing(SETUP)
    draft.troubles += known.troubles
    if known.without_bars:
        as_swings(draft)
    draft.refuse(whole=False)
    if draft.troubles or known.setting is None:
        record_file.refuse(draft.troubles)
    (path,) = record_file.record_paths(handbook, output, [draft.values])
    text = blank_record(known.setting, draft.values, record_file.schema_comment(handbook, path, known.setting.kind))
    if record_file.write_record(handbook, path, text, force=force):
        say(f"wrote {path}: fill in the blanks, then run `notchbook check`")


@click.group()
def record() -> None:
    """Write the file of a test record.

    `notchbook record import` makes it from a table of readings, such as a workbook. `notchbook record new`
    makes a blank one, to be filled in with a text editor.
    """


record.add_command(import_)
record.add_command(new)
