"""What a group worked out itself, against what is computed here."""

from collections.abc import Iterator

from notchbook.checks.subject import Check, Complaint
from notchbook.evaluation.records import SetResult, lacking_strengths, rounded
from notchbook.evaluation.resolved import ResolvedRecord
from notchbook.findings import Rule
from notchbook.wording.nearest import nearest

_WHY = "Two different results of the same readings cannot both be published."
_BASIS = "contract of the data files: agreement to the digits given, or to those that the method reports"

REPORTED_MEAN = Rule(
    "reported-mean",
    "The reported mean is the computed one",
    _WHY,
    _BASIS,
    "Find out whether a reading, a dimension or the group's sum is wrong, and correct that one alone.",
)
REPORTED_SPREAD = Rule(
    "reported-spread",
    "The reported standard deviation is the computed one",
    _WHY,
    _BASIS,
    "Work it out again with n - 1, from the bars of one way of breaking, without the excluded ones.",
)
REPORTED_SPECIMEN = Rule(
    "reported-specimen",
    "Each reported energy and strength is the computed one",
    _WHY,
    _BASIS,
    "Work this bar out again with its loss; correct the reading only where the sheet of the day says otherwise.",
)


def _agrees(reported: float, computed: float, decimals: int, figures: int | None) -> bool:
    """Whether the computed value rounds to the reported one, which was written with so many decimals.

    To the two significant figures of a method, 147 kJ/m² is reported as 150, which is written without decimals.
    """
    if decimals <= 0 and figures is not None and reported == rounded(computed, figures):
        return True
    return abs(reported - computed) <= 0.5 * 10.0**-decimals * (1 + 1e-6)


def _figures(case: ResolvedRecord) -> int | None:
    """The significant figures that the method reports a strength with."""
    return case.method.reporting.significant_figures if case.method is not None else None


def _main_sets(case: ResolvedRecord) -> list[SetResult]:
    """The sets that a single reported mean can be that of: the largest, or those that are equally large."""
    sets = case.result.sets if case.result else ()
    return [each for each in sets if each.summary.n == sets[0].summary.n]


def _set_value(case: ResolvedRecord, key: str, computed: list[float | None], words: str) -> Iterator[Complaint]:
    reported = case.record.reported
    value = getattr(reported, key) if reported else None
    if reported is None or value is None or case.result is None or case.method is None:
        return
    # why a bar has no strength is told elsewhere, and the group's value is not held against what is left
    if lacking_strengths(case.result, case.method):
        return
    known = [each for each in computed if each is not None]
    decimals = reported.digits[key,]
    if any(_agrees(value, each, decimals, _figures(case)) for each in known):
        return
    figures = " or ".join(f"{each:.{max(decimals, 0)}f}" for each in known) or "none"
    yield Complaint(
        ("reported", key),
        f"the reported {words} is {value:g} kJ/m², the computed one is {figures}"
        + (" kJ/m²" if known else ": no set of this record has one"),
        "find out which is wrong: a reading, a dimension or the sum; leave the key out if it was not worked out",
    )


def reported_mean(case: ResolvedRecord) -> Iterator[Complaint]:
    """The mean."""
    return _set_value(case, "mean_kJ_m2", [each.summary.mean for each in _main_sets(case)], "mean")


def reported_spread(case: ResolvedRecord) -> Iterator[Complaint]:
    """The standard deviation."""
    computed = [each.summary.standard_deviation for each in _main_sets(case)]
    return _set_value(case, "standard_deviation_kJ_m2", computed, "standard deviation")


def reported_specimens(case: ResolvedRecord) -> Iterator[Complaint]:
    """Single energies and strengths."""
    reported, result = case.record.reported, case.result
    if reported is None:
        return
    places = {specimen.id: index for index, specimen in enumerate(case.record.specimens)}
    for specimen_id, values in reported.specimens.items():
        keys = ("reported", "specimens", specimen_id)
        if specimen_id not in places:
            yield Complaint(keys, f"there is no specimen '{specimen_id}'", nearest(specimen_id, places))
            continue
        if result is None:
            continue
        computed = result.specimens[places[specimen_id]]
        for key, unit, figures in (("energy_J", "J", None), ("strength_kJ_m2", "kJ/m²", _figures(case))):
            value, expected = getattr(values, key), getattr(computed, key)
            if value is None or expected is None:
                continue
            decimals = reported.digits["specimens", specimen_id, key]
            if not _agrees(value, expected, decimals, figures):
                yield Complaint(
                    (*keys, key),
                    f"{value:g} {unit} is reported for specimen {specimen_id}, "
                    f"computed are {expected:.{max(decimals, 0)}f} {unit}",
                    "find out which is wrong: the reading, a dimension or the sum",
                )


RECORD_CHECKS = (
    Check(REPORTED_MEAN, reported_mean),
    Check(REPORTED_SPREAD, reported_spread),
    Check(REPORTED_SPECIMEN, reported_specimens),
)
