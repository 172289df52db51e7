"""`notchbook finish`: reading without a network, for a site that another builder made."""

from pathlib import Path

import click

from notchbook.commands.output import RefusalError, say


@click.command()
@click.argument("folder", metavar="DIR", type=click.Path(exists=True, file_okay=False, path_type=Path))
def finish(folder: Path) -> None:
    """Let a site be read without a network that another builder made of an export.

    Writes the service worker, by which phones keep the site, and where the site has the search of MkDocs its index as a
    script, by which the search works from a disk. DIR is the folder of the built site. Run it after every build.

    \b
    Exit status: 0  the site is finished
                 2  DIR is no site of a handbook, or could not be written
    """  # noqa: D301  # the mark that keeps the lines of the list apart
    from notchbook.building import finishing
    from notchbook.site_reading.site_places import is_own_site

    if not is_own_site(folder):
        raise RefusalError(f"'{folder}' is no whole site of a handbook: it has no index.html with its styles")
    for each in finishing.finish(folder):
        say(each)
    if not (folder / finishing.SEARCH_INDEX).is_file():
        say(f"there is no '{finishing.SEARCH_INDEX}': its search works only with a server")
    say(f"'{folder}' can be read without a network")
