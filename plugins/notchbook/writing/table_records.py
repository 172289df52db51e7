"""The rows of a table to the records that they are of: one, or several of other groups, days, settings or materials."""

from collections.abc import Container, Sequence
from dataclasses import dataclass, field, replace

from notchbook.wording.quoting import shown
from notchbook.writing.fields import FIELDS, Field, Keys
from notchbook.writing.heads import UNIT_WORDS, is_other_unit, unit_of, words_of
from notchbook.writing.sheets import Cell, Sheet
from notchbook.writing.table_columns import BY_KEY, OWN, columns_of, place_of
from notchbook.writing.table_row import NOTHING
from notchbook.writing.trouble import Trouble

MOST_RECORDS = 50
"""More groups than any course has at a bench in a term."""
_APART = ("date", "group", "exercise", "rig", "hammer", "material", "batch")
"""What tells the records of a table apart."""
_SUMMARIES = frozenset({
    "mean", "mean value", "average", "avg", "median", "min", "minimum", "max", "maximum", "range", "sum", "total",
    "count", "n", "s", "sd", "std", "stdev", "std dev", "standard deviation", "cv", "variation",
    "coefficient of variation", "mw", "x̄",
})  # fmt: skip
"""What stands before a row that sums up the others, in small letters."""


@dataclass(slots=True)
class TableRecords:
    """What the rows of a table are of."""

    sheets: list[Sheet] = field(default_factory=list)
    """The table of each record: what stands above the heads, the heads, and its rows."""
    troubles: list[Trouble] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)
    """Which rows were left out."""


def common_columns(sheet: Sheet, skipped: Sequence[str]) -> list[tuple[Field, Cell, list[Cell]]]:
    """The columns that hold what all bars of a record share: what it is, its head, and its cells."""
    if sheet.head is None:
        return []
    below = sheet.rows[sheet.head + 1 :]
    by_key, _ = columns_of(sheet.rows[sheet.head], skipped, {cell.column for row in below for cell in row})
    return [
        (each, head, [cell for row in below for cell in row if cell.column == head.column and cell.text not in NOTHING])
        for each in FIELDS
        if each.keys[-1] not in OWN and (head := by_key.get(".".join(each.keys)))
    ]


def records_in(sheet: Sheet, skipped: Sequence[str], given: Container[Keys], found: TableRecords) -> None:
    """Find the tables of the records in a table; what was given for all of it by options tells none apart.

    A cell that is left empty below a group, a day or another of what tells records apart holds what stands above it,
    as cells that were joined do. Rows of units and rows that sum up others are of none.
    """
    if sheet.head is None:
        found.sheets.append(sheet)
        return
    heads, below = sheet.rows[sheet.head], sheet.rows[sheet.head + 1 :]
    filled = {cell.column for row in below for cell in row}
    by_key, _ = columns_of(heads, skipped, filled)
    keys = {head.column: key for key, head in by_key.items()}
    apart = [key for key in _APART if (key,) not in given and key in by_key]
    held: dict[str, str] = {}
    rows: dict[tuple[str, ...], list[tuple[Cell, ...]]] = {}
    for row in below:
        cells = {keys[cell.column]: cell for cell in row if cell.column in keys}
        if _is_no_bar(row, cells, by_key, found):
            continue
        held |= {key: words_of(cells[key].text) for key in apart if key in cells}
        for key in apart:
            head = by_key[key]
            if key not in held and head.column in filled:
                message = "nothing stands here, and nothing above that it could hold too"
                place = place_of(replace(row[0], column=head.column), head)
                found.troubles.append(Trouble(place, message, "fill it in"))
                held[key] = next(words_of(cell.text) for each in below for cell in each if cell.column == head.column)
        rows.setdefault(tuple(held.get(key, "") for key in apart), []).append(row)
    above = sheet.rows[: sheet.head + 1]
    found.sheets += [replace(sheet, rows=(*above, *each)) for each in rows.values()] or [replace(sheet, rows=above)]


def _is_no_bar(row: Sequence[Cell], cells: dict[str, Cell], heads: dict[str, Cell], found: TableRecords) -> bool:
    """Whether a row is one that a spreadsheet puts among those of bars, which is told."""
    numbers = {key: cell for key, cell in cells.items() if BY_KEY[key].unit}
    units = {key: cell.text.strip("()[]") for key, cell in numbers.items()}
    if units and all(unit_of(text) or is_other_unit(text) for text in units.values()):
        for key, text in units.items():
            expected = BY_KEY[key].unit
            if unit_of(text) != expected:
                message = f"{shown(text)} is not the unit of this column (expected: {UNIT_WORDS[expected]})"
                hint = f"convert the column to {UNIT_WORDS[expected]} in the spreadsheet, and change its unit"
                found.troubles.append(Trouble(place_of(cells[key], heads[key]), message, hint))
        return True
    name = next((cell for cell in row if cell not in numbers.values() and words_of(cell.text) in _SUMMARIES), None)
    if name is None or "break" in cells:
        return False
    if len(words_of(name.text)) > 1:
        found.remarks.append(f"{name.row_place} {shown(name.text)} sums up other rows and is left out")
    else:
        message = f"{shown(name.text)} may sum up other rows, or be the mark of a bar without a break type"
        found.troubles.append(Trouble(name.row_place, message, "delete the row, or fill in how the bar broke"))
    return True
