"""What all values of hand-written pages share: their form, and the error where one does not exist."""

from notchbook.wording.numbers import to_figures


class UnknownValueError(LookupError):
    """A value that does not exist; the hint names what does."""

    def __init__(self, message: str, hint: str) -> None:
        super().__init__(message)
        self.hint = hint


def with_unit(value: float | None, figures: int, unit: str) -> str | None:
    """A number to so many significant figures with its unit, joined so that no line breaks between them."""
    if value is None:
        return None
    gap = "" if unit == "°" else "\N{NO-BREAK SPACE}"
    return f"{to_figures(value, figures)}{gap}{unit}"
