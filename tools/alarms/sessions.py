"""Sessions of a class at the rigs, and the records that its groups hand in."""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from alarms.laboratory import YEARS, Laboratory, Rig, write
from alarms.materials import Material
from alarms.pendulums import Hammer, free_swings, measured_J, read
from notchbook.physics.arrays import FloatArray

_EXERCISES = {
    # exercise: method, notch, how often
    "notched-charpy": ("iso-179-1", "A", 0.5),
    "notch-sensitivity": ("iso-179-1", "B", 0.1),
    "unnotched-charpy": ("iso-179-1", "none", 0.15),
    "notched-izod": ("iso-180", "A", 0.15),
    "cold-bars": ("saltmere-cold", "A", 0.1),
}
_GROUPS = ("G1", "G2", "G3", "G4", "G5", "G6", "G7", "G8")
_BARS = 10
_FEWER, _FEWER_BELOW = 5, 0.05
_BEFORE = (
    "notch base cracked before the test", "bar was bent", "void in the face beside the notch", "fell on the floor",
    "notch cut askew", "flash left at the edge", "used for setting the supports", "scratched",
)  # fmt: skip
_AFTER = ("void in the broken face", "struck off centre", "slipped in the supports", "screen touched the pendulum")
_CONDITIONED_SHORT = 0.03
_HOW_OFTEN_FEWER = 0.3
_LOW, _HIGH = 10.0, 80.0


@dataclass(frozen=True, slots=True)
class _Bars:
    """The bars of a record as they were measured."""

    width_mm: FloatArray
    thickness_mm: FloatArray
    remaining_mm: FloatArray | None
    energy_J: FloatArray
    """What each really takes."""
    letters: list[str]
    excluded: dict[int, str]
    """Why a bar does not count, by its place."""

    @property
    def section_mm2(self) -> FloatArray:
        return self.thickness_mm * (self.width_mm if self.remaining_mm is None else self.remaining_mm)


def write_records(made: Laboratory, root: Path, number: int, random: np.random.Generator) -> int:
    """Write about so many records, spread over the years; how many they are."""
    written: set[str] = set()
    while len(written) < number:
        for name, data in _session(made, random):
            if name not in written:
                write(root / f"results/tests/{name}.yaml", data)
                written.add(name)
    return len(written)


def _session(made: Laboratory, random: np.random.Generator) -> Iterator[tuple[str, dict[str, Any]]]:
    """A day on which one to four groups break bars of one batch."""
    weights = [each[2] for each in _EXERCISES.values()]
    exercise = str(random.choice(list(_EXERCISES), p=weights))
    method, notch, _ = _EXERCISES[exercise]
    year = int(random.choice(YEARS))
    day = dt.date(year, 10, 1) + dt.timedelta(days=int(random.integers(0, 260)))
    material = made.materials[int(random.integers(len(made.materials)))]
    # batches follow each other, a rest of the one before is used up now and then
    passed = (year - YEARS[0] + (day - dt.date(year, 9, 1)).days / 300.0) / len(YEARS)
    place = min(int(passed * len(material.batches)), len(material.batches) - 1)
    if place and random.random() < 0.05:
        place -= 1
    batch, factor = material.batches[place]
    groups = random.choice(_GROUPS, int(random.integers(1, 5)), replace=False)
    for group in groups:
        rig = made.rigs[int(random.integers(len(made.rigs)))]
        mean = material.notched_kJ_m2 * material.factors[method, notch] * factor
        mean *= random.lognormal(0.0, material.between)
        bars = _bars(made, material, mean, notch, random)
        tested = _tested(rig, method, year, bars, random)
        if tested is not None:
            about = {
                "kind": "test", "date": str(day), "group": str(group), "exercise": exercise, "rig": rig.id,
                "hammer": tested.hammer.id, "material": material.id, "batch": batch,
                "specimen": {"type": "1", "notch": notch, "direction": "edgewise"},
            }  # fmt: skip
            data = about | _rest(rig, method, bars, tested, random)
            yield f"{day}-{str(group).lower()}-{material.id}-{exercise}", data


def _bars(made: Laboratory, material: Material, mean_kJ_m2: float, notch: str, random: np.random.Generator) -> _Bars:
    """Bars of one mould, which are nearly alike, measured with the laboratory's caliper."""
    number = _BARS + 2
    letters = material.letters(number, random)

    def measured(middle: float, spread: float, cut: float) -> tuple[FloatArray, FloatArray]:
        true = middle + random.normal(0.0, cut, number)
        seen = true + random.normal(0.0, spread, number)
        return true, np.round(np.round(seen / made.caliper_mm) * made.caliper_mm, 2)

    width, width_seen = measured(10.0 + random.uniform(-0.06, 0.06), 0.006, random.uniform(0.003, 0.015))
    thickness, thickness_seen = measured(4.0 + random.uniform(-0.05, 0.05), 0.006, random.uniform(0.003, 0.012))
    remaining, remaining_seen = measured(8.0 + random.uniform(-0.05, 0.05), 0.008, random.uniform(0.005, 0.02))
    section = thickness * (width if notch == "none" else remaining)
    energy = material.strengths(mean_kJ_m2, letters, random) * section / 1000.0
    left = None if notch == "none" else remaining_seen
    return _Bars(width_seen, thickness_seen, left, energy, letters, _excluded(random))


