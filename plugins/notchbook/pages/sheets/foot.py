"""What stands at the foot of every printed sheet, as a style file: the site, the day of the build, the page number."""

import datetime as dt
import re

from notchbook.wording.dates import day_words
from notchbook.wording.lines import one_line

URI = "assets/sheet-foot.css"
_LONGEST = 90
"""Characters of a name or address that one line of a sheet holds beside the day and the number."""
_NOT_PLAIN = re.compile(r"[^A-Za-z0-9 .,:/-]")


def sheet_foot(site_name: str, site_url: str, day: dt.date) -> str:
    """Margin boxes (CSS Paged Media, 5) for all sheets; a browser without them passes them over.

    Arguments:
        site_name: shown where the site has no address.
        site_url: address of the site; empty where none is set.
        day: the day of the build.
    """
    site = one_line(site_url or site_name).strip()
    shown = site if len(site) <= _LONGEST else f"{site[: _LONGEST - 1]}…"
    look = "font: 7pt sans-serif; color: #333; vertical-align: top; padding-top: 2mm;"
    left = css_string(f"{shown}  ·  state of {day_words(day)}" if shown else f"State of {day_words(day)}")
    return (
        "/* At the foot of each printed sheet. */\n\n"
        "@page {\n"
        f"  @bottom-left {{ content: {left}; {look} }}\n"
        f'  @bottom-right {{ content: "Sheet " counter(page) " of " counter(pages); {look} }}\n'
        "}\n"
    )


def css_string(value: str) -> str:
    """Any text as a string of CSS: what is not a plain character stands as its number (CSS Syntax, 4.3.7)."""
    return '"' + _NOT_PLAIN.sub(lambda found: f"\\{ord(found.group()):x} ", value) + '"'
