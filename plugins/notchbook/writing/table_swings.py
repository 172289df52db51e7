"""A table to the record of free swings of a group: names with values, and below them a series of swings, a row each."""

from itertools import pairwise

from notchbook.reading.schemas import schema
from notchbook.wording.lists import counted
from notchbook.wording.quoting import shown
from notchbook.wording.yaml_text import Figure
from notchbook.writing import cells
from notchbook.writing.bars import ANGLE, ENERGY
from notchbook.writing.draft import Draft
from notchbook.writing.fields import FIELDS, field_of
from notchbook.writing.given import unknown_row
from notchbook.writing.sheets import Cell, Sheet
from notchbook.writing.table_columns import BY_KEY, HALF_SWING, columns_of, place_of
from notchbook.writing.trouble import Trouble, ValueTroubleError

KIND = "swings"
_SERIES = {ANGLE: "rises_deg", ENERGY: "indicated_energies_J"}


def as_swings(draft: Draft) -> None:
    """Make a draft one of free swings; what such a record has no place for is told."""
    draft.values["kind"] = KIND
    known = schema(KIND)["properties"]
    for key in [each for each in draft.values if each not in known]:
        del draft.values[key]
        places = [place for keys, place in draft.places.items() if keys[0] == key]
        message, hint = f"a record of free swings has no {key}", "leave it out"
        draft.troubles += [Trouble(place, message, hint) for place in dict.fromkeys(places)]


def swings_of_table(sheet: Sheet, draft: Draft, skipped: tuple[str, ...] = ()) -> Draft:
    """The record of a table: the draft of what was given of the whole, and the series below the heads."""
    as_swings(draft)
    draft.tell_missing(schema(KIND)["required"])
    if not any(each.keys in draft.named for each in FIELDS if each.keys[0] == "free_swings"):
        hint = "give --first-rise and --second-rise, or the indicated energies, or rows of these names"
        draft.troubles.append(Trouble("", "the free swings are missing", hint))
    if sheet.head is None:
        for row in sheet.rows:
            if field_of(row[0].text)[0] is None:
                unknown_row(draft, row)
    else:
        _read_series(draft, sheet, skipped)
    draft.refuse()
    return draft


def _read_series(draft: Draft, sheet: Sheet, skipped: tuple[str, ...]) -> None:
    """Read the series below the heads."""
    heads, below = sheet.rows[sheet.head or 0], sheet.rows[(sheet.head or 0) + 1 :]
    by_key, troubles = columns_of(heads, skipped, {cell.column for row in below for cell in row})
    draft.troubles += troubles
    key = next((each for each in _SERIES if each in by_key), None)
    if key is None or HALF_SWING not in by_key:
        message = "a series of swings needs a column for the half swing and one for what was read"
        hint = "write 'half swing' and 'angle of rise' or 'indicated energy' above them"
        draft.troubles.append(Trouble(heads[0].row_place, message, hint))
        return
    read: list[Figure] = []
    numbers: list[int] = []
    for row in below:
        found = {cell.column: cell for cell in row}
        number, reading = (found.get(by_key[each].column) for each in (HALF_SWING, key))
        if number is None or reading is None:
            message, hint = "the row holds no half swing with its reading", "fill it in, or delete it"
            draft.troubles.append(Trouble(row[0].row_place, message, hint))
            continue
        draft.places["series", _SERIES[key], len(read)] = place_of(reading, by_key[key])
        _take(draft, sheet, (number, by_key[HALF_SWING]), (reading, by_key[key]), key, numbers, read)
    if draft.troubles:
        return
    steps = {later - earlier for earlier, later in pairwise(numbers)}
    if len(numbers) < 2 or numbers[0] != 1 or len(steps) > 1 or min(steps) < 1:
        told = ", ".join(map(str, numbers[:8])) or "none"
        message = f"the half swings are {told}; they begin with 1 and go on evenly"
        hint = "count from the release: the first swing to the indicator is half swing 1"
        draft.troubles.append(Trouble(place_of(by_key[HALF_SWING], by_key[HALF_SWING]), message, hint))
        return
    draft.values["series"] = {_SERIES[key]: read, "half_swings_between": steps.pop()}
    draft.remarks.append(f"{counted(len(read), 'swing')} dying away")


def _take(
    draft: Draft, sheet: Sheet, number: tuple[Cell, Cell], reading: tuple[Cell, Cell], key: str,
    numbers: list[int], read: list[Figure],
) -> None:  # fmt: skip
    """Take the half swing and the reading of a row, each a cell with its head, or tell what is wrong with them."""
    try:
        place = place_of(*number)
        if not number[0].text.isdecimal():
            raise ValueTroubleError(f"{shown(number[0].text)} is no half swing", "count them: 1, 3, 5 and so on")
        numbers.append(int(number[0].text[:6]))
        place = place_of(*reading)
        unit = BY_KEY[key].unit
        read.append(cells.figure(reading[0].text, comma_is_decimal=sheet.comma_is_decimal, unit=unit))
    except ValueTroubleError as error:
        draft.troubles.append(error.at(place))
