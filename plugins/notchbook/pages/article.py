"""What stands on every page around its own text, and the ids of its headings."""

import re
import unicodedata

from notchbook.handbook import Handbook
from notchbook.pages import text
from notchbook.wording.dates import day_words

_HEADING = re.compile(r'<h(?P<level>[1-6]) id="(?P<anchor>[^"]*)"')


def article(html: str, handbook: Handbook, *, by_hand: bool = False) -> str:
    """The inside of a page's article: the notice of the settings, the page itself, the day of the handbook.

    The styles of the handbook go by the class of the block around them. Where the site has another language than
    English, each part names its own, by which a screen reader chooses its voice (WCAG 2.2, 3.1.2): what is computed is
    English, and what the department wrote is in the language of its site.
    """
    settings, english = handbook.settings, ' lang="en"'
    own = f' lang="{settings.language}"'
    if settings.is_english:
        own = english = ""
    when = f'<time datetime="{handbook.day.isoformat()}">{day_words(handbook.day)}</time>'
    day = f'\n<p class="nb-build"{english if by_hand else ""} data-search-exclude>Handbook of {when}</p>\n'
    above = notice(settings.notice, "" if by_hand else own)
    return f'<div class="nb-page"{own if by_hand else english}>\n{above}{html}{day}</div>\n'


def notice(words: str, language: str = "") -> str:
    """The notice of the settings as a block of HTML, with the attribute of a language; empty where there is none."""
    return f'<p class="nb-notice"{language} role="note" data-search-exclude>{text.shown(words)}</p>\n' if words else ""


def anchor(title: str) -> str:
    """The id of a heading: its letters and digits, small and without accents, with hyphens for what lies between."""
    plain = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode("ascii")
    return re.sub(r"[-\s]+", "-", re.sub(r"[^\w\s-]", "", plain).strip().lower()) or "_1"


def with_own_ids(html: str) -> str:
    """The page with no two headings of one id: numbers go to later ones and to the page's own heading.

    That can be any title of a data file, and the ids of the parts below it are addresses that others rely on.
    """
    headings = list(_HEADING.finditer(html))
    if len({each["anchor"] for each in headings}) == len(headings):
        return html
    names: dict[int, str] = {}
    for each in sorted(headings, key=lambda heading: heading["level"] == "1"):
        name, number = each["anchor"], 0
        while name in names.values():
            number += 1
            name = f"{each['anchor']}_{number}"
        names[each.start()] = name
    return _HEADING.sub(lambda each: f'<h{each["level"]} id="{names[each.start()]}"', html)
