"""`notchbook record`: the file of a test record, from a table of readings or blank."""

from __future__ import annotations

import click

from notchbook.commands.record_import import import_
from notchbook.commands.record_new import new


@click.group()
def record() -> None:
    """Write the file of a test record.

    `notchbook record import` makes it from a table of readings, as a spreadsheet exports it. `notchbook record new`
    makes a blank one, to be filled in with a text editor.
    """


record.add_command(import_)
record.add_command(new)
