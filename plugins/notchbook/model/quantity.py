"""The quantity that the engine reports: its name, its unit and its symbol, once for pages, charts and data files."""

from dataclasses import dataclass, replace

from notchbook.model.method import Method
from notchbook.model.record import Record


@dataclass(frozen=True, slots=True)
class Quantity:
    """What a result is a value of."""

    name: str
    """As a method names it under `reporting`."""
    unit: str
    """As it stands behind a number."""
    symbol: str
    """With its index behind an underscore."""

    @property
    def title(self) -> str:
        """Its name at the head of a chart or a column."""
        return f"{self.name[:1].upper()}{self.name[1:]}"


IMPACT_STRENGTH = Quantity("impact strength", "kJ/m²", "a")
"""Energy over the section that broke; `a` is its symbol where the arrangement of the test is not known."""
REPORTED = (IMPACT_STRENGTH,)
"""What can be worked out of a record's readings and published."""


def quantity_of(record: Record, method: Method | None) -> Quantity:
    """What the results of a record are, with the symbol of its arrangement, such as a_cN, where that is known."""
    arrangement = method.arrangement(record.specimen) if method is not None else None
    return replace(IMPACT_STRENGTH, symbol=arrangement.symbol) if arrangement else IMPACT_STRENGTH
