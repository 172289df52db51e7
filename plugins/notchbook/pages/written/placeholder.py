"""A page by hand that only a site without this engine shows: it says there that the computed pages are missing."""

from pathlib import Path

from notchbook.reading.files import Refused, text_of
from notchbook.site_reading.front_matter import front_matter

_KEY, _VALUE = "notchbook", "placeholder"


def is_placeholder(path: Path) -> bool:
    """Whether the page says at its head, by `notchbook: placeholder`, that the computed one of its place is meant.

    Builders that do not know a plugin pass it over without a word and build a site that holds no record.
    """
    text = text_of(path)
    return not isinstance(text, Refused) and front_matter(text.replace("\r\n", "\n")).values.get(_KEY) == _VALUE
