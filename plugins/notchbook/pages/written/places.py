"""Files that somebody put where a page or file is computed, among the pages by hand and among those of the theme."""

from collections.abc import Iterator
from fnmatch import fnmatch
from itertools import islice
from pathlib import Path

from notchbook.findings import Finding
from notchbook.handbook import Handbook
from notchbook.pages.addresses import Addresses, computed_addresses
from notchbook.reading.document import finding_of
from notchbook.reading.files import Refused, is_folder, relative_path, text_of, walk
from notchbook.site_reading import site_rules
from notchbook.site_reading.front_matter import front_matter
from notchbook.site_reading.pages import below, prose_folder, theme_folder

HINT = "give it another name or folder; a page of your own can show any computed value"
_MOST_FINDINGS = 100
_NOT_COPIED = (".*", "*/.*", "*.py", "*.pyc", "*.html", "*readme*", "mkdocs_theme.yml", "locales/*", "*.md")
"""Files of a theme that MkDocs does not copy: templates are code, which a review asks about."""


def in_the_way(handbook: Handbook) -> Iterator[Finding]:
    """What lies where a page or file is computed; of many some hundred."""
    addresses = Addresses.of(computed_addresses(handbook.library))
    clashes = ((path, addresses.clash(uri)) for path, uri in _others(handbook))
    for path, clash in islice(((path, clash) for path, clash in clashes if clash), _MOST_FINDINGS):
        yield finding_of(site_rules.COMPUTED_ADDRESS, relative_path(handbook.root, path), (1, 1), clash, HINT)


def _others(handbook: Handbook) -> Iterator[tuple[Path, str]]:
    """Every file that a build copies besides what is computed, with its path in the site."""
    root, settings = handbook.root, handbook.settings
    folder = prose_folder(root, settings)
    if folder is not None:
        yield from ((path, path.relative_to(folder).as_posix()) for path in below(root, folder) if not is_folder(path))
    theme = theme_folder(root, settings)
    if theme is not None:
        for path in walk(theme):
            uri = path.relative_to(theme).as_posix()
            if not is_folder(path) and not any(fnmatch(uri.lower(), each) for each in _NOT_COPIED):
                yield path, uri


def is_placeholder(path: Path) -> bool:
    """Whether a page says at its head, by `notchbook: placeholder`, that the computed one of its place is meant.

    Only a site without this engine shows it: builders that do not know a plugin pass it over without a word and build a
    site that holds no record.
    """
    text = text_of(path)
    known = {} if isinstance(text, Refused) else front_matter(text.replace("\r\n", "\n")).values
    return known.get("notchbook") == "placeholder"
