"""Cases that show again what the first ones show; only `make test-all` runs them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from collections.abc import Container, Iterable


def repeated(values: Iterable[Any], *, but: Container[Any]) -> list[Any]:
    """Values of a parameter, all but some of them marked as repeats."""
    return [each if each in but else pytest.param(each, marks=pytest.mark.repeats) for each in values]