@dataclass(frozen=True, slots=True)
class _Tested:
    """A record's bars struck with a hammer."""

    hammer: Hammer
    swings: tuple[float, float] | None
    """Readings of the day's own free swings."""
    readings: FloatArray
    strengths_kJ_m2: FloatArray
    used: list[int]
    """Places of the bars that stand in the record."""
    counted: list[int]
    """Of these the ones that count."""


def _tested(rig: Rig, method: str, year: int, bars: _Bars, random: np.random.Generator) -> _Tested | None:
    """The largest hammer whose window holds all energies, with the readings; None where the rig has none."""
    for hammer in rig.hammers[year]:
        if hammer.method != method or (bars.energy_J > 0.95 * hammer.nominal_J).any():
            continue
        readings = read(hammer, rig.scale, hammer.rise_deg(bars.energy_J), random)
        swings = free_swings(hammer, rig.scale)
        energies = measured_J(hammer, rig.scale, swings, readings)
        strengths = 1000.0 * energies / bars.section_mm2
        used, counted = _used(bars, strengths, random)
        broken = [each for each in counted if bars.letters[each] != "N"]
        share = 100.0 * energies / hammer.potential_J
        if (share[broken] >= _LOW).all() and (share[broken] <= _HIGH).all() and (share > 0.5 * _LOW).all():
            own = swings if random.random() < 0.25 else None
            return _Tested(hammer, own, readings, strengths, used, counted)
    return None


def _rest(rig: Rig, method: str, bars: _Bars, tested: _Tested, random: np.random.Generator) -> dict[str, Any]:
    """Climate, bars, what was reported and what was declared."""
    angle = rig.scale.reads == "angle"
    data: dict[str, Any] = {}
    cold = method == "saltmere-cold"
    hours = float(random.choice([3, 4, 5, 24] if cold else [16, 18, 20, 24, 40, 48, 72, 88, 96, 168, 240]))
    is_short = not cold and random.random() < _CONDITIONED_SHORT
    data["conditioning"] = {
        "temperature_C": round(float(random.uniform(-21.2, -18.8) if cold else random.uniform(22.0, 24.0)), 1),
        "humidity_pct": int(random.integers(45, 56)),
        "hours": float(random.integers(4, 13)) if is_short else hours,
    }
    data["test_atmosphere"] = {
        "temperature_C": round(float(random.uniform(21.3, 24.7)), 1),
        "humidity_pct": int(random.integers(41, 60)),
    }
    if tested.swings is not None:
        names = ("first_rise_deg", "second_rise_deg")
        if not angle:
            names = ("first_indicated_energy_J", "second_indicated_energy_J")
        data["free_swings"] = dict(zip(names, tested.swings, strict=True))
    rows = []
    for index in tested.used:
        row: dict[str, Any] = {"id": str(index + 1), "width_mm": float(bars.width_mm[index])}
        row["thickness_mm"] = float(bars.thickness_mm[index])
        if bars.remaining_mm is not None:
            row["remaining_width_mm"] = float(bars.remaining_mm[index])
        reason = bars.excluded.get(index)
        if reason not in _BEFORE:
            row["rise_angle_deg" if angle else "indicated_energy_J"] = float(tested.readings[index])
        row["break"] = bars.letters[index]
        if reason is not None:
            row["excluded"] = reason
        rows.append(row)
    data["specimens"] = rows
    letters = {bars.letters[each] for each in tested.counted}
    if random.random() < 0.5 and tested.swings is None and letters == {"C"}:
        found = tested.strengths_kJ_m2[tested.counted]
        data["reported"] = {"mean_kJ_m2": round(float(found.mean()), 1),
                            "standard_deviation_kJ_m2": round(float(found.std(ddof=1)), 2)}  # fmt: skip
    if is_short:
        reason = "The bars came late from the workshop."
        data["deviations"] = [{"rule": "conditioning", "reason": reason, "accepted_by": "LT-1"}]
    return data


def _used(bars: _Bars, strengths_kJ_m2: FloatArray, random: np.random.Generator) -> tuple[list[int], list[int]]:
    """Places of the bars that are struck until enough count, and of those that count.

    Ten bars count; now and then five, where they vary as little as the methods ask for.
    """
    counted = [each for each in range(len(bars.letters)) if each not in bars.excluded][:_BARS]
    few = strengths_kJ_m2[counted[:_FEWER]]
    is_one_set = len(set(bars.letters)) == 1 and bars.letters[0] != "N"
    if is_one_set and few.std(ddof=1) < _FEWER_BELOW * few.mean() and random.random() < _HOW_OFTEN_FEWER:
        counted = counted[:_FEWER]
    return list(range(counted[-1] + 1)), counted


def _excluded(random: np.random.Generator) -> dict[int, str]:
    """The reasons of the bars that do not count, by place; most are seen before the bar is struck."""
    number = int(random.choice([0, 1, 2], p=[0.85, 0.12, 0.03]))
    places = random.choice(_FEWER, number, replace=False)
    return {int(place): str(random.choice(_BEFORE if random.random() < 0.75 else _AFTER)) for place in places}
