"""Cases that show again what the first ones show; only `make test-all` runs them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Container, Iterable


def repeated(values: Iterable[Any], *, but: Container[Any]) -> list[Any]:
    """Values of a parameter, or tuples of those of several, all but some of them marked as repeats."""
    found: list[Any] = []
    for each in values:
        parts = each if isinstance(each, tuple) else (each,)
        found.append(each if each in but else pytest.param(*parts, marks=pytest.mark.repeats))
    return found
