"""What a table of readings or an option holds that a record cannot take, and where it stands."""

from collections.abc import Sequence
from dataclasses import dataclass

from notchbook.wording.lines import printable

MOST_TROUBLES = 100
"""A table with more than this is another kind of table; nobody mends its cells one by one."""


@dataclass(frozen=True, slots=True)
class Trouble:
    """One thing that cannot be used."""

    place: str
    """Row and column of the table, or the option; empty for the whole of it."""
    message: str
    """What is wrong, and what was expected."""
    hint: str
    """What to do about it."""

    def __str__(self) -> str:
        said = f"{self.message}; {self.hint}" if self.hint else self.message
        return printable(f"{self.place}: {said}" if self.place else said)


class ValueTroubleError(ValueError):
    """A text that is no value of its kind: what is wrong and what to do, wherever it stands."""

    def __init__(self, message: str, hint: str) -> None:
        super().__init__(message)
        self.hint = hint

    def at(self, place: str) -> Trouble:
        """The trouble at its place."""
        return Trouble(place, str(self), self.hint)


class UnreadableError(ValueError):
    """A file that is no table of readings."""

    def __init__(self, trouble: Trouble) -> None:
        super().__init__(str(trouble))
        self.trouble = trouble


def lines(troubles: Sequence[Trouble]) -> list[str]:
    """A line a trouble, each once; past a hundred of them only their number."""
    told = list(dict.fromkeys(str(each) for each in troubles))
    more = len(told) - MOST_TROUBLES
    return [*told[:MOST_TROUBLES], f"{more} more of this kind; mend the ones named first"] if more > 0 else told
