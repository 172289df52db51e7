"""What a group worked out itself, against what is computed here."""

from collections.abc import Iterator
from contextlib import suppress

from notchbook.answers.digits import Given
from notchbook.checks.subject import Check, Complaint
from notchbook.evaluation.records import SetResult, lacking_strengths
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
    if any(Given(value, decimals).is_rounded(each, _figures(case)) for each in known):
        return
    figures = " or ".join(f"{each:.{max(decimals, 0)}f}" for each in known) or "none"
    yield Complaint(
        ("reported", key),
        f"the reported {words} is {value:g} kJ/m², the computed one is {figures}"
        + (" kJ/m²" if known else ": no set of this record has one"),
        _hint(case, (key,))
        or "find out which is wrong: a reading, a dimension or the sum; leave the key out if it was not worked out",
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
            if not Given(value, decimals).is_rounded(expected, figures):
                yield Complaint(
                    (*keys, key),
                    f"{value:g} {unit} is reported for specimen {specimen_id}, "
                    f"computed are {expected:.{max(decimals, 0)}f} {unit}",
                    _hint(case, ("specimens", specimen_id, key))
                    or "find out which is wrong: the reading, a dimension or the sum",
                )


def _hint(case: ResolvedRecord, keys: tuple[str, ...]) -> str:
    """The step that a wrong number comes from, by all that the group reported; empty where no slip is known."""
    # sound records have nothing to be explained
    from notchbook.answers.asking import NotAskedError, asked
    from notchbook.answers.bars import bars_of
    from notchbook.answers.judging import Answer, judge
    from notchbook.answers.words import said

    bars, reported = bars_of(case), case.record.reported
    if bars is None or reported is None or not bars.sets:
        return ""
    answers = {}
    for each, decimals in reported.digits.items():
        specimen = each[1] if len(each) > 1 else ""
        value = getattr(reported.specimens[specimen] if specimen else reported, each[-1])
        with suppress(NotAskedError):  # told by its own rule
            about = asked(bars, specimen, "" if specimen else bars.sets[0].name, each[-1])
            answers[each] = Answer(about, Given(value, decimals))
    verdicts = dict(zip(answers, judge(bars, list(answers.values())), strict=True))
    verdict = verdicts.get(keys)
    return said(verdict) if verdict is not None and verdict.kind == "slip" else ""


RECORD_CHECKS = (
    Check(REPORTED_MEAN, reported_mean),
    Check(REPORTED_SPREAD, reported_spread),
    Check(REPORTED_SPECIMEN, reported_specimens),
)
