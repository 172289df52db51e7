"""`notchbook export`: the pages for other builders, or a site that needs none."""

import sys
from pathlib import Path

import click

from notchbook.commands.opening import open_for_command, root_option
from notchbook.commands.output import NOTHING_DONE, RefusalError, say
from notchbook.findings import Severity, summary
from notchbook.handbook import Handbook
from notchbook.site_reading.inherited import absolute
from notchbook.site_reading.site_config import SiteConfig, config_path, read_site_config


@click.command()
@click.argument("folder", metavar="DIR", type=click.Path(path_type=Path))
@root_option
@click.option("--html", "as_site", is_flag=True, help="A complete site in DIR that needs no builder and no theme.")
def export(folder: Path, root: Path, *, as_site: bool) -> None:
    """Write the pages of the handbook to DIR, for other builders or as a site.

    Without --html, DIR/docs holds every page as Markdown that any builder shows alike, with data, styles and scripts;
    DIR/mkdocs.yml and DIR/zensical.toml build it without the plugin of Notchbook. DIR/pages.json lists all pages and
    the navigation. DIR is written as a whole or not at all. It has to be missing, empty or an earlier export.

    \b
    Exit status: 0  everything was written
                 1  the handbook has errors; nothing was written
                 2  nothing could be written
    """  # noqa: D301  # the mark that keeps the lines of the list apart
    handbook = open_for_command(root)
    errors = [each for each in handbook.findings if each.severity is Severity.ERROR]
    if errors:
        for error in errors:
            say(str(error))
        say(f"Nothing was written: {summary(handbook.findings, handbook.files)}")
        sys.exit(1)
    _write(handbook, read_site_config(config_path(root)), folder, as_site=as_site)


def _write(handbook: Handbook, config: SiteConfig, folder: Path, *, as_site: bool) -> None:
    # charts and Markdown hang on it, and a refusal needs neither
    from notchbook.exporting.place import export_trouble
    from notchbook.exporting.site_settings import theme_findings

    trouble = export_trouble(config, handbook.settings, absolute(folder))
    if trouble:
        raise RefusalError(f"'{folder}' {trouble}; name a folder for the export alone, or empty this one yourself")
    found = list(theme_findings(config, is_used=not as_site))
    if found:
        for finding in found:
            say(str(finding))
        say("Nothing was written")
        sys.exit(NOTHING_DONE)
    from notchbook.building.staging import StagingError
    from notchbook.exporting.content import gather
    from notchbook.exporting.writing import write_site, write_tree
    from notchbook.pages.written.written_pages import MarkupError

    chosen = config.values.get("use_directory_urls", True) is not False
    try:
        content = gather(handbook, config, directory_urls=chosen and not as_site)
        told = (write_site if as_site else write_tree)(content, folder, say)
    except (StagingError, MarkupError) as error:
        raise RefusalError(str(error)) from error
    for each in told:
        say(each)
    for each in content.left_out:
        say(f"Left out, because it belongs to the builder of the handbook's own site: {each}")
    say(f"{len(content.site.pages)} pages are in '{folder}'")
