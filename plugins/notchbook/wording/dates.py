"""Days in words."""

import datetime as dt

MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip


def day_words(date: dt.date) -> str:
    """A date in words, such as 6 October 2026."""
    return f"{date.day} {MONTHS[date.month - 1]} {date.year}"
