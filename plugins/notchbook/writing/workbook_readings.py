"""The bytes of a workbook, Office Open XML or OpenDocument, to the cells of its sheets."""

import datetime as dt
import io
from collections.abc import Sequence

from notchbook.wording.quoting import shown
from notchbook.writing.sheets import Cell, KnownHeads, Rows, Sheet, head_among
from notchbook.writing.trouble import Trouble, UnreadableError
from notchbook.writing.workbook_bounds import bounded

MOST_SHEETS = 60
_ZIP, _OLE = b"PK\x03\x04", b"\xd0\xcf\x11\xe0"
_DIGITS = 15
"""Significant figures that spreadsheets show of a number; the rest is of its binary form."""


def is_workbook(raw: bytes) -> bool:
    """Whether a file is a workbook, of any kind, and no text."""
    return raw.startswith((_ZIP, _OLE))


def read_workbook(raw: bytes, known_heads: KnownHeads) -> tuple[list[Sheet], list[str]]:
    """The sheets of a workbook that hold a table, or its first one where none does, and which were passed over.

    Raises UnreadableError where the file is no such workbook, or larger than any with readings.
    """
    if raw.startswith(_OLE):
        message = "the file is an old workbook (.xls), or has a password"
        raise UnreadableError(Trouble("", message, "save it as .xlsx or .ods without a password"))
    found, remarks = [], []
    for name, rows in _sheets(bounded(raw)):
        head, _ = head_among(rows, known_heads)
        found.append(Sheet(rows, head, "", "workbook", name))
    if not any(each.rows for each in found):
        raise UnreadableError(Trouble("", "the workbook holds no cells", "save the sheet with the readings"))
    tables = [each for each in found if each.head is not None]
    if tables:
        remarks = [
            f"sheet {shown(each.name)} holds no heads of a table and is not read"
            for each in found
            if each.rows and each.head is None
        ]
    return tables or found[:1], remarks


def _sheets(book: bytes) -> list[tuple[str, Rows]]:
    """The names and rows of the sheets that are not hidden; places name the sheet where there are several."""
    # loaded for a workbook alone
    import python_calamine as calamine

    try:
        with calamine.load_workbook(io.BytesIO(book)) as workbook:
            names = [
                each.name
                for each in workbook.sheets_metadata
                if each.typ == calamine.SheetTypeEnum.WorkSheet and each.visible == calamine.SheetVisibleEnum.Visible
            ]
            if len(names) > MOST_SHEETS:
                message = f"the workbook has {len(names):,} sheets; at most {MOST_SHEETS} are read"
                raise UnreadableError(Trouble("", message, "split it"))
            sheets = {name: workbook.get_sheet_by_name(name).to_python(skip_empty_area=False) for name in names}
            several = sum(map(bool, sheets.values())) > 1
            return [(name, _rows(values, name if several else "")) for name, values in sheets.items()]
    except calamine.PasswordError as error:
        raise UnreadableError(Trouble("", "the workbook has a password", "save it without one")) from error
    except calamine.CalamineError as error:
        hint = "open it in the spreadsheet and save it again as .xlsx or .ods"
        raise UnreadableError(Trouble("", "the file is no workbook that can be read", hint)) from error


def _rows(values: Sequence[Sequence[object]], sheet: str) -> Rows:
    """The rows that hold anything."""
    found = []
    for number, row in enumerate(values, start=1):
        texts = [_text(each) for each in row]
        cells = tuple(Cell(number, column, text, sheet) for column, text in enumerate(texts, start=1) if text)
        if cells:
            found.append(cells)
    return tuple(found)


def _text(value: object) -> str:
    """The text of a cell: a number with the figures that it is shown with at most, a day as one of ISO 8601."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, float):
        return f"{value:.{_DIGITS}g}"
    if isinstance(value, dt.datetime):
        return value.isoformat(sep=" ")
    return str(value).strip()
