"""The command line: `notchbook check`, `hammer`, `record`, `results` and `review`."""

from __future__ import annotations

import sys

try:
    import click

    from notchbook import __version__
    from notchbook.commands.check import check
    from notchbook.commands.hammer import hammer
    from notchbook.commands.output import Commands
    from notchbook.commands.record import record
    from notchbook.commands.results import results
    from notchbook.commands.review import review
except KeyboardInterrupt:
    # half of the time of a short command goes into loading it
    sys.stderr.write("Error: stopped before it was done\n")
    sys.exit(2)


@click.group(cls=Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="notchbook")
def main() -> None:
    """Check and compute the handbook of a pendulum impact laboratory.

    A handbook is a folder with procedures/ (rigs, materials, exercises, hazards) and results/ (verifications, tests),
    all of them YAML files. Begin with `notchbook check` in that folder: it reads everything and says, file by file,
    what is wrong and what to do. `mkdocs build` makes the site from the same data and fails on the same errors.
    """


main.add_command(check)
main.add_command(hammer)
main.add_command(record)
main.add_command(results)
main.add_command(review)

if __name__ == "__main__":
    main()
