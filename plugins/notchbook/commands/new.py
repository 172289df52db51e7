"""`notchbook new`: a whole handbook of one's own, to be filled in."""

import sys
from pathlib import Path
from typing import Any

import click

from notchbook.commands.opening import open_for_command
from notchbook.commands.output import RefusalError, say, write
from notchbook.commands.terminal import at_terminal
from notchbook.reading.files import is_folder
from notchbook.reading.rules import TO_FILL_IN
from notchbook.wording.lists import counted, first_of


class _Numbers(click.ParamType[Any]):
    """Numbers with commas between."""

    name = "numbers"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """The numbers that a text holds."""
        if isinstance(value, tuple):
            return value
        try:
            return tuple(float(part) for part in value.split(",") if part.strip())
        except ValueError:
            self.fail(f"'{value}' is no list of numbers such as 1,2.", param, ctx)


_NUMBERS = _Numbers()


@click.command()
@click.argument("folder", metavar="DIR", type=click.Path(path_type=Path))
@click.option("--name", metavar="WORDS", help="Name of the site.")
@click.option("--scale", type=click.Choice(["angle", "energy"]), help="What the scale of the pendulum shows.")
@click.option(
    "--division", "divisions", type=_NUMBERS, metavar="N[,N...]",
    help="Smallest division of the scale, in degrees or J; several are those of its rings, one for each energy.",
)  # fmt: skip
@click.option("--length-mm", type=float, metavar="N", help="From the axis to the centre of strike.")
@click.option("--gap-mm", type=float, metavar="N", help="Between the supports.")
@click.option(
    "--pendulum", "pendulums_J", type=_NUMBERS, multiple=True, metavar="J[,J...]",
    help="Energies a pendulum is marked with: bare, then with each of its masses; may be given again.",
)  # fmt: skip
@click.option("--method", "methods", multiple=True, metavar="ID", help="iso-179-1 or iso-180; may be given again.")
@click.option("--material", "materials", multiple=True, metavar="SYMBOL", help="Such as PP; may be given again.")
@click.option("--notice", metavar="WORDS", help="Words above every page.")
@click.option("--yes", is_flag=True, help="Ask nothing: what no option says is taken from the usual.")
def new(folder: Path, *, yes: bool, **given: Any) -> None:
    """Begin a handbook of one's own in DIR.

    In a terminal it asks for what no option says. It writes settings, hazards, a rig, an exercise for each method and
    one about the losses, a blank verification, pipelines and hooks. Whatever it cannot know stands there marked: the
    check lists it as to fill in. What it writes is checked and builds at once.

    \b
    Exit status: 0  the handbook was written
                 2  nothing was written
    """  # noqa: D301  # the mark that keeps the lines of the list apart
    # templates and the whole engine hang on it, and a refusal of the options needs neither
    from notchbook.starting.beginning import BeginningError, beginning, known_methods
    from notchbook.starting.beginning import write as write_files
    from notchbook.starting.wishes import Wishes

    if not yes and is_asked():
        given = _asked(given, Wishes(), list(known_methods()))
    told = {key: value for key, value in given.items() if value not in (None, ())}
    try:
        made = beginning(Wishes(**told))
    except BeginningError as error:
        raise RefusalError("; ".join(error.troubles)) from error
    _refuse_what_is_there(folder, made)
    write_files(folder, made)
    blanks = sum(each.rule == TO_FILL_IN.id for each in open_for_command(folder).findings)
    write(f"{counted(len(made), 'file')} in '{folder}', with {counted(blanks, 'place')} to fill in\n")
    say("Next, in that folder: `notchbook check` lists what is to fill in, `notchbook site` builds the website.")


def is_asked() -> bool:
    """Whether somebody can answer."""
    return at_terminal() and sys.stdin is not None and sys.stdin.isatty()


def _refuse_what_is_there(folder: Path, made: dict[str, str]) -> None:
    if folder.exists() and not is_folder(folder):
        raise RefusalError(f"'{folder}' is a file; name a folder for the handbook")
    there = sorted({name.partition("/")[0] for name in made if (folder / name.partition("/")[0]).exists()})
    if there:
        raise RefusalError(f"'{folder}' holds {first_of(there)} already; name a folder without a handbook in it")


def _asked(given: dict[str, Any], usual: Any, methods: list[str]) -> dict[str, Any]:
    """What was given, and what somebody answers for the rest; an empty answer is the usual one."""

    def ask(words: str, key: str, **options: Any) -> None:
        if given[key] in (None, ()):
            default = getattr(usual, key)
            unsaid = 0.0 if default is None else default
            given[key] = click.prompt(words, default=unsaid, show_default=bool(default), err=True, **options)

    def ask_each(words: str, key: str, kind: Any) -> None:
        while True:
            answer = click.prompt(words, default="", show_default=False, show_choices=False, type=kind, err=True)
            if not answer:
                return
            given[key] = (*given[key], answer)

    ask("Name of the site", "name")
    ask("The scale shows", "scale", type=click.Choice(["angle", "energy"]))
    unit = "J" if given["scale"] == "energy" else "degrees"
    ask(f"Its smallest division in {unit} (those of several rings with commas between)", "divisions", type=_NUMBERS)
    ask("Millimetres from the axis to the centre of strike (0: not known yet)", "length_mm", type=float)
    ask("Millimetres between the supports (0: not known yet)", "gap_mm", type=float)
    if not given["methods"]:
        ask_each(f"Method ({' or '.join(methods)}; empty: no more)", "methods", click.Choice([*methods, ""]))
    if not given["pendulums_J"]:
        words = "Energies in J of a pendulum, bare and then with each mass, such as 1,2 (empty: no more)"
        ask_each(words, "pendulums_J", _NUMBERS)
    if not given["materials"]:
        ask_each("Symbol of a material, such as PP (empty: no more)", "materials", str)
    ask("Words above every page (may be empty)", "notice")
    return given | {key: given[key] or None for key in ("length_mm", "gap_mm")}
