"""`notchbook site`: the website, as MkDocs builds it."""

import sys
from pathlib import Path

import click

from notchbook.commands.opening import root_option
from notchbook.site_reading.inherited import absolute


@click.command()
@root_option
@click.option(
    "--site-dir", metavar="DIR", type=click.Path(path_type=Path), help="Folder to write.  [default: as in mkdocs.yml]"
)
@click.option("--strict/--no-strict", default=True, show_default=True, help="Stop at warnings too.")
def site(root: Path, site_dir: Path | None, *, strict: bool) -> None:
    """Check the handbook and build its website.

    The same as `mkdocs build --strict`, also where there is no `mkdocs` to be typed, and with a folder `docs` made
    where there is none. The new site takes the place of the old one when it is whole; where something is wrong, the old
    one stays as it was.

    \b
    Exit status: 0  the site is built
                 1  at least one error, or a warning that stops a strict build; nothing was built
                 2  there is no handbook, or none that a site is made of
    """  # noqa: D301  # the mark that keeps the lines of the list apart
    from notchbook.commands.builder import run_builder

    options = ["--strict"] if strict else ["--no-strict"]
    options += ["--site-dir", str(absolute(site_dir))] if site_dir is not None else []
    sys.exit(run_builder(root, "build", options))
