"""A record's results against what is known of its material and its batch, and each bar against its set."""

import math
import statistics
from collections.abc import Iterator, Sequence
from itertools import chain

from notchbook.checks.reading_slips import likely_slips
from notchbook.checks.readings import ENERGY_WINDOW, energy_window, loss_floor, rise_angle
from notchbook.checks.specimens import unit_slips
from notchbook.checks.subject import Check, Complaint
from notchbook.evaluation.records import SetResult
from notchbook.evaluation.resolved import ResolvedRecord
from notchbook.findings import Rule, Severity
from notchbook.statistics.outliers import furthest_outlier
from notchbook.wording.numbers import number, to_figures

_FEWEST = 3
"""Bars of a set whose mean says anything."""
_BEYOND_RANGE = 1.25
"""Batches and laboratories may lie so far outside a range from a handbook, as a factor."""
_SIGNIFICANCE = 0.001
"""Of Grubbs' test: ten times rarer than the 1 % at which ISO 5725-2 calls a value an outlier, so that of a thousand
sound sets one is told at most."""
_SKEWED = (math.log, lambda strength: strength * strength)
"""Scatter is skewed to the high side in some materials and to the low side in others; what stands apart does so
whether its values or one of these are held normal."""
_DIVISIONS = 3.0
"""A bar that lies so near to the others may be read alike by somebody else."""
_GROSS, _GROSS_DEVIATIONS, _SLIPPED = 1.7, 8.0, 5.0
_FEWEST_OTHERS = 4
_PAIR = 2

TYPICAL_STRENGTH = Rule(
    "typical-strength",
    "A record's mean lies near the range that is typical of its material",
    "A wrong hammer, a slipped point or another material gives results that are possible, but not of this material.",
    "the range in the material's file; that a mean may lie a fourth outside of it: common practice, no source",
    "Compare material, hammer and dimensions with the sheet of the day; if they are right, look whether the range in "
    "the material's file holds for this grade.",
    Severity.WARNING,
)
SET_OUTLIER = Rule(
    "set-outlier",
    "No bar stands apart from the others of its set beyond their scatter",
    "A misread scale, a slipped digit or a bar with a flaw is in the mean as if it were sound.",
    "Grubbs' test (ISO 5725-2, 7.3.4, from memory) at 0.1 % of strengths, of their squares and of their logarithms; a "
    "factor of 1.7 beyond eight standard deviations of the others, or of 5, also in sets of two to four; at "
    "least three divisions of the scale; slips that would explain it, each tried on the bar: common practice, no "
    "source",
    "Compare the bar's row with the sheet of the day and look at its pieces; exclude it only for a cause that can be "
    "seen there.",
    Severity.WARNING,
)


def _main_sets(case: ResolvedRecord) -> list[SetResult]:
    """The sets whose mean says anything."""
    sets = case.result.sets if case.result else ()
    return [each for each in sets if each.summary.n >= _FEWEST and each.summary.mean > 0.0]


def _climate_is_the_methods(case: ResolvedRecord) -> bool:
    """Whether bars and room had the temperature of the method, for which a range holds."""
    record, method = case.record, case.method
    if method is None:
        return False
    pairs = (
        (method.conditioning.temperature_C, record.conditioning.temperature_C),
        (method.test_atmosphere.temperature_C, record.test_atmosphere.temperature_C),
    )
    return all(asked is None or asked.allows(measured) for asked, measured in pairs)


def typical_strength(case: ResolvedRecord) -> Iterator[Complaint]:
    """Means far outside the range of their material."""
    if case.method is None or case.material is None or not _climate_is_the_methods(case):
        return
    method, notch = case.method.id, case.record.specimen.notch
    stated = [each.strength_kJ_m2 for each in case.material.typical if (each.method, each.notch) == (method, notch)]
    ranges = [each for each in stated if each[0] <= each[1]]
    if not ranges:
        return
    low, high = min(each[0] for each in ranges), max(each[1] for each in ranges)
    for each in _main_sets(case):
        mean = each.summary.mean
        limit = max(low / _BEYOND_RANGE, min(mean, high * _BEYOND_RANGE))
        if mean != limit and each.summary.excludes(limit):
            yield Complaint(
                ("material",),
                f"the mean of {each.summary.mean:.3g} kJ/m² ({'/'.join(each.breaks)}, n = {each.summary.n}) lies far "
                f"outside the {number(low)} to {number(high)} kJ/m² that are typical of '{case.material.id}' by "
                f"{case.method.standard} with notch {notch}",
                "compare material, hammer and dimensions with the sheet of the day",
            )


