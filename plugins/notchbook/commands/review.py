"""`notchbook review`: what a change does to the results, for whoever has to accept it."""

import sys
import tempfile
from pathlib import Path

import click

from notchbook.commands.opening import format_option, open_for_command, root_option, with_prose
from notchbook.commands.output import RefusalError, say, write
from notchbook.handbook import open_handbook
from notchbook.review.comparison import review_of
from notchbook.review.forms import FORMS
from notchbook.review.revision import RevisionError, write_revision
from notchbook.review.words import questions


@click.command()
@root_option
@click.option(
    "--base",
    metavar="REV",
    default="HEAD",
    show_default=True,
    help="Branch, tag or commit to compare the files at hand with; in a pipeline, the branch that is merged into.",
)
@format_option(FORMS, "text: a line a change; markdown: for a comment on a pull request; json: for scripts.")
@click.option("--exit-zero", is_flag=True, help="End with 0 whatever there is to say: for a hook that stops nothing.")
def review(root: Path, base: str, form: str, *, exit_zero: bool) -> None:
    """Say what the files at hand change for a reader of the handbook.

    Computes the handbook twice, at a revision and as the files are now, through git and without touching them. What
    can hurt comes first: hazards, their controls, steps. Then what could not be compared; settings, code, templates
    and pages of the site; raw readings that were changed after they were published; rigs, methods and materials that
    changed, with every published result that rests on them; results that moved, by how much and against their
    uncertainty; files that were added, removed or renamed; and findings that are new or gone.

    \b
    Exit status: 0  nothing to ask about
                 1  there is something to ask about, or something could not be compared
                 2  the handbook or the revision could not be read
    """  # noqa: D301  # the mark that keeps the lines of the list apart
    try:
        asked = _reviewed(root, base, form)
    except RefusalError as error:
        if not exit_zero:
            raise
        say(f"Error: {error.format_message()}")
        asked = False
    sys.exit(1 if asked and not exit_zero else 0)


def _reviewed(root: Path, base: str, form: str) -> bool:
    """Print the review; whether it asks about something."""
    new = open_for_command(root)
    with tempfile.TemporaryDirectory(prefix="notchbook-") as folder:
        try:
            revision = write_revision(root, base, Path(folder))
        except RevisionError as error:
            raise RefusalError(str(error)) from error
        old = with_prose(open_handbook(revision.root, day=new.day))
        found = review_of(old, new, revision)
    write(FORMS[form](found))
    return bool(questions(found))
