"""Cases that show again what the first ones show; only `make test-all` runs them."""

from collections.abc import Container, Iterable
from typing import Any

import pytest


def repeated(values: Iterable[Any], *, but: Container[Any]) -> list[Any]:
    """Values of a parameter, or tuples of those of several, all but some of them marked as repeats."""
    found: list[Any] = []
    for each in values:
        parts = each if isinstance(each, tuple) else (each,)
        found.append(each if each in but else pytest.param(*parts, marks=pytest.mark.repeats))
    return found
