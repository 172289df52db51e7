"""Break types as a chart shows them: their words, and a look for each of which no two are alike."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from notchbook.charts import style

if TYPE_CHECKING:
    from collections.abc import Mapping

    from notchbook.charts.style import Look
    from notchbook.model.method import BreakRole


@dataclass(frozen=True, slots=True)
class BreakKind:
    """One break type of a method."""

    title: str
    role: BreakRole


def look_of(code: str, kinds: Mapping[str, BreakKind]) -> Look:
    """The look of a break type: its paint says its role, its shape tells it from others of the same role."""
    kind = kinds.get(code)
    if kind is None:
        return style.UNKNOWN
    of_role = [each for each, other in kinds.items() if other.role == kind.role]
    looks = style.LOOKS[kind.role]
    return looks[of_role.index(code) % len(looks)]
