"""Break types as a chart shows them: their words, and a look for each of which no two are alike."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from notchbook.charts import style
from notchbook.charts.style import Look
from notchbook.model.breaks import BreakRole
from notchbook.model.method import Method

_OR = " or "


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


def kinds_of(methods: Iterable[Method | None]) -> dict[str, BreakKind]:
    """The break types of the methods by letter; a letter that they use differently has all its titles."""
    found: dict[str, BreakKind] = {}
    for method in {each.id: each for each in methods if each is not None}.values():
        for each in method.breaks.types:
            kind = BreakKind(each.title, method.breaks.role_of(each.letter) or "none")
            known = found.setdefault(each.letter, kind)
            if kind.title.casefold() not in known.title.casefold().split(_OR):
                found[each.letter] = replace(known, title=f"{known.title}{_OR}{kind.title}")
    return found
