"""The rows of a table to bars, a row a bar, and the whole table to the values of a test record."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from notchbook.model.procedure import SpecimenChoice
from notchbook.wording.lists import counted
from notchbook.wording.quoting import shown
from notchbook.wording.yaml_text import Figure
from notchbook.writing.bars import ANGLE, ENERGY, READINGS, BarForm
from notchbook.writing.csv_columns import BY_KEY, columns_of, place_of
from notchbook.writing.csv_readings import Cell, Sheet
from notchbook.writing.csv_row import DIMENSIONS, Row
from notchbook.writing.draft import Draft, draft_of
from notchbook.writing.given import Common
from notchbook.writing.heads import is_other_unit, unit_of, words_of
from notchbook.writing.trouble import Trouble

MOST_BARS = 1000
"""The contract's limit of a record."""
_TELLS_A_BAR = frozenset({*DIMENSIONS, *READINGS, "break"})
_SUMMARIES = frozenset({
    "mean", "mean value", "average", "avg", "median", "min", "minimum", "max", "maximum", "range", "sum", "total",
    "count", "n", "s", "sd", "std", "stdev", "std dev", "standard deviation", "cv", "variation",
    "coefficient of variation",
})  # fmt: skip
"""What stands before a row that sums up the others, in small letters."""
_SENTENCE_ENDS = (".", "!", "?")


@dataclass(slots=True)
class Bars:
    """The bars of a table, and what is wrong with it."""

    specimens: list[dict[str, Any]] = field(default_factory=list)
    reported: dict[str, dict[str, Figure]] = field(default_factory=dict)
    """What the group worked out, by the ids of the bars."""
    notes: list[str] = field(default_factory=list)
    """Remarks on bars, a sentence each."""
    places: dict[tuple[str | int, ...], str] = field(default_factory=dict)
    """Where each value was given, by its keys in the record."""
    ids: dict[str, str] = field(default_factory=dict)
    """Where the id of each bar stands."""
    troubles: list[Trouble] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)
    """What is worth a look and no trouble."""


def bars_of(sheet: Sheet, form: BarForm, skipped: Sequence[str] = ()) -> Bars:
    """The bars below the heads of a table; columns whose head or letters are skipped are not looked at."""
    bars = Bars()
    if sheet.head is None:
        titles = ", ".join(BY_KEY[key].title for key in form.keys)
        message = "no row was found that holds the heads of the columns"
        bars.troubles.append(Trouble("", message, f"put one above the readings: {titles}"))
        return bars
    heads, below = sheet.rows[sheet.head], sheet.rows[sheet.head + 1 :]
    filled = {cell.column for row in below for cell in row}
    found, bars.troubles = columns_of(heads, skipped, filled)
    by_key = {column.key: cell for column, cell in found.values()}
    bars.troubles += _missing_columns(form, by_key)
    bars.troubles += _headless(below, {cell.column for cell in heads})
    remaining = by_key.get("remaining_width_mm")
    if form.notched is False and remaining is not None and remaining.column in filled:
        message = "the bars of this exercise have no notch, so nothing remains under one"
        hint = "see that the exercise is the one that was done, or leave the column out with --skip"
        bars.troubles.append(Trouble(place_of(remaining, remaining), message, hint))
    for cells in below:
        known = {found[cell.column][0].key: cell for cell in cells if cell.column in found}
        row = Row(cells[0].row, known, by_key, sheet.comma_is_decimal)
        no_bar = _no_bar(row)
        if no_bar:
            bars.troubles.append(Trouble(f"row {row.number}", *no_bar))
        elif _TELLS_A_BAR & known.keys():
            row.read(form)
            _add(bars, row)
        elif known:
            message = f"the row holds no readings of a bar: {shown(cells[0].text)}"
            hint = "delete it, or fill it in; every row below the heads is one bar"
            bars.troubles.append(Trouble(f"row {row.number}", message, hint))
    _count(bars, form)
    return bars


