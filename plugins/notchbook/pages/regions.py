"""What can be wider than a page stands in a region of its own: labelled, reached by keyboard, scrolled by itself."""

import html
import re
from collections import Counter

# Headings give the labels; tables that Markdown made have no class, as those of the handbook's own pages do.
_PIECES = re.compile(
    r"<h(?P<level>[1-6])\b[^>]*>(?P<heading>.*?)</h(?P=level)>"
    r"|<table>(?P<table>.*?</table>)"
    r"|(?P<code><pre\b[^>]*>.*?</pre>)",
    re.DOTALL,
)
_TAGS = re.compile(r"<[^>]*>")
_REGION = re.compile(r'(role="region" aria-label=")([^"]*)(")')


def with_regions(page: str) -> str:
    """The HTML of a page with its Markdown tables and its code in regions, and no label on it twice.

    A region is called by what it holds and the heading above it.
    """
    heading = ""

    def region(kind: str, more: str, inner: str) -> str:
        label = html.escape(f"{kind}: {heading}" if heading else kind)
        return f'<div class="nb-scroll{more}" tabindex="0" role="region" aria-label="{label}">\n{inner}\n</div>'

    def replaced(match: re.Match[str]) -> str:
        nonlocal heading
        if match["heading"] is not None:
            heading = html.unescape(_TAGS.sub("", match["heading"])).strip()
            return match.group()
        if match["table"] is not None:
            return region("Table", "", f'<table class="nb-table">{match["table"]}')
        return region("Code", " nb-code", match["code"])

    return told_apart(_PIECES.sub(replaced, page))


def told_apart(page: str) -> str:
    """The page with numbers to regions of one label, so that a list of them tells which is which."""
    total = Counter(found[2] for found in _REGION.finditer(page))
    if len(total) == total.total():
        return page
    seen: Counter[str] = Counter()

    def numbered(match: re.Match[str]) -> str:
        before, name, after = match.groups()
        if total[name] == 1:
            return match.group()
        seen[name] += 1
        return f"{before}{name} {seen[name]}{after}"

    return _REGION.sub(numbered, page)
