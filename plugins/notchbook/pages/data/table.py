"""A table of data, its columns and their units, whatever it holds."""

from dataclasses import dataclass
from typing import Literal

from notchbook.model.quantity import IMPACT_STRENGTH

Datatype = Literal["string", "number", "integer", "boolean", "date"]
_WORDS: dict[Datatype, str] = {
    "string": "text", "number": "number", "integer": "whole number", "boolean": "true or false", "date": "date",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit of measurement."""

    ucum: str
    """Its code in UCUM, the Unified Code for Units of Measure, case sensitive."""
    shown: str
    """As it stands behind a number."""


UNITS = {
    "kJ_m2": Unit("kJ/m2", IMPACT_STRENGTH.unit),
    "m_s": Unit("m/s", "m/s"),
    "Nm": Unit("N.m", "N m"),
    "mm": Unit("mm", "mm"),
    "deg": Unit("deg", "°"),
    "pct": Unit("%", "%"),
    "J": Unit("J", "J"),
    "N": Unit("N", "N"),
    "s": Unit("s", "s"),
}
"""By the end of a name, the longest first."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table."""

    name: str
    title: str
    meaning: str
    datatype: Datatype = "number"
    limits: tuple[tuple[str, float], ...] = ()
    """Constraints by their names in CSV on the Web."""
    in_a_row: bool = False
    """Whether a field holds several values with a space between them."""
    required: bool = False
    """Whether no field may be empty."""

    @property
    def unit(self) -> Unit | None:
        """The unit of a number, which is the end of its name; None for what has none."""
        return next((unit for end, unit in UNITS.items() if self.name.endswith(f"_{end}")), None)

    @property
    def words(self) -> str:
        """Its unit, or in words what it holds."""
        return self.unit.shown if self.unit is not None else _WORDS[self.datatype]


@dataclass(frozen=True, slots=True)
class Table:
    """One kind of table."""

    name: str
    """Of its description."""
    title: str
    row: str
    """What one row is of."""
    columns: tuple[Column, ...]
    key: tuple[str, ...]
    """Columns that tell a row from all others."""
    read: tuple[str, ...] = ()
    """Columns of what is read at the bench, where not every file has all of them."""

    @property
    def anchor(self) -> str:
        """Its part of the page about the data, as Markdown names it by its title."""
        return self.title.lower().replace(" ", "-")
