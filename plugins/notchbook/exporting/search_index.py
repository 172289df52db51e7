"""What the site's own search looks through, as a script: a page that is opened from a disk can read nothing else."""

import json
import re
from collections.abc import Iterable

from notchbook.pages.finished import FinishedPage

INDEX = "search/pages.js"
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
_SPACE = re.compile(r"\s+")


def search_index(pages: Iterable[FinishedPage]) -> str:
    """Every page as `[path, title, boost, day, [[anchor, heading, text], ...]]`, a line each.

    The day is the one in the name of the page, empty where there is none; of pages that fit alike the newest is first.
    """
    lines = []
    for page in pages:
        parts = [[each.anchor, each.title, _SPACE.sub(" ", each.text)] for each in page.search]
        day = _DAY.search(page.src_uri.rpartition("/")[2])
        if parts:
            path = f"{page.src_uri.removesuffix('.md')}.html"
            entry = [path, page.title, page.boost, day[0] if day else "", parts]
            lines.append(json.dumps(entry, ensure_ascii=False, separators=(",", ":")))
    return "self.notchbookPages = [\n" + ",\n".join(lines) + "\n];\n"
