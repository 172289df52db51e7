"""The halves of an academic year, by which results are looked at together."""

import datetime as dt
from dataclasses import dataclass

from notchbook.wording.dates import MONTHS

_SECOND_HALF, _FIRST_HALF = 2, 8
"""Months that they begin with: classes end before February and before August north and south of the equator."""


@dataclass(frozen=True, slots=True, order=True)
class Term:
    """Half a year from the first of February or of August on; common practice, no source."""

    year: int
    """In which it begins."""
    month: int

    @property
    def id(self) -> str:
        """Its first month, such as 2026-08."""
        return f"{self.year}-{self.month:02}"

    @property
    def words(self) -> str:
        """Its first and last month, such as August 2026 to January 2027."""
        if self.month == _SECOND_HALF:
            return f"{MONTHS[self.month - 1]} to {MONTHS[_FIRST_HALF - 2]} {self.year}"
        return f"{MONTHS[self.month - 1]} {self.year} to {MONTHS[_SECOND_HALF - 2]} {self.year + 1}"


def term_of(day: dt.date) -> Term:
    """The half-year that a day lies in."""
    if day.month < _SECOND_HALF:
        return Term(day.year - 1, _FIRST_HALF)
    return Term(day.year, _FIRST_HALF if day.month >= _FIRST_HALF else _SECOND_HALF)
