"""The bytes of a CSV file to cells with their rows and columns, as the spreadsheet that wrote it numbers them.

RFC 4180, and what spreadsheets do besides: other separators, a first line `sep=;`, other encodings than UTF-8.
"""

import codecs
import csv
import io
import re

from notchbook.wording.csv_text import unguarded
from notchbook.writing.sheets import DELIMITERS, MOST_COLUMNS, Cell, KnownHeads, Rows, Sheet, head_among, too_much
from notchbook.writing.trouble import Trouble, UnreadableError

LARGEST_BYTES = 1 << 20
"""A table of a thousand bars needs a tenth of it."""
_SEPARATOR_LINE = re.compile(r'\A"?sep=(?P<delimiter>[^"\r\n])"?(?:\r\n|\r|\n|\Z)', re.IGNORECASE)
_SAVE_AS = "in the spreadsheet choose to save as CSV, in UTF-8"
_BYTE_ORDER_MARKS = (
    (codecs.BOM_UTF8, "utf-8", "UTF-8"),
    (codecs.BOM_UTF16_LE, "utf-16-le", "UTF-16"),
    (codecs.BOM_UTF16_BE, "utf-16-be", "UTF-16"),
)


def read_sheet(raw: bytes, known_heads: KnownHeads) -> Sheet:
    """The cells of a file, separated by what makes most texts of a row known as heads of different columns.

    Raises UnreadableError where the file is no table of text, and why.
    """
    text, encoding = decoded(raw)
    named = _SEPARATOR_LINE.match(text)
    if named:
        text = text[named.end() :]
    candidates = [named["delimiter"]] if named else list(DELIMITERS)
    tried = []
    for delimiter in candidates:
        rows, widest, trouble = _rows(text, delimiter)
        head, best = head_among(rows, known_heads)
        tried.append(((best, widest), Sheet(rows, head, delimiter, encoding), trouble))
    _, sheet, trouble = max(tried, key=lambda each: each[0])
    if trouble:
        raise UnreadableError(trouble)
    if any(not each.rows and not why for _, each, why in tried):
        # what looks like cells otherwise is nothing but separators
        raise UnreadableError(Trouble("", "the file holds no cells", "export the sheet with the readings"))
    return sheet


def decoded(raw: bytes) -> tuple[str, str]:
    """The text of a file and the name of its encoding; raises UnreadableError."""
    if len(raw) > LARGEST_BYTES:
        message = f"the file has more than {LARGEST_BYTES:,} bytes, which no table of readings has"
        raise UnreadableError(Trouble("", message, "export the sheet with the readings alone"))
    for mark, codec, name in _BYTE_ORDER_MARKS:
        if raw.startswith(mark):
            return _decoded(raw[len(mark) :], codec, name), name
    if b"\x00" in raw:
        return _without_mark(raw), "UTF-16"
    try:
        return raw.decode("utf-8"), "UTF-8"
    except UnicodeDecodeError:
        return _decoded(raw, "cp1252", "Windows-1252"), "Windows-1252"


def _without_mark(raw: bytes) -> str:
    """UTF-16 of which the mark was lost: every second byte of plain letters is NUL."""
    for codec, zeros in (("utf-16-le", raw[1::2]), ("utf-16-be", raw[0::2])):
        if len(raw) % 2 == 0 and zeros.count(0) > len(zeros) // 2:
            return _decoded(raw, codec, "UTF-16")
    line = raw.count(b"\n", 0, raw.index(b"\x00")) + 1
    raise UnreadableError(Trouble(f"line {line}", "the file holds a NUL byte, so it is no text", _SAVE_AS))


def _decoded(raw: bytes, codec: str, name: str) -> str:
    try:
        text = raw.decode(codec)
    except UnicodeDecodeError as error:
        line = error.object[: error.start].decode(codec, "replace").count("\n") + 1
        byte = f"0x{error.object[error.start]:02x}"
        unless = " and not UTF-8" if codec == "cp1252" else ""
        message = f"the byte {byte} is no character in {name}{unless}; the file cannot be decoded"
        raise UnreadableError(Trouble(f"line {line}", message, _SAVE_AS)) from error
    if "\x00" in text:
        line = text.count("\n", 0, text.index("\x00")) + 1
        raise UnreadableError(Trouble(f"line {line}", "the file holds a NUL character, so it is no text", _SAVE_AS))
    return text


def _rows(text: str, delimiter: str) -> tuple[Rows, int, Trouble | None]:
    """The rows that hold anything, the columns of the widest, and why the file cannot be read further."""
    found: list[tuple[Cell, ...]] = []
    number, widest = 0, 0
    trouble = None
    rows = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    try:
        for number, row in enumerate(rows, start=1):
            widest = max(widest, len(row))
            # without the apostrophe that a table gives to what would be run as a formula
            texts = [unguarded(each.strip()).strip() for each in row[:MOST_COLUMNS]]
            kept = tuple(Cell(number, column, text) for column, text in enumerate(texts, start=1) if text)
            if kept:
                found.append(kept)
            trouble = too_much(number, len(row), len(found))
            if trouble:
                break
    except csv.Error as error:
        message = f"the row cannot be split into cells: {error}"
        hint = "look for a quotation mark that is not closed, or has text behind it"
        trouble = Trouble(f"row {number + 1}", message, hint)
    return tuple(found), widest, trouble
