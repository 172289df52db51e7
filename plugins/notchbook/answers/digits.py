"""A number as it was given: its value, and how far its digits reach."""

import math
import re
from dataclasses import dataclass

from notchbook.evaluation.records import rounded

_NUMBER = re.compile(r"[-+]?(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+)(?:[eE][-+]?[0-9]{1,3})?\Z")
_LAST_BIT = 1e-6
"""Of half a unit of the last digit, by which the double precision of a decimal fraction may be off."""


@dataclass(frozen=True, slots=True)
class Given:
    """A number that somebody gave."""

    value: float
    decimals: int
    """Digits behind the point; negative where the last digit stands before it."""

    @property
    def unit(self) -> float:
        """One unit of the last digit."""
        return float(10.0**-self.decimals)

    def is_rounded(self, exact: float, figures: int | None = None) -> bool:
        """Whether a number rounds to what was given, to its digits or to the significant figures of a method.

        To two significant figures 147 kJ/m2 is reported as 150, which is written without decimals.
        """
        if self.decimals <= 0 and figures is not None and self.value == rounded(exact, figures):
            return True
        return abs(self.value - exact) <= 0.5 * self.unit * (1.0 + _LAST_BIT)

    def gives(self, value: float) -> bool:
        """Whether a slip that gives this value can be it; zeros at the end of a whole number need not be digits."""
        whole = f"{self.value:.0f}" if self.decimals == 0 else ""
        zeros = len(whole) - len(whole.rstrip("0")) if self.value else 0
        return abs(self.value - value) <= 0.5 * 10.0**zeros * self.unit * (1.0 + _LAST_BIT)

    def is_cut_off(self, exact: float) -> bool:
        """Whether it is a number whose further digits were left away and not rounded."""
        return abs(self.value - math.trunc(exact / self.unit) * self.unit) <= _LAST_BIT * self.unit

    def is_near(self, exact: float) -> bool:
        """Whether it is off by no more than one unit of its last digit."""
        return abs(self.value - exact) <= self.unit * (1.0 + _LAST_BIT)


def given(text: str) -> Given | None:
    """A number as it was written, with a point or a comma; None where it is no number."""
    plain = text.strip().replace("\N{MINUS SIGN}", "-")
    if not _NUMBER.match(plain):
        return None
    mantissa, _, exponent = plain.replace(",", ".").lower().partition("e")
    decimals = len(mantissa.partition(".")[2]) - int(exponent or 0)
    value = float(plain.replace(",", "."))
    return Given(value, decimals) if math.isfinite(value) and abs(decimals) <= 300 else None
