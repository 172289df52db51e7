"""`notchbook serve`: a preview of the website that follows changes, as MkDocs shows it."""

import sys
from pathlib import Path

import click

from notchbook.commands.opening import root_option


@click.command()
@root_option
@click.option("--address", metavar="HOST:PORT", help="Where to show it.  [default: 127.0.0.1:8000]")
@click.option("--open", "in_browser", is_flag=True, help="Open a browser too.")
def serve(root: Path, address: str | None, *, in_browser: bool) -> None:
    """Show the website on this computer and follow changes, until it is stopped with Ctrl and C.

    The same as `mkdocs serve`, also where there is no `mkdocs` to be typed.

    \b
    Exit status: 0  it was stopped by whoever started it
                 1  at least one error when it began
                 2  there is no handbook, or none that a site is made of
    """  # noqa: D301  # the mark that keeps the lines of the list apart
    from notchbook.commands.builder import run_builder

    options = ["--dev-addr", address] if address is not None else []
    sys.exit(run_builder(root, "serve", [*options, *(["--open"] if in_browser else [])]))
