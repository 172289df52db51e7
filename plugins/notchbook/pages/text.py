"""Foreign text and our own marks as HTML."""

from __future__ import annotations

import html
import json
import re
from typing import TYPE_CHECKING

from markupsafe import Markup

from notchbook.wording.dates import day_words
from notchbook.wording.lines import one_line

if TYPE_CHECKING:
    import datetime as dt

# Characters that mean something to HTML, and to Markdown, its extensions or an attribute list even inside HTML.
_ACTIVE = re.compile(r"""[&<>"'`{}\[\]$*_~\\^=:|#!+]""")


def shown(value: object) -> object:
    """Foreign text as text and nothing else; markup of our own and numbers as they are."""
    if not isinstance(value, str) or isinstance(value, Markup):
        return value
    return Markup(_ACTIVE.sub(_entity, one_line(value)))  # noqa: S704  # escaped here


def _entity(match: re.Match[str]) -> str:
    return f"&#{ord(match.group())};"


def in_heading(value: str) -> Markup:
    """Foreign text inside a line of Markdown."""
    return Markup("".join(c if c.isalnum() or c == " " else f"&#{ord(c)};" for c in one_line(value)))  # noqa: S704


def in_front_matter(value: str) -> Markup:
    """Foreign text as a quoted value of a page's front matter, safe in the themes that do not escape titles."""
    # characters as they are: YAML reads JSON's escapes of those beyond U+FFFF as two halves
    return Markup(json.dumps(html.escape(one_line(value)), ensure_ascii=False))  # noqa: S704  # escaped


def symbol(value: str) -> Markup:
    """A symbol with its index lowered: `a_cN`."""
    stem, _, index = (shown(part) for part in value.partition("_"))
    return Markup("<i>{}</i><sub>{}</sub>").format(stem, index) if index else Markup("<i>{}</i>").format(stem)


def build_day(date: dt.date) -> str:
    """The day of the build as a line of HTML at the end of every page."""
    when = f'<time datetime="{date.isoformat()}">{day_words(date)}</time>'
    return f'\n<p class="nb-build" data-search-exclude>Handbook of {when}</p>\n'


def notice(words: str) -> str:
    """The notice of the settings as a block of HTML, empty where there is none."""
    return f'<p class="nb-notice" role="note" data-search-exclude>{shown(words)}</p>\n' if words else ""
