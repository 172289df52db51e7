"""`notchbook review`: what a change does to the results, for whoever has to accept it."""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

import click

from notchbook.commands.opening import open_for_command, root_option, with_prose, write
from notchbook.handbook import open_handbook
from notchbook.review.comparison import compare
from notchbook.review.forms import FORMS
from notchbook.review.revision import RevisionError, write_revision


class _CannotReviewError(click.ClickException):
    """There is nothing to compare with: one line, and exit status 2."""

    exit_code = 2


@click.command()
@root_option
@click.option(
    "--base",
    metavar="REV",
    default="HEAD",
    show_default=True,
    help="Branch, tag or commit to compare the files at hand with; in a pipeline, the branch that is merged into.",
)
@click.option(
    "--format",
    "form",
    type=click.Choice(list(FORMS)),
    default="text",
    show_default=True,
    help="text: a line a change; markdown: for a comment on a pull request; json: for scripts.",
)
def review(root: Path, base: str, form: str) -> None:
    """Say what the files at hand change for a reader of the handbook.

    Computes the handbook twice, at a revision and as the files are now, through git and without touching them. Raw
    readings that were changed after they were published come first: that is what to ask about. Then results that
    moved, by how much and against their uncertainty; files that were added, removed or renamed; findings that are new
    or gone; and rigs, methods and tolerances that changed, with every published result that rests on them.

    \b
    Exit status: 0  nothing to ask about
                 1  there is something to ask about
                 2  the handbook or the revision could not be read
    """  # noqa: D301  # the mark that keeps the lines of the list apart
    new = open_for_command(root)
    with tempfile.TemporaryDirectory(prefix="notchbook-") as folder:
        try:
            name = write_revision(root, base, Path(folder))
        except RevisionError as error:
            raise _CannotReviewError(str(error)) from error
        old = with_prose(open_handbook(Path(folder), day=new.day))
        found = compare(old, new, name)
    write(FORMS[form](found))
    sys.exit(1 if found.questions else 0)
