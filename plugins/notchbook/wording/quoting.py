"""Texts of others inside our sentences."""

_LONGEST_SHOWN = 60


def cut(text: str, most: int = _LONGEST_SHOWN) -> str:
    """The text, cut with an ellipsis to a length that fits a message."""
    return text if len(text) <= most else f"{text[:most]}…"


def shown(text: str) -> str:
    """A text in quotation marks, cut to a length that fits a message."""
    return f"'{cut(text)}'"
