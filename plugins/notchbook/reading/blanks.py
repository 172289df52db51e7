"""What is still to fill in: places of a file or page that say so, and files that are blanks as a whole."""

import re
from collections.abc import Iterator
from itertools import islice

from notchbook.findings import Finding
from notchbook.reading import rules
from notchbook.reading.document import MOST_FINDINGS, finding_of
from notchbook.reading.nodes import place_at

MARK = "to fill in:"
"""In a remark or a text, before what is asked for."""
BLANK = "# blank:"
"""Begins the first line of a file that is left out until it is filled in."""
_TOLD = re.compile(r"[Tt]o fill in:[ \t]*(?P<words>(?:(?![Tt]o fill in:)[^\n|])*)")


def blank_finding(path: str, text: str) -> Finding | None:
    """What a file says that is a blank as a whole; None for any other."""
    if not text.startswith(BLANK):
        return None
    words = text[len(BLANK) :].partition("\n")[0].strip()
    hint = "fill it in, name it by its own date and subject, and take its first line away"
    return finding_of(rules.TO_FILL_IN, path, (1, 1), f"{MARK} {words}; it is left out until then", hint)


def to_fill_in(path: str, text: str) -> Iterator[Finding]:
    """Each place that is still to fill in."""
    for found in islice(_TOLD.finditer(text), MOST_FINDINGS):
        words = found["words"].rstrip(" \"'}]") or "what stands here"
        hint = f"put right what stands there, and take the words '{MARK}' away"
        yield finding_of(rules.TO_FILL_IN, path, place_at(text, found.start()), f"{MARK} {words}", hint)