def _no_bar(row: Row) -> tuple[str, str] | None:
    """What a row is that a spreadsheet puts among those of bars, and what to do; None for the row of a bar."""
    numbers = [cell.text.strip("()[]") for key, cell in row.cells.items() if BY_KEY[key].unit]
    if numbers and all(unit_of(text) or is_other_unit(text) for text in numbers):
        hint = "write each unit behind its head, such as 'Width (mm)', and delete the row"
        return "the row holds units and no bar", hint
    name = row.text("id")
    if numbers and words_of(name) in _SUMMARIES and not row.text("break"):
        message = f"{shown(name)} sums up other rows and is no bar"
        return message, "delete the row; every row below the heads is one bar"
    return None


def _missing_columns(form: BarForm, by_key: dict[str, Cell]) -> list[Trouble]:
    troubles = []
    for key in form.keys:
        # the angle can be read at a rig with a scale of energies too
        if key in by_key or (key == ENERGY and ANGLE in by_key):
            continue
        title = BY_KEY[key].title
        message = f"there is no column for the {title}"
        if key == ANGLE and ENERGY in by_key:
            message += ", which is what the indicator of this rig reads"
        troubles.append(Trouble("", message, f"add it under the head '{title}' or '{key}'"))
    if form.reading is None and not by_key.keys() & set(READINGS):
        message = "there is no column for the angle of rise or the indicated energy"
        troubles.append(Trouble("", message, "add the one that the indicator of the rig reads"))
    return troubles


def _headless(below: Sequence[Sequence[Cell]], headed: set[int]) -> list[Trouble]:
    """Columns with something in them and no head; the first cell of each is named."""
    first: dict[int, Cell] = {}
    for row in below:
        for cell in row:
            if cell.column not in headed:
                first.setdefault(cell.column, cell)
    hint = "give the column a head, or empty it"
    return [
        Trouble(cell.place, f"{shown(cell.text)} stands in a column without a head", hint) for cell in first.values()
    ]


def _add(bars: Bars, row: Row) -> None:
    """Put the bar of a row behind those before it."""
    index = len(bars.specimens)
    bars.troubles += row.troubles
    bars.specimens.append(row.values)
    bars.places |= {("specimens", index, key): row.place(key) for key in row.values if key in row.heads}
    bar = row.values.get("id")
    if bar is None:
        return
    if bar in bars.ids:
        message = f"bar {shown(bar)} stands already in {bars.ids[bar]}"
        bars.troubles.append(Trouble(row.place("id"), message, "give each bar its own mark"))
        return
    bars.ids[bar] = row.place("id")
    if row.reported:
        bars.reported[bar] = row.reported
        bars.places |= {("reported", "specimens", bar, key): row.place(key) for key in row.reported}
    if row.remark:
        end = "" if row.remark.endswith(_SENTENCE_ENDS) else "."
        bars.notes.append(f"Bar {bar}: {row.remark}{end}")


def _count(bars: Bars, form: BarForm) -> None:
    number = len(bars.specimens)
    if not number:
        bars.troubles.append(Trouble("", "no row below the heads holds a bar", "export the sheet with the readings"))
    elif number > MOST_BARS:
        message = f"the table has {number:,} bars; a record holds at most {MOST_BARS:,}"
        bars.troubles.append(Trouble("", message, "a record holds the bars of one day; split it"))
    elif form.number is not None and number != form.number:
        bars.remarks.append(f"{counted(number, 'bar')}; the exercise asks for {form.number}")


def record_of_table(
    sheet: Sheet, common: Common, form: BarForm, specimen: SpecimenChoice | None, skipped: Sequence[str] = ()
) -> Draft:
    """The record of a table.

    Arguments:
        sheet: the table.
        common: what all bars share.
        form: what the bars of the exercise have, as far as it is known.
        specimen: type, notch and direction as the exercise asks for them; None where it is not known.
        skipped: heads or letters of columns that are left out.
    """
    draft = draft_of(common)
    values = draft.values
    if specimen is not None:
        values["specimen"] = {"type": specimen.type, "notch": specimen.notch, "direction": specimen.direction}
    bars = bars_of(sheet, form, skipped)
    draft.troubles += bars.troubles
    draft.remarks += bars.remarks
    draft.places |= bars.places
    values["specimens"] = bars.specimens
    if bars.reported:
        values.setdefault("reported", {})["specimens"] = bars.reported
    if bars.notes:
        values["notes"] = " ".join([values["notes"], *bars.notes] if "notes" in values else bars.notes)
    draft.refuse()
    return draft
