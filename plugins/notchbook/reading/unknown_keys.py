"""A key that is not known where it stands, and the slip that made it one."""

import itertools
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from notchbook.reading.lookalikes import described, first_strange, part, plain_form
from notchbook.reading.refusal import shown
from notchbook.wording.nearest import nearest_of

_LONGEST = 400
"""Characters of a key whose slip is looked for."""
# The units that keys end in, and those that are written in their place.
_UNITS = frozenset({
    "mm", "cm", "m", "um", "µm", "in", "inch", "deg", "rad", "J", "mJ", "kJ", "N", "kN", "g", "kg", "s", "ms", "min",
    "h", "hours", "C", "K", "F", "pct", "percent", "Nm", "Nmm", "Ncm", "m_s", "m_s2", "kJ_m2", "J_m",
})  # fmt: skip
_DECIMALS = re.compile(r"(?P<digits>[0-9]+)(?P<unit>\s*[^\W\d_]*)")


@dataclass(frozen=True, slots=True)
class Stranger:
    """A key that is not known here."""

    key: str
    siblings: dict[str, Any]
    """The mapping that it stands in."""
    allowed: Sequence[str]
    """The keys that are known there."""


@dataclass(frozen=True, slots=True)
class Explanation:
    """What is wrong with a key, and what of the rest that explains."""

    message: str
    hint: str
    meant: str | None = None
    """The key that is missing because of it."""
    spoiled: str | None = None
    """The key whose value is not what was meant because of it."""
    swallowed: tuple[str, ...] = ()
    """Further unknown keys that come from it."""


def explain(stranger: Stranger) -> Explanation:
    """The slip that gives the key, or the nearest one where none does."""
    found = (look(stranger) for look in _LOOKS if len(stranger.key) <= _LONGEST)
    return next((each for each in found if each is not None), None) or _nearest(stranger)


def fallen_out(siblings: dict[str, Any], properties: dict[str, Any]) -> dict[str, Explanation]:
    """Keys that stand on the level of the key before them and belong into it, which has no value.

    The first key of each such group, with its explanation.
    """
    groups: dict[str, list[str]] = {}
    parent: str | None = None
    for key, value in siblings.items():
        if key in properties:
            # a list may stand on the level of its key
            parent = key if value is None and properties[key].get("type") == "object" else None
        elif parent is not None and _takes(properties[parent], key):
            groups.setdefault(parent, []).append(key)
    return {
        first: Explanation(
            f"'{first}' stands on the level of '{parent}', whose key it is",
            f"begin it two spaces further in, with all lines that belong to '{parent}'",
            spoiled=parent,
            swallowed=tuple(others),
        )
        for parent, (first, *others) in groups.items()
    }


def _takes(schema: dict[str, Any], key: str) -> bool:
    inner = schema.get("properties")
    return key in inner if inner is not None else isinstance(schema.get("additionalProperties"), dict)


def _mark_of_another_tool(it: Stranger) -> Explanation | None:
    if it.key == "<<":
        return Explanation(_unknown(it.key), "merge keys are not used; write the values out")
    if it.key.startswith(("<<<<<<<", "=======", ">>>>>>>")):
        message = f"holds the mark {it.key[:7]}, which a merge left behind"
        return Explanation(message, "keep one of the two versions, and delete the lines of the marks")
    if it.key.startswith(("//", "/*")):
        behind = it.key[2:].strip(" \"'")
        meant = behind if behind in it.allowed else None
        message = f"{shown(it.key)} begins with {it.key[:2]}, which is no remark here"
        return Explanation(message, "begin a remark with #, on a line of its own", meant)
    return None


def _decimal_comma(it: Stranger) -> Explanation | None:
    form = _DECIMALS.fullmatch(it.key)
    if form is None or it.siblings[it.key] is not None:
        return None
    *_, before = [None, *itertools.takewhile(lambda key: key != it.key, it.siblings)]
    whole = it.siblings.get(before) if before else None
    if not isinstance(whole, int) or isinstance(whole, bool):
        return None
    message = f"'{before}' has a decimal comma; between braces a comma ends the value and begins the next key"
    hint = f"write decimals with a point, as in {before}: {whole}.{form['digits']}"
    # the sign of -0 is lost
    return Explanation(message, hint if whole else f"{hint}, with its sign if it has one", spoiled=before)


