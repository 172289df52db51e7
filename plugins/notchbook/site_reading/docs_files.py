"""Files that lie among the hand-written pages and are published as they are: whether one acts on its reader.

By its name where a host gives browsers the kind of a file by its ending, and by its first bytes where a browser looks
for itself.
"""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from notchbook.findings import Finding
from notchbook.reading.document import MOST_FINDINGS, finding_of
from notchbook.reading.files import first_bytes, relative_path
from notchbook.site_reading import site_rules

# Endings of what a browser opens as a page, or a host as a program; common practice, no source.
_PAGES = frozenset(
    ["asp", "aspx", "atom", "cgi", "hta", "htc", "htm", "html", "jsp", "mathml", "mht", "mhtml", "php", "phtml", "rdf",
     "rss", "shtm", "shtml", "swf", "xht", "xhtml", "xml", "xsl", "xslt"]
)  # fmt: skip
_SCRIPTS = frozenset({"js", "mjs", "cjs", "wasm"})
_FOR_HOSTS = frozenset({"_headers", "_redirects", "web.config", ".htaccess"})
_PLAIN_TEXT = frozenset(
    ["bib", "csv", "ini", "ipynb", "json", "log", "m", "md", "py", "r", "tex", "toml", "tsv", "txt", "yaml", "yml"]
)
"""Shown as text or saved, whatever stands in it."""
_LOOKED_AT = 1_445
"""MIME Sniffing Standard, 5.2: bytes of a resource header."""
# MIME Sniffing Standard, 7.1: what makes an unknown file a page of HTML or XML.
_LEADING = re.compile(rb"[\t\n\f\r ]*(?:\xef\xbb\xbf|\xff\xfe|\xfe\xff)?[\t\n\f\r ]*")
_BEGINS_PAGE = re.compile(
    rb"<(?:!doctype html|html|head|script|iframe|h1|div|font|table|a|style|title|b|body|br|p)[ >]|<!--|<\?xml|<svg",
    re.IGNORECASE,
)
_PAGE_HINT = "write it as a page in Markdown, or put it into a .zip for readers to save"


def docs_file_findings(root: Path, folder: Path, path: Path, named: frozenset[str]) -> Iterator[Finding]:
    """What is wrong with publishing a file in the folder of the pages as it is.

    Scripts may be those alone that mkdocs.yml names, relative to the folder.
    """

    def refused(message: str, hint: str, place: tuple[int, int] = (1, 1)) -> Finding:
        return finding_of(site_rules.DOCS_FILE, relative_path(root, path), place, message, hint)

    name = path.name.lower()
    endings = name.split(".")[1:]
    ending = endings[-1] if endings else ""
    active = next((each for each in endings if each in _PAGES), None)
    if name in _FOR_HOSTS:
        yield refused("tells a host how to serve the site", "let the pipeline that publishes the site put it there")
    elif active is not None:
        yield refused(f"is opened as a page of its own, by its ending .{active}", _PAGE_HINT)
    elif ending in _SCRIPTS:
        if path.relative_to(folder).as_posix() not in named:
            hint = "name it in mkdocs.yml under extra_javascript, or take it out"
            yield refused("is a script that mkdocs.yml does not name", hint)
    elif ending == "svgz":
        yield refused("is a drawing that cannot be looked at while it is compressed", "save it as .svg")
    elif ending == "svg":
        # the sanitiser hangs on it, and many handbooks have no drawing of their own
        from notchbook.site_reading.svg import LARGEST_DRAWING, drawing_troubles

        raw = first_bytes(path, LARGEST_DRAWING + 1)
        for trouble in list(drawing_troubles(raw))[:MOST_FINDINGS]:
            yield refused(trouble.message, trouble.hint, trouble.place)
    elif ending not in _PLAIN_TEXT and _is_page(first_bytes(path, _LOOKED_AT)):
        yield refused("holds HTML or XML, which its name does not say", _PAGE_HINT)


def named_scripts(values: dict[Any, Any]) -> frozenset[str]:
    """What mkdocs.yml names as scripts of the site."""
    listed = values.get("extra_javascript")
    given = listed if isinstance(listed, list) else []
    entries = [each.get("path") if isinstance(each, dict) else each for each in given]
    return frozenset(each.removeprefix("./") for each in entries if isinstance(each, str))


def _is_page(raw: bytes) -> bool:
    text = raw[_LEADING.match(raw).end() :]  # type: ignore[union-attr]  # which matches nothing too
    # of UTF-16 every other byte
    return any(_BEGINS_PAGE.match(each + b" ") is not None for each in (text, text[::2], text[1::2]))
