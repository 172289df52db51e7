"""Heads of columns and names of values, as people write them: words, and a unit in brackets or behind."""

import re
from dataclasses import dataclass

_BRACKETS = re.compile(r"\A(?P<before>.*?)[\s,;:/]*[(\[{](?P<inside>[^()\[\]{}]*)[)\]}]\s*\Z", re.DOTALL)
_BETWEEN_WORDS = re.compile(r"[\s_.,;:/#?!*-]+")
_LONGEST_HEAD = 120
_MOST_UNIT_WORDS = 3
LIKE_A_HEAD = 0.7
"""How like a known word a text of a table has to be for the word to be proposed; tables hold many words of others."""
# By the form of the contract's keys; each name in small letters, with what stands between words taken for a space.
_UNITS = {
    "mm": ("mm", "millimetre", "millimetres", "millimeter", "millimeters"),
    "deg": ("deg", "°", "º", "degree", "degrees", "degs"),
    "J": ("j", "joule", "joules"),
    "kJ_m2": ("kj m2", "kj m²", "kj m^2", "kj m 2", "kj·m⁻²", "kj m⁻²", "kj m**2", "kj sqm"),
    "C": ("c", "°c", "ºc", "℃", "deg c", "degc", "celsius", "degrees c", "degrees celsius"),
    "pct": ("%", "pct", "percent", "per cent", "% rh", "%rh", "% r h"),
    "h": ("h", "hour", "hours", "hr", "hrs"),
    "s": ("s", "sec", "second", "seconds"),
    "Nm": ("nm", "n m", "n·m"),
}
UNIT_WORDS = {
    "mm": "mm", "deg": "degrees", "J": "J", "kJ_m2": "kJ/m²", "C": "°C", "pct": "%", "h": "hours", "s": "seconds",
    "Nm": "Nm",
}  # fmt: skip
"""The units of the contract in words."""
# Units that a sheet may be in and a record may not: recognised, so that they can be named.
_OTHER_UNITS = frozenset({
    "cm", "m", "µm", "μm", "um", "micron", "microns", "in", "inch", "inches", "mil", "mils", "thou", '"',
    "rad", "radian", "radians", "gon", "grad", "mj", "kj", "ncm", "ft lb", "ft lbf", "ftlb", "ft·lbf",
    "cal", "kgf cm", "kpcm", "kj cm2", "kj cm²", "j m2", "j m²", "j m^2", "j cm2", "j cm²", "j mm2", "j mm²", "j m",
    "kj m", "ft lb in", "ft lb in²", "mj mm2", "mj mm²", "n mm", "n mm2", "n mm²", "mpa",
    "k", "kelvin", "f", "°f", "fahrenheit", "d", "day", "days", "min", "minutes",
})  # fmt: skip


@dataclass(frozen=True, slots=True)
class Name:
    """What a head says."""

    words: str
    """Small letters, one space between words, without the unit."""
    unit: str | None
    """A unit of the contract; None where none stands there or it is another."""
    other: str
    """A unit that is none of the contract's, or words in brackets that are no unit, as they stand there."""


def words_of(text: str) -> str:
    """A text in small letters with one space between its words; underscores, hyphens and dots are no words."""
    return _BETWEEN_WORDS.sub(" ", text[:_LONGEST_HEAD].casefold()).strip()


def unit_of(text: str) -> str | None:
    """The unit of the contract that a text names."""
    words = words_of(text)
    return next((unit for unit, names in _UNITS.items() if words in names), None)


def is_other_unit(text: str) -> bool:
    """Whether a text names a unit that the contract does not use."""
    return words_of(text) in _OTHER_UNITS


def readings_of(head: str) -> list[Name]:
    """Every way to take a head, the likeliest first: as words alone, with brackets behind, with a unit behind."""
    head = head.strip()[:_LONGEST_HEAD]
    found = [Name(words_of(head), None, "")]
    brackets = _BRACKETS.match(head)
    if brackets:
        inside = brackets["inside"].strip()
        unit = unit_of(inside)
        # the symbol of the quantity may stand in brackets too, before the unit or alone
        found += [
            Name(before.words, unit or before.unit, "" if unit else before.other or inside)
            for before in readings_of(brackets["before"])
        ]
        return found
    parts = found[0].words.split(" ")
    for count in range(1, min(_MOST_UNIT_WORDS, len(parts) - 1) + 1):
        before, behind = " ".join(parts[:-count]).removesuffix(" in"), " ".join(parts[-count:])
        unit = unit_of(behind)
        if unit or is_other_unit(behind):
            found.append(Name(before, unit, "" if unit else behind))
    return found