def _joined(it: Stranger) -> Explanation | None:
    """A key that has swallowed its value, and what of it was parted off at the commas of a quoted text."""
    joined = part(it.key, it.allowed)
    has_value = it.siblings[it.key] is not None
    # a bracket that was to open the value holds the colon that makes it a key
    if joined is None or (has_value and joined.value[0] not in "{["):
        return None
    if has_value:
        return Explanation(joined.message, f"write {joined.key}: {shown(joined.value)[1:-1]}: …", joined.key)
    value, swallowed = joined.value, []
    mark = value[0]
    if mark in "\"'" and not value.endswith(mark, 1):
        _, *behind = itertools.dropwhile(lambda each: each != it.key, it.siblings)
        for key in itertools.takewhile(lambda each: it.siblings[each] is None, behind):
            swallowed.append(key)
            if key.endswith(mark):
                break
    whole = ", ".join((value, *swallowed))
    return Explanation(
        joined.message, f"write {joined.key}: {shown(whole)[1:-1]}", joined.key, swallowed=tuple(swallowed)
    )


def _look_alike(it: Stranger) -> Explanation | None:
    strange = first_strange(it.key)
    if not strange:
        return None
    plain = plain_form(it.key).replace(" ", "")
    meant = plain if plain in it.allowed else _closest(plain, it)
    if meant is None:
        return None
    looks = "looks like a plain one and is none" if strange.isalpha() else "does not belong into a key"
    return Explanation(
        f"{shown(it.key)} holds a character that {looks}: {described(strange)}", f"type it anew: {meant}", meant
    )


def _other_case(it: Stranger) -> Explanation | None:
    form = re.sub(r"[\s-]+", "_", it.key.strip())
    meant = next((each for each in it.allowed if each.lower() == form.lower()), None)
    if meant is None:
        return None
    if form != it.key:
        message = f"{shown(it.key)} is not written as the key is"
    else:
        message = f"{shown(it.key)} has other small and capital letters than the key"
    return Explanation(message, f"write {meant}", meant)


def _other_unit(it: Stranger) -> Explanation | None:
    """The same quantity in another unit, or without one."""
    stem, unit = _split(it.key)
    meant = [each for each in it.allowed if _split(each)[0] == stem and each != it.key and _split(each)[1]]
    if not stem or len(meant) != 1:
        return None
    wanted = _split(meant[0])[1]
    if unit:
        message = f"{shown(it.key)} gives another unit than the key that is known here"
        return Explanation(message, f"write the value in {wanted} behind {meant[0]}", meant[0])
    return Explanation(f"{shown(it.key)} is a key here only with its unit", f"write {meant[0]}", meant[0])


def _split(key: str) -> tuple[str, str]:
    """A key without its unit, and the unit."""
    parts = key.split("_")
    for count in (2, 1):
        unit = "_".join(parts[-count:])
        if len(parts) > count and unit in _UNITS:
            return "_".join(parts[:-count]), unit
    return key, ""


def _nearest(it: Stranger) -> Explanation:
    meant = _closest(it.key, it)
    hint = f"did you mean '{meant}'?" if meant else f"the keys here are {', '.join(it.allowed)}"
    return Explanation(_unknown(it.key), hint, meant)


def _closest(key: str, it: Stranger) -> str | None:
    free = [each for each in it.allowed if each not in it.siblings]
    return nearest_of(key, free) or nearest_of(key, it.allowed)


def _unknown(key: str) -> str:
    return f"{shown(key)} is not a key that is known here"


_LOOKS: tuple[Callable[[Stranger], Explanation | None], ...] = (
    _mark_of_another_tool,
    _decimal_comma,
    _joined,
    _look_alike,
    _other_case,
    _other_unit,
)
