"""Notch sensitivity of a material: sharper notches against blunter ones and bars without a notch."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import combinations

from notchbook.evaluation.sensitivity import MeanRatio, mean_ratio
from notchbook.facts.records import RecordFacts


@dataclass(frozen=True, slots=True)
class SensitivityLine:
    """One row: bars with the sharper notch over those with a blunter one or none."""

    sharper: str
    """Notch in words and designation of the bars above the line."""
    blunter: str
    """The same of those below it."""
    breaks: str
    """Letters of the break types that occur, empty where there is no ratio."""
    ratio: MeanRatio | None
    reason: str
    """Why there is no ratio, empty where there is one."""


@dataclass(slots=True)
class _Pool:
    """The single bars of all conforming records of one arrangement."""

    words: str
    radius_mm: float
    strengths: dict[tuple[str, ...], list[float]] = field(default_factory=dict)
    """By the break types that share a mean, in kJ/m2."""
    letters: dict[tuple[str, ...], set[str]] = field(default_factory=dict)
    """Break types that occur of those."""


def sensitivity_lines(lines: Sequence[RecordFacts]) -> list[SensitivityLine]:
    """A row for every pair of notches in one method, specimen type and direction, from conforming records alone.

    Only bars that broke in ways that share a mean are set against each other; the bars of all records of an arrangement
    are taken as one set.
    """
    found = []
    for pools in _pools(lines).values():
        ordered = sorted(pools.values(), key=lambda each: (each.radius_mm, each.words))
        for sharper, blunter in combinations(ordered, 2):
            if sharper.radius_mm < blunter.radius_mm:
                found += _compared(sharper, blunter)
    return found


def _pools(lines: Sequence[RecordFacts]) -> dict[tuple[str, str, str], dict[str, _Pool]]:
    """Pools by method, type and direction, and then by notch."""
    found: dict[tuple[str, str, str], dict[str, _Pool]] = {}
    for line in lines:
        if line.method is None or line.result is None or not line.verdict.conforms:
            continue
        chosen = line.record.specimen
        alike = found.setdefault((line.method.id, chosen.type, chosen.direction), {})
        words = f"{line.notch_words} ({line.designation})"
        pool = alike.setdefault(chosen.notch, _Pool(words, line.notch_radius_mm))
        for each in line.sets:
            bars = (line.result.specimens[place].strength_kJ_m2 for place in each.result.members)
            group = line.method.breaks.group_of(each.result.breaks[0])
            pool.strengths.setdefault(group, []).extend(strength for strength in bars if strength is not None)
            pool.letters.setdefault(group, set()).update(each.result.breaks)
    return {key: found[key] for key in sorted(found)}


def _compared(sharper: _Pool, blunter: _Pool) -> list[SensitivityLine]:
    shared = [group for group in sharper.strengths if group in blunter.strengths]
    ratios = {group: mean_ratio(sharper.strengths[group], blunter.strengths[group]) for group in shared}
    rows = [
        SensitivityLine(
            sharper.words, blunter.words, "/".join(sorted(sharper.letters[group] | blunter.letters[group])), ratio, ""
        )
        for group, ratio in ratios.items()
        if ratio is not None
    ]
    return rows or [SensitivityLine(sharper.words, blunter.words, "", None, _reason(sharper, blunter))]


def _reason(sharper: _Pool, blunter: _Pool) -> str:
    silent = [each.words for each in (sharper, blunter) if not each.strengths]
    if silent:
        return f"no strength of bars {' and '.join(silent)}"
    kinds = (", ".join("/".join(sorted(letters)) for letters in each.letters.values()) for each in (sharper, blunter))
    return f"the bars broke in different ways: {' against '.join(kinds)}"
