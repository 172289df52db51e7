"""What takes the place of a piece of a hand-written page, or what is wrong with it."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice

from notchbook.findings import Finding, Rule
from notchbook.site_reading.pages import WrittenPage
from notchbook.wording.numbers import plain, to_figures

_MOST_FINDINGS = 100


@dataclass(frozen=True, slots=True)
class Trouble:
    """Something in a hand-written page that cannot be shown."""

    rule: Rule
    message: str
    hint: str
    start: int
    """Where in the text, from 0."""
    missing: tuple[str, str] | None = None
    """Kind and id of what cannot be had, where that may follow from an error in the data."""


def findings_of(page: WrittenPage, troubles: Iterator[Trouble], begin: int = 0) -> Iterator[Finding]:
    """The troubles of a text that begins there in the page as findings, at most some hundred."""
    for each in islice(troubles, _MOST_FINDINGS):
        yield page.finding(each.rule, begin + each.start, each.message, each.hint)
    further = next(troubles, None)
    if further is not None:
        yield page.finding(further.rule, begin + further.start, "is the first of more such flaws", "mend those above")


@dataclass(frozen=True, slots=True)
class Filled:
    """What takes the place of one piece of the page."""

    html: str
    """A block that stands by itself has empty lines around it."""
    is_picture: bool = False


class UnknownValueError(LookupError):
    """A value that does not exist; the hint names what does."""

    def __init__(self, message: str, hint: str) -> None:
        super().__init__(message)
        self.hint = hint


class MissingValueError(UnknownValueError):
    """A value that there would be, were nothing wrong with the data that it comes from."""


def with_unit(value: float | None, figures: int | None, unit: str) -> str | None:
    """A number with its unit, joined so that no line breaks between them; None where there is none.

    Arguments:
        value: the number.
        figures: how many significant ones it has; all of them where that is None.
        unit: as it stands behind the number.
    """
    if value is None:
        return None
    gap = "" if unit == "°" else "\N{NO-BREAK SPACE}"
    return f"{plain(value) if figures is None else to_figures(value, figures)}{gap}{unit}"
