"""Opening a handbook from the command line: its root, and a progress bar on long work in a terminal."""

import gc
import sys
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any, NoReturn

import click

from notchbook.commands.output import RefusalError, say
from notchbook.findings import Severity
from notchbook.handbook import Handbook, day_of, open_handbook
from notchbook.model.settings import Settings
from notchbook.reading.files import folder_trouble, is_folder, listed
from notchbook.site_reading.settings import read_settings
from notchbook.wording.lists import counted

# Below this many records the work is done before a bar could be read.
_LONG_WORK = 200

root_option: Callable[[Any], Any] = click.option(
    "--root",
    type=click.Path(exists=True, file_okay=False, path_type=Path),
    default=Path(),
    help="Folder of the handbook, the one that holds procedures/ and results/.  [default: this folder]",
)


def format_option(forms: Iterable[str], about: str, default: str = "text") -> Callable[[Any], Any]:
    """The option that chooses the form in which a command prints."""
    choice = click.Choice(list(forms))
    return click.option("--format", "form", type=choice, default=default, show_default=True, help=about)


def open_for_command(root: Path) -> Handbook:
    """The handbook of the root; an error that ends the command where the folder holds none."""
    # The process ends with the command: looking for cycles among a million values that all stay costs a tenth of it.
    gc.disable()
    settings = settings_for_command(root)
    day = day_of(root)
    records = len(listed(root / settings.results / "tests"))
    stderr = getattr(sys, "stderr", None)  # a process may be started without
    if records < _LONG_WORK or stderr is None or not stderr.isatty():
        return with_prose(open_handbook(root, day=day))
    with click.progressbar(length=records, label="Checking", file=stderr) as bar:
        return with_prose(open_handbook(root, day=day, advance=lambda: bar.update(1)))


def settings_for_command(root: Path) -> Settings:
    """The settings of the handbook of the root; an error that ends the command where the folder holds none."""
    trouble = folder_trouble(root)
    if trouble:
        raise RefusalError(f"'{root}' cannot be read: {trouble}")
    try:
        root.resolve()
    except OSError as error:
        raise RefusalError(f"the folder '{root}' is not there any more; go to that of the handbook") from error
    settings, _ = read_settings(root)
    folders = (root / settings.procedures, root / settings.results)
    if not any(is_folder(folder) for folder in folders):
        names = " nor ".join(folder.name + "/" for folder in folders)
        raise RefusalError(f"'{root}' holds neither {names}; name the folder of the handbook with --root")
    return settings


def end_told(handbook: Handbook) -> NoReturn:
    """Say how many errors the handbook has, and end with 1 where there are some."""
    errors = handbook.count(Severity.ERROR)
    if errors:
        say(f"{counted(errors, 'error')}: run `notchbook check`")
    sys.exit(1 if errors else 0)


def with_prose(handbook: Handbook) -> Handbook:
    """The handbook with its hand-written pages checked too; the drawings are only loaded where there are some."""
    if handbook.settings.prose is None:
        return handbook
    from notchbook.pages.written.prose import checked

    return checked(handbook)
