"""Slips that would explain a reading far off those of its set: what it may have been meant to be.

Each is tried on the bar itself, and told where its strength is then among those of the others. Which slips are made is
common practice, no source.
"""

from collections.abc import Iterator
from dataclasses import replace

from notchbook.evaluation.hammers import SwungHammer, swung_hammers
from notchbook.evaluation.records import evaluate_record
from notchbook.evaluation.resolved import ResolvedRecord
from notchbook.evaluation.scale import full_scale
from notchbook.wording.numbers import number

_AMONG = 1.25
"""How far from the others, as a factor, a strength may lie and still be one of them."""
_NUMBERED = 10
"""Divisions from one number of a scale to the next."""
_MISSED_DIVISIONS = 2.0
"""Divisions within which a reading and that of the free swing are one."""


def likely_slips(case: ResolvedRecord, index: int, low_kJ_m2: float, high_kJ_m2: float) -> list[str]:
    """What may have happened to a bar's reading, in words, the simplest slip first; empty where none explains it.

    Arguments:
        case: the record.
        index: place of the bar.
        low_kJ_m2: the least strength of the others.
        high_kJ_m2: their greatest.
    """
    found = list(dict.fromkeys(_explaining(case, index, low_kJ_m2 / _AMONG, high_kJ_m2 * _AMONG)))
    return [*found, *_missed(case, index)]


def _explaining(case: ResolvedRecord, index: int, low: float, high: float) -> Iterator[str]:
    hammer, read = case.hammer, _reading(case, index)
    if hammer is None or case.rig is None or read is None:
        return
    key, unit, reading = read

    def among(meant: float, swung: SwungHammer = hammer) -> bool:
        strength = _strength_kJ_m2(case, index, key, meant, swung)
        return strength is not None and low <= strength <= high

    for words, meant in _meant(case, index, key, reading, full_scale(case.rig.indicator, hammer)):
        if among(meant):
            yield f"{words} ({number(meant)}{unit})"
    for other in swung_hammers(case.rig).values():
        if other.id == hammer.id or other.potential_energy_J == hammer.potential_energy_J:
            continue
        share = other.potential_energy_J / hammer.potential_energy_J
        if among(reading, other) if key == "rise_angle_deg" else among(reading * share):
            yield f"a swing of hammer '{other.id}'"
        elif key == "indicated_energy_J" and among(reading / share):
            yield f"a reading from the numbers of hammer '{other.id}'"


def _reading(case: ResolvedRecord, index: int) -> tuple[str, str, float] | None:
    """The key, the unit and the number that the bar's energy follows from."""
    bar = case.record.specimens[index]
    if bar.rise_angle_deg is not None:
        return "rise_angle_deg", "°", bar.rise_angle_deg
    return ("indicated_energy_J", " J", bar.indicated_energy_J) if bar.indicated_energy_J is not None else None


def _meant(case: ResolvedRecord, index: int, key: str, reading: float, full: float) -> Iterator[tuple[str, float]]:
    """Other readings of the scale that the one may have been, each with the slip that makes it of them."""
    yield from (("a slipped decimal point", round(reading * factor, 9)) for factor in (10.0, 0.1))
    digits = number(reading)
    for place in range(len(digits) - 1):
        if digits[place : place + 2].isdigit():
            exchanged = digits[:place] + digits[place + 1] + digits[place] + digits[place + 2 :]
            yield "two digits that changed places", float(exchanged)
    yield "the other end of the scale taken for its zero", round(full - reading, 9)
    bars, own = case.record.specimens, _own_set(case, index)
    for beside in (index - 1, index + 1):
        value = getattr(bars[beside], key) if 0 <= beside < len(bars) and beside not in own else None
        if value is not None:
            yield f"a reading exchanged with that of bar {bars[beside].id}", value
    division = case.scale_read.division if case.scale_read is not None else None
    if division is not None:
        for off in (-_NUMBERED * division, _NUMBERED * division):
            yield "the number beside the right one", round(reading + off, 9)


def _own_set(case: ResolvedRecord, index: int) -> tuple[int, ...]:
    """Places of the bars of a bar's set, whose readings all explain its strength and tell nothing."""
    sets = case.result.sets if case.result is not None else ()
    return next((each.members for each in sets if index in each.members), ())


def _strength_kJ_m2(case: ResolvedRecord, index: int, key: str, reading: float, hammer: SwungHammer) -> float | None:
    """What the bar would have with another reading or hammer; the losses are taken to be as they are."""
    if case.method is None or case.losses is None or reading <= 0.0:
        return None
    bar = case.record.specimens[index]
    bar = replace(bar, rise_angle_deg=reading) if key == "rise_angle_deg" else replace(bar, indicated_energy_J=reading)
    losses = replace(case.losses, release_angle_deg=hammer.release_angle_deg)
    result = evaluate_record(replace(case.record, specimens=(bar,)), hammer, case.method, losses, None)
    return result.specimens[0].strength_kJ_m2


def _missed(case: ResolvedRecord, index: int) -> Iterator[str]:
    """Whether the reading is that of a free swing, so that the bar was not met."""
    result = case.result.specimens[index] if case.result is not None else None
    if result is None or result.energy_J is None or result.rise_angle_deg is None:
        return
    if abs(result.energy_J) <= _MISSED_DIVISIONS * case.division_worth_J(result.rise_angle_deg):
        yield "a swing that did not meet the bar"
