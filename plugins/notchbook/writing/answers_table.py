"""A table of what groups worked out, text or workbook, to its rows, or to all that stands in the way."""

from collections.abc import Sequence
from dataclasses import dataclass

from notchbook.wording.lists import listed
from notchbook.writing.csv_readings import read_sheet
from notchbook.writing.sheets import Sheet
from notchbook.writing.trouble import Trouble, UnreadableError
from notchbook.writing.workbook_readings import is_workbook, read_workbook

HEADS = ("record", "specimen", "breaks", "quantity", "value")
_NEEDED = ("record", "quantity", "value")


@dataclass(frozen=True, slots=True)
class AnswerRow:
    """One row: texts as they stand in the cells, empty where a cell is."""

    place: str
    """Of the row, as a spreadsheet names it."""
    record: str
    specimen: str
    breaks: str
    quantity: str
    value: str
    """Its digits count."""


def read_answers(raw: bytes) -> tuple[list[AnswerRow], list[Trouble]]:
    """The rows of a table of answers, and what cannot be used of it.

    Raises UnreadableError where the file is no table at all.
    """
    sheets = read_workbook(raw, _known_heads)[0] if is_workbook(raw) else [read_sheet(raw, _known_heads)]
    rows: list[AnswerRow] = []
    troubles: list[Trouble] = []
    for sheet in sheets:
        _read(sheet, rows, troubles)
    return rows, troubles


def _known_heads(texts: Sequence[str]) -> int:
    return len({each.casefold() for each in texts} & set(HEADS))


def _read(sheet: Sheet, rows: list[AnswerRow], troubles: list[Trouble]) -> None:
    head = sheet.rows[sheet.head] if sheet.head is not None else ()
    columns = {cell.text.casefold(): cell.column for cell in head}
    missing = [each for each in _NEEDED if each not in columns]
    if missing:
        place = head[0].row_place if head else ""
        hint = f"write {','.join(HEADS)} above the columns"
        raise UnreadableError(Trouble(place, f"the table has no column {listed(missing)}", hint))
    for row in sheet.rows[(sheet.head or 0) + 1 :]:
        cells = {cell.column: cell.text for cell in row}
        texts = {name: cells.get(columns.get(name, 0), "") for name in HEADS}
        lacking = [each for each in _NEEDED if not texts[each]]
        if lacking:
            troubles.append(Trouble(row[0].row_place, f"the row has no {listed(lacking)}", "fill it in, or delete it"))
        else:
            rows.append(AnswerRow(row[0].row_place, **texts))
