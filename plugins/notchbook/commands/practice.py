"""`notchbook practice`: readings to practise on without a rig, and a key."""

from pathlib import Path
from typing import get_args

import click

from notchbook.commands import record_file
from notchbook.commands.opening import open_for_command, root_option
from notchbook.commands.output import RefusalError, say
from notchbook.facts.facts import Facts
from notchbook.practice.drawing import readings
from notchbook.practice.files import key_rows, table_of
from notchbook.practice.plan import NotPlannedError, Trap, plan_of
from notchbook.wording.csv_text import csv_table
from notchbook.wording.lists import counted
from notchbook.writing.answers_table import HEADS

_MOST_GROUPS = 99
_KEY = "key.csv"


@click.command()
@click.argument("exercise")
@root_option
@click.option("--groups", type=click.IntRange(1, _MOST_GROUPS), required=True, metavar="N", help="How many sets.")
@click.option(
    "--seed", type=click.IntRange(0, 2**32), required=True, metavar="S", help="The same gives the same sets."
)
@click.option(
    "--out", type=click.Path(file_okay=False, path_type=Path), required=True, metavar="DIR", help="Where to write them."
)
@click.option("--material", metavar="ID", help="The material.  [default: the one of which most is known]")
@click.option("--trap", type=click.Choice(get_args(Trap)), help="A bar that is not allowed, or a hammer too large.")
def practice(
    exercise: str, root: Path, groups: int, seed: int, out: Path, material: str | None, trap: Trap | None
) -> None:
    """Write plausible readings of an exercise to practise on.

    DIR gets a table of readings a group, in the form that `notchbook record import` reads, and key.csv with what is
    right, in the form that `notchbook answers` reads. All of it is invented and says so in each row; the check refuses
    it as a record.

    \b
    Exit status: 0  the sets were written
                 2  nothing was written
    """  # noqa: D301  # the mark that keeps the lines of the list apart
    handbook = open_for_command(root)
    try:
        plan = plan_of(Facts(handbook), exercise, material, trap)
        sets = [readings(plan, group, seed, trap) for group in range(1, groups + 1)]
    except NotPlannedError as error:
        raise RefusalError(f"{error}; {error.hint}") from error
    key = [row for each in sets for row in key_rows(handbook.evaluation, plan, each)]
    files = {out / f"practice-{each['group'].lower()}.csv": table_of(each) for each in sets}
    files[out / _KEY] = csv_table(HEADS, key)
    taken = [path for path in files if path.exists()]
    if taken:
        raise RefusalError(f"'{taken[0]}' is there already; name another folder with --out")
    try:
        for path, text in files.items():
            record_file.write_whole(path, text, replace=False)
    except OSError as error:
        raise RefusalError(f"'{out}' cannot be written: {error.strerror or error}") from error
    hammer, of = plan.line.hammer.title, plan.material.symbol
    say(f"wrote {counted(groups, 'set')} of {of} on {hammer} and {_KEY} to {out}: practice, invented")
