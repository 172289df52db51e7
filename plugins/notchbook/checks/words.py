"""Comparisons that several checks share, and their words."""

import math
from collections.abc import Iterator

from notchbook.checks.subject import Complaint
from notchbook.model.requirement import LAST_BIT, Requirement
from notchbook.wording.numbers import number

SAME_SIZE = 1.25
"""How far a value may lie from the required one, as a factor, and still be taken for the same length in another unit:
common practice, no source."""
UNITS_OF_LENGTH = {-3: "metres", -1: "centimetres", 1: "tenths of a millimetre", 3: "micrometres"}
"""By how many powers of ten their numbers are off those in millimetres."""
_UNITS = {"_mm": "mm", "_Nm": "Nm", "_s": "s", "_deg": "°", "_C": "°C", "_pct": "%", "hours": "h"}
"""By how the keys of quantities end."""


def departs(name: str, value: float, unit: str, requirement: Requirement, who: str) -> str:
    """A message for a value outside its tolerance, with the clause and how sure the number is."""
    origin = requirement.origin
    sure = f", {origin.words}" if origin.confidence == "memory" else ""
    return f"{name} is {number(value)} {unit}; {who} asks for {requirement.text(unit)} ({origin.clause}{sure})"


def outside(
    keys: tuple[str | int, ...], name: str, value: float | None, asked: Requirement | None, who: str, hint: str
) -> Iterator[Complaint]:
    """A complaint where a value is known and not what is asked for; its unit is the one that its last key ends with."""
    if value is not None and asked is not None and not asked.allows(value):
        unit = next(unit for ending, unit in _UNITS.items() if str(keys[-1]).endswith(ending))
        yield Complaint(keys, departs(name, value, unit, asked, who), hint)


def departure_pct(value: float, expected: float) -> float:
    """How far a value lies from what is expected of it, in percent of that and with its sign."""
    return 100.0 * (value / expected - 1.0)


def too_far(off_pct: float, allowed_pct: float) -> bool:
    """Whether a departure to either side is more than is allowed, the limit itself being allowed."""
    return abs(off_pct) > allowed_pct + LAST_BIT * max(1.0, allowed_pct)


def power_of_ten_off(value: float, expected: float) -> int:
    """How many powers of ten a value is off what is expected of it; 0 where none explains it."""
    if value <= 0 or expected <= 0:
        return 0
    power = round(math.log10(value / expected))
    factor = value / expected / 10.0**power
    return power if power and 1 / SAME_SIZE <= factor <= SAME_SIZE else 0


def looks_like_length(power: int) -> str:
    """What unit a length in millimetres that is so many powers of ten off was written in."""
    return UNITS_OF_LENGTH.get(power, f"a slip of the decimal point by {abs(power)}")
