"""What somebody says of a laboratory whose handbook begins, and what of it cannot be."""

import math
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from notchbook.model.method import Method
from notchbook.wording.lists import listed
from notchbook.wording.numbers import plain

LONGEST_TEXT = 200
"""Characters of a title in a data file."""


@dataclass(frozen=True, slots=True)
class Wishes:
    """What a handbook begins with; a length or gap that is None is that of the first method."""

    name: str = "Our impact handbook"
    scale: Literal["angle", "energy"] = "angle"
    """What the scale of the rig shows."""
    divisions: tuple[float, ...] = ()
    """Smallest division of the scale, in degrees or in J; several are those of its rings, one for each energy."""
    length_mm: float | None = None
    """From the axis to the centre of strike."""
    gap_mm: float | None = None
    """Between the supports."""
    pendulums_J: tuple[tuple[float, ...], ...] = ()
    """The nominal energies of each pendulum: bare, then with one of its masses after the other."""
    methods: tuple[str, ...] = ("iso-179-1",)
    materials: tuple[str, ...] = ("PP",)
    """Symbols, such as PP or PA66."""
    notice: str = ""
    """Above every page."""

    def troubles(self, known: Mapping[str, Method]) -> Iterator[str]:
        """What cannot be, each in a sentence without its full stop."""
        materials = [("material", each) for each in self.materials]
        for title, text in (("name", self.name), ("notice", self.notice), *materials):
            if len(text) > LONGEST_TEXT or not text.isprintable():
                yield f"the {title} has to be one line of at most {LONGEST_TEXT} characters"
        if not self.name.strip():
            yield "the name is empty"
        for method in self.methods:
            if method not in known:
                yield f"there is no method '{method}'; there are {listed(sorted(known))}"
        yield from self._number_troubles()
        for symbol, count in Counter(material_id(each) for each in self.materials).items():
            if not symbol:
                yield "a material needs a symbol with letters or digits, such as PP or PA66"
            elif count > 1:
                yield f"the material '{symbol}' is named {count} times"

    def _number_troubles(self) -> Iterator[str]:
        lengths = (("length", self.length_mm, 1e4), ("gap", self.gap_mm, 1e4))
        angle = self.scale == "angle"
        divisions = [("division", each, 180.0 if angle else 1e5) for each in self.divisions]
        energies = [("energy of a pendulum", each, 1e5) for pendulum in self.pendulums_J for each in pendulum]
        for title, value, most in (*lengths, *divisions, *energies):
            if value is not None and not (math.isfinite(value) and 0.0 < value <= most):
                yield f"the {title} has to be more than 0 and at most {plain(most)}"
        for pendulum in self.pendulums_J:
            if list(pendulum) != sorted(set(pendulum)):
                words = ", ".join(map(plain, pendulum))
                yield f"the energies {words} J do not rise: name that of the bare pendulum first"
        number = sum(map(len, self.pendulums_J))
        if len(self.divisions) > 1 and len(self.divisions) != number:
            yield f"{len(self.divisions)} rings of the scale are named for {number} energies"


def material_id(symbol: str) -> str:
    """The id of a material by its symbol: small letters, digits and hyphens."""
    parts = "".join(each if each.isascii() and each.isalnum() else " " for each in symbol.lower()).split()
    return "-".join(parts)
