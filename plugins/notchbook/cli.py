"""The command line: `notchbook check` and the other commands that `notchbook --help` lists."""

import sys
from importlib import import_module

try:
    import click

    from notchbook.commands.output import Commands
    from notchbook.version import __version__
except KeyboardInterrupt:
    # half of the time of a short command goes into loading it
    sys.stderr.write("Error: stopped before it was done\n")
    sys.exit(2)


class _Loaded(Commands):
    """Commands that are loaded when they are asked for, each from the module and under the name that it has itself."""

    names = (
        "answers",
        "check",
        "compare",
        "difference",
        "export",
        "finish",
        "hammer",
        "new",
        "practice",
        "record",
        "results",
        "review",
        "serve",
        "site",
        "uncertainty",
    )

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002  # click's own form
        """The names of all commands."""
        return list(self.names)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """A command by its name; None where there is none."""
        if cmd_name in self.names and cmd_name not in self.commands:
            self.add_command(getattr(import_module(f"notchbook.commands.{cmd_name}"), cmd_name))
        return super().get_command(ctx, cmd_name)


@click.group(cls=_Loaded, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="notchbook")
def main() -> None:
    """Check and compute the handbook of a pendulum impact laboratory.

    A handbook is a folder with procedures/ (rigs, materials, exercises, hazards) and results/ (verifications, tests),
    all of them YAML files. Begin with `notchbook check` in that folder: it reads everything and says, file by file,
    what is wrong and what to do. `notchbook site` makes the site from the same data and fails on the same errors.
    """


if __name__ == "__main__":
    main()
