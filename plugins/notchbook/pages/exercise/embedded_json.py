"""Data inside a page, as JSON."""

from __future__ import annotations

import json
import re

from markupsafe import Markup

# A page's text is read by Markdown, its extensions and templates before a browser sees it: what may mean something to
# one of them stands in the texts of the data as its code point. Backslashes and quotes are escaped by JSON before.
_TEXT = re.compile(r'"(?:[^"\\]|\\.)*"')
_ACTIVE = re.compile(r"""[<>&'`{}\[\]$*~^=:|#!+@]""")


def embedded(data: object) -> Markup:
    """Data as JSON on one line that neither HTML nor Markdown nor a template takes for anything else."""
    text = json.dumps(data, ensure_ascii=True, allow_nan=False, separators=(",", ":"))
    return Markup(_TEXT.sub(lambda match: _ACTIVE.sub(_code_point, match.group()), text))  # noqa: S704  # escaped here


def _code_point(match: re.Match[str]) -> str:
    return f"\\u{ord(match.group()):04x}"