def set_outlier(case: ResolvedRecord) -> Iterator[Complaint]:
    """Bars that stand apart from their set."""
    if case.result is None:
        return
    for each in case.result.sets:
        found = [case.result.specimens[place].strength_kJ_m2 for place in each.members]
        strengths = [strength for strength in found if strength is not None]
        apart = _apart(strengths)
        # where every bar stands apart there is no set that any of them stands apart from
        for place in apart if len(apart) < len(strengths) else ():
            bar, index = strengths[place], each.members[place]
            others = [other for position, other in enumerate(strengths) if position not in apart]
            nearest = min(others, key=lambda other: abs(other - bar))
            if abs(nearest - bar) < _DIVISIONS * _division_kJ_m2(case, index) or index in _told(case):
                continue
            low, high = min(others), max(others)
            between = f"{low:.3g} to {high:.3g} kJ/m²" if low < high else f"{low:.3g} kJ/m²"
            slips = likely_slips(case, index, low, high)
            hint = "compare point, hammer and the rows beside it with the sheet of the day, and look at its pieces"
            if slips:
                hint = f"see on the sheet of the day whether it is {' or '.join(slips)}; if not, look at its pieces"
            yield Complaint(
                ("specimens", index),
                f"specimen {case.record.specimens[index].id} has {bar:.3g} kJ/m², which stands apart from the other "
                f"{len(others) if len(others) > 1 else 'one'} of its set ({between}){_impossible(each)}",
                hint,
            )


def _impossible(each: SetResult) -> str:
    """What of the interval of a mean cannot be, with such a bar in it; empty where all of it can."""
    low = each.summary.interval[0] if each.summary.interval is not None and each.summary.n >= _FEWEST else 0.0
    if low >= 0.0:
        return ""
    begins = f"begins at {to_figures(low, 2)} kJ/m², and nothing is below 0"
    return f"; with it the interval of the mean, from scatter alone, {begins}"


def _told(case: ResolvedRecord) -> set[str | int]:
    """Places of the bars whose row is an error already; one outside the window is none where that was declared."""
    accepted = case.exercise.accepted_deviations if case.exercise is not None else ()
    declared = any(each.rule == ENERGY_WINDOW.id for each in (*case.record.deviations, *accepted))
    found = (unit_slips(case), rise_angle(case), loss_floor(case), () if declared else energy_window(case))
    return {complaint.keys[1] for complaint in chain.from_iterable(found)}


def _division_kJ_m2(case: ResolvedRecord, index: int) -> float:
    """What a division of the scale is in strength at the reading of a bar."""
    result = case.result.specimens[index] if case.result is not None else None
    if result is None or not result.energy_J or not result.strength_kJ_m2:
        return 0.0
    return case.division_worth_J(result.rise_angle_deg or 0.0) * result.strength_kJ_m2 / result.energy_J


def _apart(strengths: Sequence[float]) -> list[int]:
    """Places of the values that stand apart from the others; of two, that of the second."""
    if len(strengths) < _PAIR or min(strengths) <= 0.0:
        return []
    lowest, highest = min(strengths), max(strengths)
    if len(strengths) == _PAIR:
        return [1] if highest > _SLIPPED * lowest else []
    logarithms = [math.log(each) for each in strengths]
    if len(strengths) <= _FEWEST_OTHERS:
        return [place for place in range(len(strengths)) if _slipped(logarithms, place)]
    found: set[int] = set()
    furthest = furthest_outlier(strengths, _SIGNIFICANCE)
    # the values themselves are told first, because most sets are done with them
    if furthest is not None and all(
        furthest_outlier([skewed(each) for each in strengths], _SIGNIFICANCE) == furthest for skewed in _SKEWED
    ):
        found.add(furthest)
    if highest > _GROSS * lowest:
        ends = (strengths.index(lowest), strengths.index(highest))
        found |= {place for place in ends if _grossly_off(logarithms, place)}
        found |= {place for place in range(len(strengths)) if _slipped(logarithms, place)}
    return sorted(found)


def _off(logarithms: Sequence[float], place: int) -> tuple[float, list[float]]:
    """How far one of the values lies from the middle of the others, and these."""
    others = [each for index, each in enumerate(logarithms) if index != place]
    return abs(logarithms[place] - statistics.median(others)), others


def _slipped(logarithms: Sequence[float], place: int) -> bool:
    """Whether one of the values is off by a factor that no material has."""
    return _off(logarithms, place)[0] > math.log(_SLIPPED)


def _grossly_off(logarithms: Sequence[float], place: int) -> bool:
    """Whether one of the values is off by a factor that no scatter of the others explains."""
    off, others = _off(logarithms, place)
    return off > math.log(_GROSS) and off > _GROSS_DEVIATIONS * statistics.stdev(others)


RECORD_CHECKS = (Check(TYPICAL_STRENGTH, typical_strength), Check(SET_OUTLIER, set_outlier))
