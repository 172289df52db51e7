"""Charts that explain: loss corrections over the rise, intervals over the number of bars, chosen tests together."""

import numpy as np

from notchbook.charts.comparison import comparison_chart
from notchbook.charts.kinds import kinds_of
from notchbook.charts.shown import ComparisonChart, ComparisonGroup, ComparisonRow
from notchbook.charts.theory import IntervalChart, LossChart, interval_chart, loss_chart
from notchbook.facts.facts import Facts
from notchbook.facts.records import RecordFacts
from notchbook.wording.dates import day_words
from notchbook.wording.numbers import plain

_ANGLES = 31
_FEWEST, _MOST = 3, 20
"""Numbers of bars that are drawn; the interval of two is so wide that it would flatten the rest."""
_RATIO_FOR_LOGARITHMIC = 4.0
"""From this ratio of the largest mean to the smallest on, a straight axis would crowd the small ones together."""


def corrections(facts: Facts, verification_id: str, prefix: str) -> str:
    """Both forms of the loss correction of a verification with later swings; empty without them."""
    case = facts.verifications[verification_id]
    losses = case.losses
    if losses is None or case.hammer is None:
        return ""
    rise_deg = np.linspace(0.0, losses.second_rise_deg, _ANGLES)
    plastics, metals = losses.in_test_J("plastics", rise_deg), losses.in_test_J("metals", rise_deg)
    if plastics is None or metals is None:
        return ""
    chart = LossChart(
        id_prefix=prefix,
        title=f"Loss correction of the {case.hammer.title}, {day_words(case.verification.date)}",
        release_angle_deg=losses.release_angle_deg,
        rise_deg=tuple(rise_deg.tolist()),
        plastics_J=tuple(np.asarray(plastics).tolist()),
        metals_J=tuple(np.asarray(metals).tolist()),
    )
    return loss_chart(chart)


def intervals(facts: Facts, record_id: str, prefix: str) -> str:
    """How the interval of the record's largest set would narrow with more bars; empty without a scatter."""
    line = facts.record(record_id)
    found = line.sets[0] if line.sets else None
    deviation = found.result.summary.standard_deviation if found is not None else None
    if found is None or deviation is None:
        return ""
    numbers = range(_FEWEST, max(_MOST, found.n) + 1)
    chart = IntervalChart(
        id_prefix=prefix,
        title=f"Interval of the mean by the number of bars, {line.material_name}, {day_words(line.date)}",
        half_widths_kJ_m2={n: width for n in numbers if (width := found.half_width_kJ_m2(n)) is not None},
        own_n=found.n,
        standard_deviation_kJ_m2=deviation,
    )
    return interval_chart(chart)


def chosen_tests(facts: Facts, record_ids: str, prefix: str) -> str:
    """The results of some records, their ids with commas between, in that order."""
    lines = [facts.record(each) for each in record_ids.split(",")]
    groups = [ComparisonGroup(_heading(line), _rows(line)) for line in lines if line.sets or line.unbroken]
    if not groups:
        return ""
    means = [row.mean_kJ_m2 for each in groups for row in each.rows if row.mean_kJ_m2 is not None]
    wide = bool(means) and min(means) > 0.0 and max(means) > _RATIO_FOR_LOGARITHMIC * min(means)
    kinds = kinds_of(line.method for line in lines)
    return comparison_chart(ComparisonChart(prefix, "Results side by side", tuple(groups), kinds, logarithmic=wide))


def _heading(line: RecordFacts) -> str:
    temperature = plain(line.record.conditioning.temperature_C)
    return f"{line.material_name}, {line.designation}, {line.notch_words}, {temperature} °C"


def _rows(line: RecordFacts) -> tuple[ComparisonRow, ...]:
    label, deviates = f"{line.date:%Y-%m-%d} {line.record.group}", not line.verdict.conforms
    rows = [
        ComparisonRow(label, each.result.breaks, each.result.summary.mean, each.result.summary.interval, deviates)
        for each in line.sets
    ]
    if line.unbroken:
        rows.append(ComparisonRow(label, line.unbroken_letters, None, None, deviates))
    return tuple(rows)
