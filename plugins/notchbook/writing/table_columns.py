"""The heads of a table's columns to the keys of a bar, or of what all bars of a record share."""

import functools
from collections.abc import Container, Iterable, Mapping, Sequence
from dataclasses import dataclass

from notchbook.wording.nearest import nearest_of
from notchbook.wording.quoting import shown
from notchbook.writing.fields import FIELDS, field_of
from notchbook.writing.heads import LIKE_A_HEAD, UNIT_WORDS, readings_of, words_of
from notchbook.writing.sheets import Cell, column_letters
from notchbook.writing.trouble import Trouble


@dataclass(frozen=True, slots=True)
class Column:
    """One kind of column."""

    key: str
    """The key of a bar, or `remark`."""
    title: str
    """What a person calls it."""
    unit: str
    """Unit of the contract's key; empty for texts."""
    words: tuple[str, ...]
    """Heads in small letters, without units."""
    symbols: tuple[str, ...] = ()
    """Symbols of the quantity, which may stand alone or behind the words."""

    @property
    def names(self) -> tuple[str, ...]:
        """Every head that it may have."""
        return (*self.words, *self.symbols, *(f"{each} {symbol}" for each in self.words for symbol in self.symbols))


REMARK = "remark"
REPORTED = ("energy_J", "strength_kJ_m2")
"""Columns that hold what the group worked out; they go under `reported`."""
COLUMNS = (
    Column("id", "bar number", "", (
        "id", "bar", "bar no", "bar nr", "bar number", "bar id", "bar mark", "specimen", "specimen no", "specimen nr",
        "specimen number", "specimen id", "specimen mark", "test specimen", "test piece", "test bar", "no", "nr",
        "number", "mark",
    )),
    Column("width_mm", "width", "mm", (
        "width", "bar width", "specimen width", "full width", "width of bar", "width of the bar",
    ), ("b",)),
    Column("thickness_mm", "thickness", "mm", (
        "thickness", "bar thickness", "specimen thickness", "thickness of bar", "thickness of the bar",
    ), ("h",)),
    Column("remaining_width_mm", "width under the notch", "mm", (
        "remaining width", "width under notch", "width under the notch", "width below notch", "width below the notch",
        "width at notch", "width at the notch", "width at notch base", "width at the notch base",
        "remaining width under notch", "remaining width under the notch", "remaining width at notch",
        "remaining width at the notch", "remaining width at notch base", "remaining width at the notch base",
        "residual width", "ligament", "ligament width",
    ), ("bn", "b n")),
    Column("notch_radius_mm", "notch radius", "mm", ("notch radius", "radius of the notch")),
    Column("clamp_torque_Nm", "clamp torque", "Nm", ("clamp torque", "torque of the clamp")),
    Column("transfer_s", "transfer time", "s", ("transfer", "transfer time")),
    Column("rise_angle_deg", "angle of rise", "deg", (
        "rise", "angle", "angle of rise", "rise angle", "angle after blow", "angle after the blow",
    ), ("beta", "β")),
    Column("indicated_energy_J", "indicated energy", "J", (
        "indicated energy", "energy indicated", "energy on scale", "energy on the scale", "scale energy",
        "energy read", "energy shown",
    )),
    Column("break", "break type", "", (
        "break", "break type", "type of break", "breaktype", "kind of break", "fracture", "fracture type",
        "type of fracture", "failure", "failure type", "type of failure",
    )),
    Column("excluded", "excluded", "", (
        "excluded", "excluded because", "exclude", "exclusion", "reason for exclusion", "reason excluded",
        "excluded reason", "reason", "why excluded", "left out", "left out because",
    )),
    Column(REMARK, "remark", "", (
        "remark", "remarks", "comment", "comments", "note", "notes", "observation", "observations",
    )),
    Column("energy_J", "energy absorbed", "J", (
        "energy absorbed", "absorbed energy", "corrected energy", "energy corrected", "impact energy absorbed",
        "reported energy",
    )),
    Column("strength_kJ_m2", "strength", "kJ_m2", (
        "strength", "impact strength", "charpy impact strength", "izod impact strength", "charpy strength",
        "izod strength", "notched impact strength", "unnotched impact strength", "reported strength",
    )),
)  # fmt: skip
_COMPUTED = (
    Column("loss_J", "loss", "J", ()),
    Column("used_pct", "share used", "pct", ()),
    Column("expanded_uncertainty_kJ_m2", "expanded uncertainty", "kJ_m2", ()),
)
COMPUTED = frozenset(each.key for each in _COMPUTED)
"""Columns that only the handbook's own tables have: it works them out, and the energies and strengths beside them."""
NOTCH = "notch"
"""The notch that a table names; the exercise says which it is."""
HALF_SWING = "half_swing"
"""Which half swing from the release a row of a series is of."""
OWN = ("notch_radius_mm", "clamp_torque_Nm", "transfer_s")
"""What a bar states where it is not that of the record."""
_HALF_SWINGS = Column(HALF_SWING, "half swing", "", ("half swing", "half swing no", "swing", "swing no"))
_COMMON = tuple(Column(".".join(each.keys), each.title, each.unit, ()) for each in FIELDS)
# a column of what a bar may have of its own is one of the bars
BY_KEY = {each.key: each for each in (*_COMMON, *COLUMNS, *_COMPUTED, Column(NOTCH, "notch", "", ()), _HALF_SWINGS)}
_BY_EXACT_KEY = {key.casefold(): each for key, each in BY_KEY.items()}
_BY_NAME = {name: each for each in (*COLUMNS, _HALF_SWINGS) for name in each.names}
_EITHER_ENERGY = frozenset({"energy", "impact energy", "w", "e"})
_SKIP = "correct the head, delete the column, or leave it out with --skip"


