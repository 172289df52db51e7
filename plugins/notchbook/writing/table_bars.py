"""The rows of a table to bars, a row a bar, and the whole table to the values of a test record."""

from collections.abc import Sequence

from notchbook.model.procedure import SpecimenChoice
from notchbook.wording.lists import counted
from notchbook.wording.quoting import shown
from notchbook.writing.bars import ANGLE, ENERGY, READINGS, BarForm
from notchbook.writing.draft import Draft
from notchbook.writing.heads import words_of
from notchbook.writing.sheets import Cell, Sheet
from notchbook.writing.table_columns import BY_KEY, NOTCH, columns_of, place_of
from notchbook.writing.table_row import DIMENSIONS, Row
from notchbook.writing.trouble import Trouble

MOST_BARS = 1000
"""The contract's limit of a record."""
_TELLS_A_BAR = frozenset({*DIMENSIONS, *READINGS, "break"})
_SENTENCE_ENDS = (".", "!", "?")


def _read_bars(
    draft: Draft, sheet: Sheet, form: BarForm, specimen: SpecimenChoice | None, skipped: Sequence[str]
) -> None:
    """Read the bars below the heads of a table; columns whose head or letters are skipped are not looked at."""
    draft.values["specimens"] = []
    if sheet.head is None:
        titles = ", ".join(BY_KEY[key].title for key in form.keys)
        message = "no row was found that holds the heads of the columns"
        draft.troubles.append(Trouble("", message, f"put one above the readings: {titles}"))
        return
    heads, below = sheet.rows[sheet.head], sheet.rows[sheet.head + 1 :]
    filled = {cell.column for row in below for cell in row}
    by_key, troubles = columns_of(heads, skipped, filled)
    keys = {head.column: key for key, head in by_key.items()}
    draft.troubles += [*troubles, *_missing_columns(form, by_key), *_headless(below, {cell.column for cell in heads})]
    remaining = by_key.get("remaining_width_mm")
    if form.notched is False and remaining is not None and remaining.column in filled:
        message = "the bars of this exercise have no notch, so nothing remains under one"
        hint = "see that the exercise is the one that was done, or leave the column out with --skip"
        draft.troubles.append(Trouble(place_of(remaining, remaining), message, hint))
    ids: dict[str, str] = {}
    for cells in below:
        known = {keys[cell.column]: cell for cell in cells if cell.column in keys}
        row = Row(cells[0], known, by_key, sheet.comma_is_decimal)
        draft.troubles += _other_notch(row, specimen)
        if _TELLS_A_BAR & known.keys():
            row.read(form)
            _add(draft, row, ids)
        elif known:
            message = f"the row holds no readings of a bar: {shown(cells[0].text)}"
            hint = "delete it, or fill it in; every row below the heads is one bar"
            draft.troubles.append(Trouble(row.first.row_place, message, hint))
    _count(draft, form)


def _other_notch(row: Row, specimen: SpecimenChoice | None) -> list[Trouble]:
    """What is wrong with the notch that a table names for a bar."""
    said = row.text(NOTCH)
    if not said or specimen is None or words_of(said) == words_of(specimen.notch):
        return []
    message = f"the notch is {shown(said)}, and the bars of this exercise have {shown(specimen.notch)}"
    hint = "see that the exercise is the one that was done, or leave the column out with --skip"
    return [Trouble(row.place(NOTCH), message, hint)]


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


def _add(draft: Draft, row: Row, ids: dict[str, str]) -> None:
    """Put the bar of a row behind those before it, whose ids stand at the places given."""
    specimens = draft.values["specimens"]
    draft.places |= {("specimens", len(specimens), key): row.place(key) for key in row.values if key in row.heads}
    draft.troubles += row.troubles
    specimens.append(row.values)
    bar = row.values.get("id")
    if bar is None:
        return
    if bar in ids:
        message = f"bar {shown(bar)} stands already in {ids[bar]}"
        draft.troubles.append(Trouble(row.place("id"), message, "give each bar its own mark"))
        return
    ids[bar] = row.place("id")
    if row.reported:
        draft.values.setdefault("reported", {}).setdefault("specimens", {})[bar] = row.reported
        draft.places |= {("reported", "specimens", bar, key): row.place(key) for key in row.reported}
    if row.remark:
        before = [draft.values["notes"]] if "notes" in draft.values else []
        end = "" if row.remark.endswith(_SENTENCE_ENDS) else "."
        draft.values["notes"] = " ".join([*before, f"Bar {bar}: {row.remark}{end}"])


def _count(draft: Draft, form: BarForm) -> None:
    number = len(draft.values["specimens"])
    if not number:
        draft.troubles.append(Trouble("", "no row below the heads holds a bar", "export the sheet with the readings"))
    elif number > MOST_BARS:
        message = f"the table has {number:,} bars; a record holds at most {MOST_BARS:,}"
        draft.troubles.append(Trouble("", message, "a record holds the bars of one day; split it"))
    elif form.number is not None and number != form.number:
        draft.remarks.append(f"{counted(number, 'bar')}; the exercise asks for {form.number}")


def record_of_table(
    sheet: Sheet, draft: Draft, form: BarForm, specimen: SpecimenChoice | None, skipped: Sequence[str] = ()
) -> Draft:
    """The record of a table: the draft of what all bars share, and its bars.

    Of these their form and the specimen are what is known of the exercise; skipped heads or letters are left out.
    """
    draft.tell_missing()
    if specimen is not None:
        draft.values["specimen"] = {"type": specimen.type, "notch": specimen.notch, "direction": specimen.direction}
    _read_bars(draft, sheet, form, specimen, skipped)
    draft.refuse()
    return draft
