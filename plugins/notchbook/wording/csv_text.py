"""Tables as the text of a CSV file, in which no spreadsheet finds a formula; and such a text read back."""

import csv
import io
import re
import unicodedata
from collections.abc import Iterable, Mapping, Sequence

from notchbook.wording.lines import disarmed, escape

# Where a cell can begin: at the start of a field or of a line in it, and behind a semicolon, which separates cells in
# the spreadsheets of many languages, to which a quotation mark within a cell is none. A formula begins with one of
# these signs, also in full width, and some readers pass over spaces and quotation marks before it (OWASP, CSV
# Injection).
_FORMULA = r"""(?=(?:['"]|[^\S\n])*[=+@\-＝＋＠－])"""
_RISKY = re.compile(rf"(?P<start>\A|[;\n]){_FORMULA}")
_GUARDED = re.compile(rf"(?P<start>\A|[;\n])'{_FORMULA}")
_LINE_END = "\r\n"


def csv_table(names: Sequence[str], rows: Iterable[Mapping[str, object]]) -> str:
    """A table as CSV (RFC 4180): these columns of the rows, every digit, and an empty field for None."""
    return csv_rows(names, [dict(zip(names, names, strict=True))]) + csv_rows(names, rows)


def csv_rows(names: Sequence[str], rows: Iterable[Mapping[str, object]]) -> str:
    """Rows of such a table, as they stand below its head."""
    text = io.StringIO()
    csv.writer(text).writerows([_field(row[name]) for name in names] for row in rows)
    return text.getvalue()


def _field(value: object) -> str:
    """A value as a field: numbers with every digit, texts without what a spreadsheet or a terminal would obey."""
    if value is None:
        return ""
    if isinstance(value, str):
        return guarded(value)
    if isinstance(value, bool):
        return str(value).lower()
    return repr(value) if isinstance(value, float) else str(value)


def guarded(text: str) -> str:
    r"""A text as a field.

    An apostrophe stands before whatever a spreadsheet could take for a formula: at the start of the text or of a line
    in it, and behind a semicolon. Control and direction characters other than line ends are written as their escapes,
    such as `\t` and `\u202e`, and so is the first sign of what a runner of pipelines would obey.
    """
    if not text.isprintable():
        text = _LINE_END.join(map(_visible, text.split(_LINE_END)))
    return disarmed(_RISKY.sub(r"\g<start>'", text))


def unguarded(field: str) -> str:
    """The text of a field without the apostrophes that `guarded` puts before formulae; escapes stay as they are."""
    return _GUARDED.sub(r"\g<start>", field)


def _visible(text: str) -> str:
    return "".join(each if _is_harmless(each) else escape(each) for each in text)


def _is_harmless(character: str) -> bool:
    return character == "\n" or character.isprintable() or unicodedata.category(character) == "Zs"
