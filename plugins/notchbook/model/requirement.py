"""A number that a method asks for, with its tolerance and where it comes from."""

import math
from dataclasses import dataclass

LAST_BIT = 1e-9
"""Share by which a value may pass its limit: 62.5 against 62 + 0.5 must not fail for the last bit of a binary
fraction."""


@dataclass(frozen=True, slots=True)
class Origin:
    """Where a number of a method was found and how sure that is."""

    clause: str
    """Clause, table or figure of the standard."""
    source: str
    """Key into the method's list of sources."""
    confidence: str
    """`quoted`: seen in a public text; `memory`: recalled, to be checked;
    `department`: set here."""
    certainty: str | None = None
    """For `memory`: high, medium or low."""

    @property
    def words(self) -> str:
        """The origin as a reader should see it."""
        if self.confidence == "memory":
            sure = f", {self.certainty} certainty" if self.certainty else ""
            return f"from memory{sure}; check against your copy"
        if self.confidence == "quoted":
            return f"seen in a public text ({self.source})"
        return "set by the department"


@dataclass(frozen=True, slots=True)
class Requirement:
    """A required value with the allowed departure below and above it, all in one unit."""

    value: float
    below: float
    """How far under the value is still allowed; `inf` where there is no lower bound."""
    above: float
    """How far over the value is still allowed; `inf` where there is no upper bound."""
    origin: Origin

    @property
    def lowest(self) -> float:
        """Smallest allowed value."""
        return self.value - self.below

    @property
    def highest(self) -> float:
        """Largest allowed value."""
        return self.value + self.above

    def allows(self, measured: float) -> bool:
        """Whether a measured value lies inside the tolerance, its ends included."""
        slack = LAST_BIT * max(1.0, abs(self.value))
        return self.lowest - slack <= measured <= self.highest + slack

    def text(self, unit: str = "") -> str:
        """The requirement as the trade writes it: `62 (+0.5/0) mm`, `4 ± 0.2 mm`, `at least 16 h`."""
        tail = unit if unit in ("", "°") else f" {unit}"
        if math.isinf(self.above) and self.below == 0:
            return f"at least {self.value:g}{tail}"
        if math.isinf(self.below) and self.above == 0:
            return f"at most {self.value:g}{tail}"
        if self.below == self.above:
            return f"{self.value:g} ± {self.above:g}{tail}" if self.above else f"{self.value:g}{tail}"
        low = f"−{self.below:g}" if self.below else "0"
        return f"{self.value:g} (+{self.above:g}/{low}){tail}"
