"""One row of a table to one bar."""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from typing import Any

from notchbook.wording.yaml_text import Figure
from notchbook.writing import cells
from notchbook.writing.bars import READINGS, BarForm
from notchbook.writing.heads import UNIT_WORDS
from notchbook.writing.sheets import Cell
from notchbook.writing.table_columns import BY_KEY, COMPUTED, OWN, REMARK, REPORTED, place_of
from notchbook.writing.trouble import Trouble, ValueTroubleError

DIMENSIONS = ("width_mm", "thickness_mm", "remaining_width_mm")
NOTHING = frozenset({"-", "–", "—", "n/a"})
"""What is typed into a cell of numbers that there is none of."""


@dataclass(slots=True)
class Row:
    """A row as it stands, and the bar that is being read from it."""

    first: Cell
    """The first cell that is not empty."""
    cells: Mapping[str, Cell]
    """The cells that are not empty, by the key of their column."""
    heads: Mapping[str, Cell]
    """The heads of all columns that are known, by key."""
    comma_is_decimal: bool
    values: dict[str, Any] = field(default_factory=dict)
    """The bar under the keys of the contract."""
    reported: dict[str, Figure] = field(default_factory=dict)
    """What the group worked out for it."""
    remark: str = ""
    """What was noted about it, unless it is why it does not count."""
    troubles: list[Trouble] = field(default_factory=list)

    def text(self, key: str) -> str:
        """The text under a key; empty where there is none."""
        text = self.cells[key].text if key in self.cells else ""
        return "" if BY_KEY[key].unit and text in NOTHING else text

    def place(self, key: str) -> str:
        """The place of a cell, also of an empty one."""
        head = self.heads[key]
        return place_of(replace(self.first, column=head.column), head)

    def read(self, form: BarForm) -> None:
        """Read the bar: its values, and what is wrong with them."""
        with self._told(REMARK):
            self.remark = cells.plain_text(self.text(REMARK))
        excluded: str | None = self.text("excluded")  # where the reason is wrong, that it does not count is not
        with self._told("excluded"):
            excluded = cells.exclusion(self.text("excluded"), self.remark)
        for key in ("id", *DIMENSIONS, *OWN, *READINGS, "break"):
            if key in self.heads and not (key == "remaining_width_mm" and form.notched is False):
                self._read_value(key, form, counts=not excluded)
        if excluded:
            self.values["excluded"] = excluded
            if excluded == self.remark:
                self.remark = ""
        for key in () if self.heads.keys() & COMPUTED else REPORTED:
            if self.text(key):
                self._keep(self.reported, key, form)

    @contextmanager
    def _told(self, key: str) -> Iterator[None]:
        """Keep the trouble of a value with the place of its cell."""
        try:
            yield
        except ValueTroubleError as error:
            self.troubles.append(error.at(self.place(key)))

    def _read_value(self, key: str, form: BarForm, *, counts: bool) -> None:
        if self.text(key):
            self._keep(self.values, key, form)
        elif self._is_needed(key, form, counts=counts):
            column = BY_KEY[key]
            expected = f"a number in {UNIT_WORDS[column.unit]}" if column.unit else "a text"
            if key == "break" and form.breaks:
                expected = f"one of {', '.join(form.breaks)}"
            hint = "fill it in from the sheet of the day"
            if key in READINGS:
                hint += ", or say why the bar is excluded"
            message = f"the {column.title} is missing; {expected} is expected"
            self.troubles.append(Trouble(self.place(key), message, hint))

    def _is_needed(self, key: str, form: BarForm, *, counts: bool) -> bool:
        """Whether a bar cannot be without the value: of two readings one is enough, of an excluded bar none."""
        if key == "remaining_width_mm":
            return form.notched is True
        if key not in READINGS:
            return key not in OWN
        if not counts or any(self.text(each) for each in READINGS):
            return False
        return key == form.reading or form.reading not in self.heads

    def _keep(self, into: dict[str, Any], key: str, form: BarForm) -> None:
        text = self.text(key)
        unit = BY_KEY[key].unit
        with self._told(key):
            if unit:
                into[key] = cells.figure(text, comma_is_decimal=self.comma_is_decimal, unit=unit)
            elif key == "break" and form.breaks:
                into[key] = cells.break_letter(text, form.breaks)
            else:
                into[key] = cells.plain_text(text)
