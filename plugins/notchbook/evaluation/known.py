"""What may pass for a computed value."""

LARGEST = 1e100
"""Nothing on a bench comes near it; a quotient beyond it has next to nothing below the line, and its square
overflows."""


def known(value: float) -> float | None:
    """The value, or None where it is not a number or out of all measure: then it cannot be had."""
    return value if abs(value) <= LARGEST else None
