"""A workbook as far as it is read: its XML alone, no larger and no wider than readings are.

A few bytes can hold a file of gigabytes or a cell in the last column of the last row, and whoever reads a sheet as a
rectangle would take memory for all of it. So each part is unpacked and looked through here, within bounds, and what is
handed on is packed anew.
"""

import io
import lzma
import re
import struct
import zipfile
import zlib
from collections.abc import Iterator
from typing import IO
from xml.parsers import expat

from notchbook.writing.sheets import MOST_COLUMNS, MOST_ROWS, column_letters
from notchbook.writing.trouble import Trouble, UnreadableError

LARGEST_XML_BYTES = 8 << 20
"""A workbook of fifty groups unpacks to a tenth of it; pictures are not unpacked."""
MOST_PARTS = 400
MOST_CELLS = 1_000_000
"""Of the rectangles around what all sheets hold."""
_READ_AT_ONCE = 1 << 16
_ALONE = "export the sheet with the readings alone, or save it as CSV"
_PLACE = re.compile(r"(?P<column>[A-Z]{1,3})(?P<row>[0-9]{1,7})\Z")
_DAMAGED = Trouble("", "the workbook is damaged and cannot be read", "open it in the spreadsheet and save it again")

_SIGNS_OF_DAMAGE = (
    zipfile.BadZipFile, zlib.error, expat.ExpatError, NotImplementedError, RuntimeError, EOFError, OSError, ValueError,
    struct.error, lzma.LZMAError,
)  # fmt: skip


def bounded(raw: bytes) -> bytes:
    """The same workbook with its XML alone; raises UnreadableError where it is damaged or too large."""
    kept = io.BytesIO()
    spanned = 0
    try:
        with zipfile.ZipFile(io.BytesIO(raw)) as book, zipfile.ZipFile(kept, "w") as copy:
            if len(book.infolist()) > MOST_PARTS:
                raise UnreadableError(Trouble("", f"the workbook has more than {MOST_PARTS} parts", _ALONE))
            left = LARGEST_XML_BYTES
            for each in book.infolist():
                if each.filename.endswith((".xml", ".rels")) or each.filename == "mimetype":
                    part = _unpacked(book, each, left)
                    left -= len(part)
                    if each.filename != "mimetype":
                        spanned += _spanned_cells(part)
                    copy.writestr(each.filename, part)
    except UnreadableError:
        raise
    except _SIGNS_OF_DAMAGE as error:
        raise UnreadableError(_DAMAGED) from error
    if spanned > MOST_CELLS:
        raise UnreadableError(Trouble("", f"the sheets of the workbook span more than {MOST_CELLS:,} cells", _ALONE))
    return kept.getvalue()


def _unpacked(book: zipfile.ZipFile, part: zipfile.ZipInfo, left: int) -> bytes:
    """A part of a workbook, of which no more is unpacked than there may be."""
    with book.open(part) as packed:
        found = b"".join(_pieces(packed, left))
    if len(found) > left:
        message = f"the workbook unpacks to more than {LARGEST_XML_BYTES:,} bytes, which no table of readings does"
        raise UnreadableError(Trouble("", message, _ALONE))
    return found


def _pieces(packed: IO[bytes], left: int) -> Iterator[bytes]:
    while left >= 0 and (piece := packed.read(_READ_AT_ONCE)):
        yield piece
        left -= len(piece)


class _Extent:
    """How far the cells of a part reach that hold anything, in either kind of workbook."""

    def __init__(self) -> None:
        self.rows, self.columns, self.cells = 0, 0, 0
        self._row, self._column = 0, 0
        self._row_repeats = 0

    def start(self, name: str, about: dict[str, str]) -> None:
        """Take an element, of Office Open XML (ECMA-376, 18.3.1) or of OpenDocument (1.3, part 3, 9.1)."""
        kind = name.rpartition(":")[2]
        if kind in ("worksheet", "table"):
            self.cells += self.rows * self.columns
            self.rows = self.columns = self._row = self._column = self._row_repeats = 0
        elif kind == "row":
            self._row, self._column = int(about.get("r", self._row + 1)), 0
        elif kind == "c":
            place = _PLACE.match(about.get("r", ""))
            self._column = _number(place["column"]) if place else self._column + 1
            self._row = int(place["row"]) if place else self._row
        elif kind in ("v", "is", "f"):
            self._reach(self._row, self._column)
        elif kind == "table-row":
            self._row += self._row_repeats
            self._row_repeats, self._column = int(about.get("table:number-rows-repeated", 1)), 0
        elif kind in ("table-cell", "covered-table-cell"):
            self._column += int(about.get("table:number-columns-repeated", 1))
            if any(each.rpartition(":")[2] in ("value-type", "formula") for each in about):
                self._reach(self._row + self._row_repeats, self._column)

    def _reach(self, row: int, column: int) -> None:
        self.rows, self.columns = max(self.rows, row), max(self.columns, column)
        if row > MOST_ROWS or column > MOST_COLUMNS:
            place = f"row {row:,}, column {column_letters(min(column, 1 << 20))}"
            most = f"a table of readings has at most {MOST_ROWS:,} rows and {MOST_COLUMNS} columns"
            hint = "delete what stands apart from the table"
            raise UnreadableError(Trouble("", f"a sheet of the workbook reaches to {place}; {most}", hint))


def _spanned_cells(part: bytes) -> int:
    """How many cells the rectangles around the filled cells of a part have."""
    extent = _Extent()
    parser = expat.ParserCreate()
    parser.StartElementHandler = extent.start
    parser.StartDoctypeDeclHandler = _refuse_doctype
    parser.Parse(part, True)
    return extent.cells + extent.rows * extent.columns


def _refuse_doctype(*_: object) -> None:
    """No part of a workbook declares a document type, whose entities could grow without end."""
    raise UnreadableError(_DAMAGED)


def _number(letters: str) -> int:
    """The number of a column from its letters."""
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - ord("A") + 1
    return number
