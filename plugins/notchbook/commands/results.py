"""`notchbook results`: every computed value, for scripts."""

from pathlib import Path

import click

from notchbook.commands.opening import end_told, format_option, open_for_command, root_option
from notchbook.commands.output import write
from notchbook.results_data import FORMS


@click.command()
@root_option
@format_option(FORMS, "Form.", default="json")
def results(root: Path, form: str) -> None:
    """Print every computed result.

    Energies, losses and strengths of each specimen, the sets with mean, standard deviation and interval, and what each
    verification found, at full precision. A value that cannot be had is null in JSON and empty in CSV.

    \b
    Exit status: 0  the handbook has no errors
                 1  it has; what can be computed is printed all the same
                 2  the handbook could not be opened, or not all could be printed
    """  # noqa: D301  # the mark that keeps the lines of the list apart
    handbook = open_for_command(root)
    write(FORMS[form](handbook))
    end_told(handbook)
