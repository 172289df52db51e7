"""`notchbook check`: everything that is wrong with a handbook, in one of four forms."""

import sys
from pathlib import Path

import click

from notchbook.commands.opening import format_option, open_for_command, root_option
from notchbook.commands.output import say, write
from notchbook.commands.terminal import at_terminal, for_terminal
from notchbook.findings import RENDERINGS, Severity, summary
from notchbook.handbook import RULES


@click.command()
@root_option
@format_option(
    RENDERINGS, "text: one finding a line; json: for scripts; github: workflow annotations; sarif: for code scanning."
)
def check(root: Path, form: str) -> None:
    """Check every data file of the handbook.

    Prints one finding a line, as path:line:column: severity: what is wrong; what to do [rule]. In a terminal it is in
    colour, and the line of the file stands below it with a mark at the place. The page of checks in the site lists
    every rule with its reason.

    \b
    Exit status: 0  nothing is wrong at error severity
                 1  at least one error
                 2  the handbook could not be opened, or not all could be printed
    """  # noqa: D301  # the mark that keeps the lines of the list apart
    handbook = open_for_command(root)
    coloured = form == "text" and at_terminal()
    told = for_terminal(handbook.findings, handbook.root)
    write("".join(told) if coloured else RENDERINGS[form](handbook.findings, list(RULES.values())))
    say(summary(handbook.findings, handbook.files))
    sys.exit(1 if handbook.count(Severity.ERROR) else 0)
