"""Notch sensitivity of a material: sharper notches against blunter ones and bars without a notch."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import combinations

from notchbook.evaluation.sensitivity import MeanRatio, mean_ratio
from notchbook.facts.alike import Departure, alike
from notchbook.facts.records import RecordFacts
from notchbook.wording.numbers import plain


@dataclass(frozen=True, slots=True)
class SensitivityLine:
    """One row: bars with the sharper notch over those with a blunter one or none, struck at one speed."""

    method: str
    """Id of the method."""
    sharper: str
    """Notch of the bars above the line."""
    blunter: str
    """That of those below it, `none` for bars without one."""
    sharper_words: str
    """The first in words, with the designation of the test."""
    blunter_words: str
    speed_m_s: float | None
    """Nominal velocity; None where the two were never struck at the same."""
    departure: Departure
    """What the records of both depart in."""
    breaks: str
    """Letters of the break types that occur, empty where there is no ratio."""
    ratio: MeanRatio | None
    reason: str
    """Why there is no ratio, empty where there is one."""


@dataclass(slots=True)
class _Pool:
    """The records of one notch at one speed, their bars by the break types that share a mean."""

    strengths: dict[tuple[str, ...], list[list[float]]] = field(default_factory=dict)
    """A list a record, in kJ/m2."""
    letters: dict[tuple[str, ...], set[str]] = field(default_factory=dict)
    """Break types that occur of those."""


@dataclass(slots=True)
class _Notch:
    """A notch of one method, specimen type and direction."""

    id: str
    words: str
    radius_mm: float
    pools: dict[float, _Pool] = field(default_factory=dict)
    """By nominal velocity, in m/s."""


def sensitivity_lines(lines: Sequence[RecordFacts]) -> list[SensitivityLine]:
    """A row for every pair of notches in one method, specimen type, direction and speed.

    Records that keep to the method are set against each other, and then those that depart in the same. Only bars that
    broke in ways that share a mean are.
    """
    found: list[SensitivityLine] = []
    for departure, group in alike(lines).items():
        for (method, _, _), notches in _notches(group).items():
            ordered = sorted(notches.values(), key=lambda each: (each.radius_mm, each.words))
            for sharper, blunter in combinations(ordered, 2):
                if sharper.radius_mm < blunter.radius_mm:
                    found += _compared(method, sharper, blunter, departure)
    return found


def _notches(lines: Sequence[RecordFacts]) -> dict[tuple[str, str, str], dict[str, _Notch]]:
    """Notches by method, type and direction."""
    found: dict[tuple[str, str, str], dict[str, _Notch]] = {}
    for line in lines:
        speed = line.speed_m_s
        if line.method is None or line.result is None or speed is None:
            continue
        chosen = line.record.specimen
        same = found.setdefault((line.method.id, chosen.type, chosen.direction), {})
        words = f"{line.notch_words} ({line.designation})"
        notch = same.setdefault(chosen.notch, _Notch(chosen.notch, words, line.notch_radius_mm))
        pool = notch.pools.setdefault(speed, _Pool())
        for each in line.sets:
            bars = (line.result.specimens[place].strength_kJ_m2 for place in each.result.members)
            group = each.together
            pool.strengths.setdefault(group, []).append([strength for strength in bars if strength is not None])
            pool.letters.setdefault(group, set()).update(each.result.breaks)
    return {key: found[key] for key in sorted(found)}


def _compared(method: str, sharper: _Notch, blunter: _Notch, departure: Departure) -> Iterator[SensitivityLine]:
    def line(
        speed_m_s: float | None, breaks: str = "", ratio: MeanRatio | None = None, reason: str = ""
    ) -> SensitivityLine:
        return SensitivityLine(
            method, sharper.id, blunter.id, sharper.words, blunter.words, speed_m_s, departure, breaks, ratio, reason
        )

    speeds = sorted(sharper.pools.keys() & blunter.pools.keys())
    if not speeds:
        ways = (", ".join(map(plain, sorted(each.pools))) for each in (sharper, blunter))
        yield line(None, reason=f"struck at different speeds: {' against '.join(ways)} m/s")
    for speed in speeds:
        above, below = sharper.pools[speed], blunter.pools[speed]
        shared = [group for group in above.strengths if group in below.strengths]
        ratios = {group: mean_ratio(above.strengths[group], below.strengths[group]) for group in shared}
        rows = [
            line(speed, "/".join(sorted(above.letters[group] | below.letters[group])), ratio)
            for group, ratio in ratios.items()
            if ratio is not None
        ]
        yield from rows or [line(speed, reason=_reason(sharper.words, above, blunter.words, below))]


def _reason(sharper: str, above: _Pool, blunter: str, below: _Pool) -> str:
    silent = [words for words, pool in ((sharper, above), (blunter, below)) if not pool.strengths]
    if silent:
        return f"no strength of bars {' and '.join(silent)}"
    kinds = (", ".join("/".join(sorted(letters)) for letters in each.letters.values()) for each in (above, below))
    return f"the bars broke in different ways: {' against '.join(kinds)}"
