"""Bars that agree in all numbers on coarse scales, where chance makes them agree, are seldom called copied."""

import dataclasses
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from conftest import Bench
from notchbook.checks.bar_tables import bar_tables
from notchbook.checks.copies import repeated_readings
from notchbook.model.record import Record

_SETS, _BARS = 400, 10
POM = "2026-10-13-g3-pom"
# Common practice, no source: bars of one mould differ by hundredths of a millimetre, a calliper has steps of 0.01 or
# 0.02 mm, and energies of a plastic vary by 2 to 25 %.
_SPREAD_mm, _STEP_mm = 0.01, 0.02


def _sound(record: Record, division: float, mean: float, variation: float, seed: int) -> list[Record]:
    random = np.random.default_rng([seed, 0])

    def column(middle: float, spread: float, step: float) -> list[list[float]]:
        values = random.normal(middle, spread, (_SETS, _BARS))
        made: list[list[float]] = np.round(np.round(values / step) * step, 4).tolist()
        return made

    columns = (
        column(10.0, _SPREAD_mm, _STEP_mm), column(4.0, _SPREAD_mm, _STEP_mm), column(8.0, _SPREAD_mm, _STEP_mm),
        column(mean, variation * mean, division),
    )  # fmt: skip
    first, found = record.specimens[0], []
    for place in range(_SETS):
        bars = tuple(
            dataclasses.replace(
                first, id=f"{bar + 1:02}", width_mm=w, thickness_mm=h, remaining_width_mm=b, rise_angle_deg=rise
            )
            for bar, (w, h, b, rise) in enumerate(zip(*(each[place] for each in columns), strict=True))
        )
        found.append(dataclasses.replace(record, id=f"sound-{place:04}", specimens=bars))
    return found


@pytest.mark.parametrize(
    ("division_deg", "mean_deg", "variation"),
    [(2.5, 80.0, 0.15), (5.0, 90.0, 0.15), (0.25, 83.0, 0.01), (0.2, 83.0, 0.02)],
)
def test_sound_sets_on_coarse_scales_are_seldom_told(
    bench: Bench, division_deg: float, mean_deg: float, variation: float
) -> None:
    library = bench.open().library
    rig = library.rigs["rig-1"]
    indicator = dataclasses.replace(rig.indicator, division_deg=division_deg)
    records = _sound(library.records[POM], division_deg, mean_deg, variation, round(100 * division_deg))
    tables = bar_tables(records, {("rig-1", records[0].hammer): indicator})
    cases: list[Any] = [SimpleNamespace(record=each, around=SimpleNamespace(tables=tables)) for each in records]
    told = [each.record.id for each in cases if any(repeated_readings(each))]
    # one in a hundred is the bound for all rules together
    assert len(told) <= 0.005 * _SETS, told
