"""The cells of a table as a spreadsheet numbers them, and which of its rows holds the heads of the columns."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from notchbook.wording.quoting import shown
from notchbook.writing.trouble import Trouble

MOST_COLUMNS = 256
MOST_ROWS = 2000
"""Twice the bars that a record can hold."""
_HEAD_WITHIN = 50
"""Rows among which the heads of the columns are looked for."""
DELIMITERS = {";": "semicolons", "\t": "tabs", ",": "commas"}
KnownHeads = Callable[[Sequence[str]], int]
"""How many of the texts of a row are heads of different columns."""


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell that is not empty."""

    row: int
    """From 1."""
    column: int
    """From 1."""
    text: str
    """Without the spaces around it."""
    sheet: str = ""
    """Name of its sheet, where the file has several."""

    @property
    def row_place(self) -> str:
        """The row as a spreadsheet names it."""
        return f"sheet {shown(self.sheet)}, row {self.row}" if self.sheet else f"row {self.row}"

    @property
    def place(self) -> str:
        """The place as a spreadsheet names it."""
        return f"{self.row_place}, column {column_letters(self.column)}"


Rows = tuple[tuple[Cell, ...], ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """The cells of a file, or of one sheet of it."""

    rows: Rows
    """The rows that hold anything, in order; their cells by column."""
    head: int | None
    """Which of the rows holds the heads of the columns."""
    delimiter: str
    """What separates the columns of a text; empty where nothing has to."""
    form: str
    """The encoding of a text, or what the file is."""
    name: str = ""
    """The name of the sheet, where it has one."""

    @property
    def comma_is_decimal(self) -> bool:
        """Whether a comma in a number can only be a decimal comma."""
        return self.delimiter != ","

    @property
    def described(self) -> str:
        """How the file was taken, for a person who wonders."""
        if not self.delimiter:
            return f"{self.form}, sheet {shown(self.name)}"
        return f"{self.form}, separated by {DELIMITERS.get(self.delimiter, shown(self.delimiter))}"


def column_letters(number: int) -> str:
    """The letters of a column, counted from 1: A to Z, then AA."""
    letters = ""
    while number > 0:
        number, place = divmod(number - 1, 26)
        letters = chr(ord("A") + place) + letters
    return letters


def head_among(rows: Rows, known_heads: KnownHeads) -> tuple[int | None, int]:
    """Which row holds the heads of the columns, and how many of them are known."""
    scores = [known_heads([cell.text for cell in row]) for row in rows[:_HEAD_WITHIN]]
    best = max(scores, default=0)
    # one word alone may also stand in a row above the table
    return (scores.index(best) if best > 1 else None), best


def too_much(number: int, columns: int, rows: int) -> Trouble | None:
    """Why a file with so many columns in this row, or so many rows up to it, is no table of readings."""
    if columns > MOST_COLUMNS:
        message = f"the row has {columns:,} columns; a table of readings has at most {MOST_COLUMNS}"
        return Trouble(f"row {number}", message, "delete the columns to the right of the table")
    if rows > MOST_ROWS:
        message = f"the table has more than {MOST_ROWS:,} rows"
        return Trouble(f"row {number}", message, "a record holds the bars of one day; split it")
    return None