@dataclass(frozen=True, slots=True)
class Head:
    """What a head was found to be."""

    column: Column | None
    unit_trouble: str = ""
    """What stands where the unit should."""


@functools.lru_cache(maxsize=4096)
def recognised(head: str) -> Head:
    """The column of a head: a key of the contract as it is written there, or words with or without a unit."""
    exact = _BY_EXACT_KEY.get(head.strip().casefold())
    if exact:
        return Head(exact)
    for name in readings_of(head):
        column = _BY_NAME.get(name.words)
        if column is None:
            continue
        # brackets may hold a symbol of the quantity, and behind a text anything, such as the letters to choose from
        if name.other and column.unit and words_of(name.other) not in column.symbols:
            return Head(column, name.other)
        return Head(column, UNIT_WORDS[name.unit] if name.unit and name.unit != column.unit else "")
    field, unit_trouble = field_of(head)
    return Head(BY_KEY[".".join(field.keys)], unit_trouble) if field else Head(None)


def known_heads(texts: Sequence[str]) -> int:
    """How many of the texts are heads of different columns."""
    return len({found.column.key for text in texts if (found := recognised(text)).column})


def columns_of(
    row: Iterable[Cell], skipped: Sequence[str], filled: Container[int]
) -> tuple[dict[str, Cell], list[Trouble]]:
    """The heads of the columns that can be used, by key, and what is wrong with the others.

    Heads and letters that are skipped are left out; a repeated or unknown head does no harm where nothing is filled in.
    """
    found: dict[str, Cell] = {}
    troubles = []
    left_out = {each.strip().casefold() for each in skipped}
    for cell in row:
        if cell.text.casefold() in left_out or column_letters(cell.column).casefold() in left_out:
            continue
        head = recognised(cell.text)
        trouble = _trouble(cell, head, found)
        if trouble and cell.column in filled:
            troubles.append(trouble)
        if head.column:
            # also where the unit is wrong, so that the column is not called missing
            found.setdefault(head.column.key, cell)
    return found, troubles


def place_of(cell: Cell, head: Cell) -> str:
    """The place of a cell with the head of its column."""
    return f"{cell.place} {shown(head.text)}"


def _trouble(cell: Cell, head: Head, before: Mapping[str, Cell]) -> Trouble | None:
    place = place_of(cell, cell)
    column = head.column
    if column is None:
        if readings_of(cell.text)[-1].words in _EITHER_ENERGY:
            message = "this may be the energy on the scale or the energy absorbed after correction"
            return Trouble(place, message, "write 'indicated energy' or 'energy absorbed'")
        return Trouble(place, "the head is not known", f"{_nearest(cell.text)}; {_SKIP}")
    if head.unit_trouble and not column.unit:
        return Trouble(place, f"{shown(head.unit_trouble)} stands where no unit is expected", "delete it")
    if head.unit_trouble:
        unit = UNIT_WORDS[column.unit]
        message = f"{shown(head.unit_trouble)} is not the unit of this column (expected: {unit})"
        return Trouble(place, message, f"convert the column to {unit} in the spreadsheet, and change its head")
    if column.key in before:
        first = before[column.key]
        message = f"column {column_letters(first.column)} {shown(first.text)} holds the same quantity"
        return Trouble(place, message, "keep one, and leave the other out with --skip")
    return None


def _nearest(text: str) -> str:
    every = [words for each in COLUMNS for words in each.words]
    close = nearest_of(readings_of(text)[-1].words, every, LIKE_A_HEAD)
    return f"did you mean '{close}'?" if close else f"known are {', '.join(each.title for each in COLUMNS)}"
