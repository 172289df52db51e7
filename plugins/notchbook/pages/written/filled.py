"""What takes the place of a piece of a hand-written page, or what is wrong with it."""

from dataclasses import dataclass

from notchbook.findings import Rule


@dataclass(frozen=True, slots=True)
class Trouble:
    """Something in a hand-written page that cannot be shown."""

    rule: Rule
    message: str
    hint: str
    start: int
    """Where in the text, from 0."""


@dataclass(frozen=True, slots=True)
class Filled:
    """What takes the place of one piece of the page."""

    html: str
    is_picture: bool = False
