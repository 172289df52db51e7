"""Charts that explain: loss corrections over the rise, and intervals over the number of bars."""

import numpy as np

from notchbook.charts.theory import IntervalChart, LossChart, interval_chart, loss_chart
from notchbook.facts.facts import Facts
from notchbook.wording.dates import day_words

_ANGLES = 31
_FEWEST, _MOST = 3, 20
"""Numbers of bars that are drawn; the interval of two is so wide that it would flatten the rest."""


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
    title = f"Loss correction of the {case.hammer.title}, {day_words(case.verification.date)}"
    values = (tuple(np.asarray(each).tolist()) for each in (rise_deg, plastics, metals))
    return loss_chart(LossChart(prefix, title, losses.release_angle_deg, *values))


def intervals(facts: Facts, record_id: str, prefix: str) -> str:
    """How the interval of the record's largest set would narrow with more bars; empty without a scatter."""
    line = facts.record(record_id)
    found = line.sets[0] if line.sets else None
    deviation = found.result.summary.standard_deviation if found is not None else None
    if found is None or deviation is None:
        return ""
    numbers = range(_FEWEST, max(_MOST, found.n) + 1)
    title = f"Interval of the mean by the number of bars, {line.material_name}, {day_words(line.date)}"
    widths = {n: width for n in numbers if (width := found.half_width_kJ_m2(n)) is not None}
    return interval_chart(IntervalChart(prefix, title, widths, found.n, deviation))
