"""How a method tells the ways in which bars break, and what each means for a result."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from notchbook.model.requirement import Origin

BreakRole = Literal["complete", "hinge", "partial", "none"]
"""What a break type means for a result, whatever it is called: how far the bar came apart."""


@dataclass(frozen=True, slots=True)
class BreakType:
    """A way a specimen breaks, by letter."""

    letter: str
    """Its code, of one letter or digit or of several."""
    title: str
    meaning: str
    has_strength: bool


@dataclass(frozen=True, slots=True)
class Breaks:
    """The break types of a method and which of them may share a mean."""

    types: tuple[BreakType, ...]
    averaged_together: tuple[tuple[str, ...], ...]
    origin: Origin

    def of_letter(self, letter: str) -> BreakType | None:
        """The break type with that letter, or None."""
        for each in self.types:
            if each.letter == letter:
                return each
        return None

    def give_strength(self, letter: str) -> bool:
        """Whether bars that break so have a strength; also False for a letter that the method does not have."""
        found = self.of_letter(letter)
        return found is not None and found.has_strength

    def leave_unbroken(self, letter: str) -> bool:
        """Whether bars of that type did not break, so that the letter is the result."""
        found = self.of_letter(letter)
        return found is not None and not found.has_strength

    def group_of(self, letter: str) -> tuple[str, ...]:
        """The letters that share a mean with this one, itself included."""
        for group in self.averaged_together:
            if letter in group:
                return group
        return (letter,)

    def role_of(self, letter: str) -> BreakRole | None:
        """What the break type with that letter means for a result; None where the method has no such type.

        One without a strength did not break. Of the others the first one of the method is the complete break, those
        that share a mean with it are hinge breaks, and all others partial ones.
        """
        kind = self.of_letter(letter)
        if kind is None:
            return None
        if not kind.has_strength:
            return "none"
        first = next(each.letter for each in self.types if each.has_strength)
        if letter == first:
            return "complete"
        return "hinge" if letter in self.group_of(first) else "partial"

    def set_name(self, letters: Iterable[str]) -> str:
        """Break types that share a mean as one word, which no other set of the method has: `CH`, `C+NB`.

        Letters stand side by side where each code of the method is a single one.
        """
        return ("" if all(len(each.letter) == 1 for each in self.types) else "+").join(letters)
