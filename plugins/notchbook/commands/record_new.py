"""`notchbook record new`: a blank test record of an exercise, to be filled in."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from notchbook.commands import record_file
from notchbook.commands.opening import open_for_command
from notchbook.commands.output import say, write
from notchbook.commands.record_options import known_of, record_options, typed
from notchbook.facts.facts import Facts
from notchbook.writing.blank_record import Setting, blank_record
from notchbook.writing.draft import draft_of
from notchbook.writing.fields import SETUP
from notchbook.writing.given import common_of

if TYPE_CHECKING:
    from pathlib import Path


@click.command()
@record_options
def new(root: Path, output: Path | None, force: bool, **values: Any) -> None:
    """Write a blank test record of an exercise.

    It takes --exercise, --rig and --hammer. The file holds every key in the order of the contract, with a comment of
    what belongs there and in which unit, and a line for each bar that the exercise asks for. What is given by other
    options is filled in. `notchbook check` points at each blank that is left.

    \b
    Exit status: 0  the record was written
                 2  nothing was written
    """  # noqa: D301  # the mark that keeps the lines of the list apart
    handbook = open_for_command(root)
    facts = Facts(handbook)
    common = common_of(None, *typed(values))
    known = known_of(facts, common)
    draft = draft_of(common, SETUP)
    draft.troubles += known.troubles
    draft.refuse(whole=False)
    if draft.troubles or not (known.exercise and known.method and known.rig and known.specimen):
        record_file.refuse(draft.troubles)
    path = record_file.record_path(handbook, output, common.values)
    setting = Setting(
        known.exercise,
        known.method,
        known.rig,
        known.specimen,
        known.form,
        known.hammers,
        list(facts.materials),
    )
    text = blank_record(setting, draft.values, record_file.schema_comment(handbook, path))
    if path == record_file.STDOUT:
        write(text)
        return
    record_file.write_record(handbook, path, text, force=force)
    say(f"wrote {path}: fill in the blanks, then run `notchbook check`")
