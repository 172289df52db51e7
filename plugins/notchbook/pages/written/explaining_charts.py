"""Charts that explain: loss corrections over the rise, intervals over the number of bars, chosen tests together."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from notchbook.charts.comparison import ComparisonChart, ComparisonGroup, ComparisonRow, comparison_chart
from notchbook.charts.theory_interval import IntervalChart, interval_chart
from notchbook.charts.theory_losses import LossChart, loss_chart
from notchbook.evaluation.precision import half_width
from notchbook.pages.results import break_kinds, result_line
from notchbook.wording.dates import day_words
from notchbook.wording.numbers import plain

if TYPE_CHECKING:
    from notchbook.handbook import Handbook
    from notchbook.pages.results import ResultLine

_ANGLES = 31
_FEWEST, _MOST = 3, 20
"""Numbers of bars that are drawn; the interval of two is so wide that it would flatten the rest."""
_RATIO_FOR_LOGARITHMIC = 4.0
"""From this ratio of the largest mean to the smallest on, a straight axis would crowd the small ones together."""


def corrections(handbook: Handbook, verification_id: str, prefix: str) -> str:
    """Both forms of the loss correction of a verification with later swings; empty without them."""
    found = handbook.evaluation.verifications.get(verification_id)
    losses = found.losses if found is not None else None
    if losses is None:
        return ""
    rise_deg = np.linspace(0.0, losses.second_rise_deg, _ANGLES)
    plastics, metals = losses.in_test_J("plastics", rise_deg), losses.in_test_J("metals", rise_deg)
    if plastics is None or metals is None:
        return ""
    verification = handbook.library.verifications[verification_id]
    hammer = handbook.evaluation.hammers[verification.rig, verification.hammer]
    chart = LossChart(
        id_prefix=prefix,
        title=f"Loss correction of the {hammer.title}, {day_words(verification.date)}",
        release_angle_deg=losses.release_angle_deg,
        rise_deg=tuple(rise_deg.tolist()),
        plastics_J=tuple(np.asarray(plastics).tolist()),
        metals_J=tuple(np.asarray(metals).tolist()),
    )
    return loss_chart(chart)


def intervals(handbook: Handbook, record_id: str, prefix: str) -> str:
    """How the interval of the record's largest set would narrow with more bars; empty without a scatter."""
    line = result_line(handbook, handbook.library.records[record_id])
    deviation = line.sets[0].result.summary.standard_deviation if line.sets else None
    if deviation is None:
        return ""
    own = line.sets[0].n
    numbers = range(_FEWEST, max(_MOST, own) + 1)
    chart = IntervalChart(
        id_prefix=prefix,
        title=f"Interval of the mean by the number of bars, {line.material_name}, {day_words(line.date)}",
        half_widths_kJ_m2={n: half_width(deviation, n) for n in numbers},
        own_n=own,
        standard_deviation_kJ_m2=deviation,
    )
    return interval_chart(chart)


def chosen_tests(handbook: Handbook, record_ids: str, prefix: str) -> str:
    """The results of some records, their ids with commas between, in that order."""
    lines = [result_line(handbook, handbook.library.records[each]) for each in record_ids.split(",")]
    groups = [ComparisonGroup(_heading(line), _rows(line)) for line in lines if line.sets or line.unbroken]
    if not groups:
        return ""
    means = [row.mean_kJ_m2 for each in groups for row in each.rows if row.mean_kJ_m2 is not None]
    wide = bool(means) and min(means) > 0.0 and max(means) > _RATIO_FOR_LOGARITHMIC * min(means)
    kinds = break_kinds(line.method for line in lines)
    return comparison_chart(ComparisonChart(prefix, "Results side by side", tuple(groups), kinds, logarithmic=wide))


def _heading(line: ResultLine) -> str:
    temperature = plain(line.record.conditioning.temperature_C)
    return f"{line.material_name}, {line.designation}, {line.notch_words}, {temperature} °C"


def _rows(line: ResultLine) -> tuple[ComparisonRow, ...]:
    label, deviates = f"{line.date:%Y-%m-%d} {line.record.group}", not line.verdict.conforms
    rows = [
        ComparisonRow(label, each.result.breaks, each.result.summary.mean, each.result.summary.interval, deviates)
        for each in line.sets
    ]
    if line.unbroken:
        rows.append(ComparisonRow(label, line.unbroken_letters, None, None, deviates))
    return tuple(rows)
