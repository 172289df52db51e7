"""What the bars of a record share: from options, from rows above a table, a name and its value, and from columns."""

from collections.abc import Iterable, Mapping, Sequence

from notchbook.model.codes import CODE
from notchbook.wording.nearest import nearest_of
from notchbook.wording.quoting import shown
from notchbook.wording.yaml_text import Figure
from notchbook.writing import cells
from notchbook.writing.draft import Draft
from notchbook.writing.fields import DEVIATION, FIELDS, NAMES, Field, Keys, field_of
from notchbook.writing.heads import LIKE_A_HEAD, UNIT_WORDS, readings_of, unit_of, words_of
from notchbook.writing.sheets import Cell, Sheet
from notchbook.writing.table_columns import place_of, recognised
from notchbook.writing.table_records import common_columns
from notchbook.writing.trouble import Trouble, ValueTroubleError

_GROUP = next(each for each in FIELDS if each.keys == ("group",))
_DEVIATION_WORDS = ("deviation", "deviations", "declared deviation")


def common_of(
    sheet: Sheet | None,
    options: Mapping[Keys, str],
    deviations: Iterable[Sequence[str]],
    skipped: Sequence[str] = (),
) -> Draft:
    """A record of what the options, the rows above the heads of a table and its columns give; options win.

    Options are texts by the keys of their fields; a deviation is its rule, its reason and a code. Skipped heads or
    letters of columns are left out.
    """
    common = Draft({"kind": "test"})
    for field in FIELDS:
        if field.keys in options:
            _take(common, field, options[field.keys], field.option, comma_is_decimal=True)
    for texts in deviations:
        _take_deviation(common, texts, "--deviation")
    if sheet is not None:
        by_options = set(common.named)
        for row in sheet.rows[: sheet.head]:
            # without heads only what is known for sure is of the whole
            if sheet.head is not None or field_of(row[0].text)[0]:
                _read_row(common, row, by_options, sheet, keep_deviations=not deviations)
        _read_columns(common, sheet, by_options, skipped)
        # a sheet may be called by its group; `Sheet1` is no code
        if CODE.fullmatch(sheet.name) and ("group",) not in common.named:
            _take(common, _GROUP, sheet.name, f"name of sheet {shown(sheet.name)}", comma_is_decimal=True)
    return common


def _read_columns(common: Draft, sheet: Sheet, by_options: set[Keys], skipped: Sequence[str]) -> None:
    """Read the columns that say of each bar what all of a record share."""
    for field, head, filled in common_columns(sheet, skipped):
        if field.keys in by_options:
            continue
        if recognised(head.text).unit_trouble:  # told with the other heads
            common.named[field.keys] = ""
            continue
        for cell in filled:
            before = common.named.get(field.keys)
            if before is None:
                _take(common, field, cell.text, place_of(cell, head), comma_is_decimal=sheet.comma_is_decimal)
            elif words_of(before) != words_of(cell.text):
                message = f"{shown(cell.text)} stands here and {shown(before)} before it; a record has one of them"
                hint = "correct the one that is wrong, or leave the column out with --skip and give the value"
                common.troubles.append(Trouble(place_of(cell, head), message, hint))


def _take(common: Draft, field: Field, text: str, place: str, *, comma_is_decimal: bool) -> None:
    common.named[field.keys] = text
    try:
        value = _value(field, text.strip(), comma_is_decimal=comma_is_decimal)
    except ValueTroubleError as error:
        common.troubles.append(error.at(place))
        return
    *outer, last = field.keys
    holder = common.values
    for key in outer:
        holder = holder.setdefault(key, {})
    holder[last] = value
    common.places[field.keys] = place


def _value(field: Field, text: str, *, comma_is_decimal: bool) -> str | Figure:
    if not text:
        raise ValueTroubleError("nothing stands there", f"write the value: {field.about['description']}")
    if field.about["type"] in ("number", "integer"):
        return cells.figure(text, comma_is_decimal=comma_is_decimal, unit=field.unit)
    return cells.date(text) if field.keys == ("date",) else cells.plain_text(text)


def _take_deviation(common: Draft, texts: Sequence[str], place: str) -> None:
    try:
        values = [cells.plain_text(text.strip()) for text in texts]
    except ValueTroubleError as error:
        common.troubles.append(error.at(place))
        return
    declared = common.values.setdefault("deviations", [])
    common.places |= {("deviations", len(declared), key): place for key in DEVIATION}
    declared.append(dict(zip(DEVIATION, values, strict=True)))


def _read_row(
    common: Draft, row: Sequence[Cell], by_options: set[Keys], sheet: Sheet, *, keep_deviations: bool
) -> None:
    name, *values = row
    if words_of(name.text) in _DEVIATION_WORDS:
        if len(values) != len(DEVIATION):
            message = f"a deviation has {len(values)} cells behind its name where 3 are expected"
            hint = "write the rule, the reason and the code of who accepted it, a cell each"
            common.troubles.append(Trouble(name.row_place, message, hint))
        elif keep_deviations:
            _take_deviation(common, [each.text for each in values], name.row_place)
        return
    field, unit_trouble = field_of(name.text)
    if field is None:
        unknown_row(common, row)
        return
    if unit_trouble:
        message = f"{shown(unit_trouble)} is not the unit of this value"
        hint = f"write it in {UNIT_WORDS[field.unit]}" if field.unit else "delete the unit"
        common.named[field.keys] = ""
        common.troubles.append(Trouble(f"{name.place} {shown(name.text)}", message, hint))
        return
    if field.keys in by_options:
        return
    if field.keys in common.named:
        message = f"{shown(name.text)} is given a second time"
        common.troubles.append(Trouble(name.row_place, message, "keep the row that is right and delete the other"))
        return
    _take_row(common, field, name, values, sheet)


def _take_row(common: Draft, field: Field, name: Cell, values: Sequence[Cell], sheet: Sheet) -> None:
    """The value behind a name; its unit may stand behind that."""
    unit_behind = len(values) == 2 and field.unit and unit_of(values[1].text) == field.unit
    if len(values) > 1 and not unit_behind:
        message = f"more than one cell stands behind {shown(name.text)}"
        hint = "keep one value; put a text that holds the separator in quotation marks"
        common.named[field.keys] = ""
        common.troubles.append(Trouble(values[1].place, message, hint))
        return
    if not values:
        # as good as not there: what has to be given is told with the option that gives it
        common.remarks.append(f"{name.row_place} {shown(name.text)} has no value")
        return
    cell = values[0]
    place = f"{cell.place} {shown(name.text)}"
    _take(common, field, cell.text, place, comma_is_decimal=sheet.comma_is_decimal)


def unknown_row(common: Draft, row: Sequence[Cell]) -> None:
    """Tell a row of no name: a title is passed over; a name with a value behind it might be a misspelt one."""
    name = row[0]
    if len(row) == 1:
        common.remarks.append(f"{name.row_place} {shown(name.text)} is not used")
        return
    words = readings_of(name.text.removesuffix(":"))[-1].words
    ends = [known for known in NAMES if known.endswith(f" {words}")]
    close = ends or [each for each in [nearest_of(words, NAMES, LIKE_A_HEAD)] if each]
    hint = f"did you mean {' or '.join(f'{each!r}' for each in close[:2])}?" if close else "delete the row"
    message = f"{shown(name.text)} is no name of a value that a record has"
    common.troubles.append(Trouble(name.row_place, message, hint))
