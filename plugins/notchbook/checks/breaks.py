"""How the bars of a record broke, and whether there are enough of them."""

import statistics
from collections.abc import Iterator, Sequence

from notchbook.checks.subject import Check, Complaint
from notchbook.evaluation.records import broken_bars, lacking_strengths
from notchbook.evaluation.resolved import ResolvedRecord
from notchbook.findings import Rule, Severity
from notchbook.model.breaks import BreakRole
from notchbook.wording.nearest import nearest
from notchbook.wording.numbers import number

FEWEST_APART, FEWEST_BROKEN = 3, 2
"""How many energies of one way of breaking say anything."""
PARTIAL = 0.5
"""Share of the energy of partial breaks that one that did not break exceeds."""
BROKEN: tuple[tuple[BreakRole, ...], ...] = (("complete",), ("complete", "hinge"), ("complete", "hinge", "partial"))
"""Ways of breaking whose energies are asked in turn: that of bars that came apart, that did or nearly did, all."""

BREAK_TYPE = Rule(
    "break-type",
    "Each bar's break type is one of the method's",
    "A bar whose break type is not known can be put into no mean.",
    "ISO 179-1, 7.8; ISO 180, 7",
    "Write one of the method's letters, after looking at the broken bar again.",
)
NO_BREAK_STRENGTH = Rule(
    "no-break-strength",
    "A bar that did not break has no strength",
    "The energy bent it and pushed it through; it is not that of a fracture.",
    "ISO 179-1, 7.8 and 8",
    "Delete the reported strength; the letter is the result.",
)
NO_BREAK_ENERGY = Rule(
    "no-break-energy",
    "A bar that did not break took more than those that came apart",
    "A bar that takes as much as a broken one and does not break was broken, or its letter belongs to another bar.",
    "a bar that bends through takes more than one that comes apart, and at least half of a partial break: common "
    "practice, no source",
    "Look at the pieces again, and compare letter and reading with the sheet of the day.",
    Severity.WARNING,
)
SPECIMEN_NUMBER = Rule(
    "specimen-number",
    "There are as many bars as the method asks for",
    "The interval of a mean from few bars is too wide to compare materials with.",
    "ISO 179-1, 6.4; ISO 180, 6.4",
    "Test more bars of the same batch, or declare the deviation.",
    declarable=True,
)
MIXED_BREAKS = Rule(
    "mixed-breaks",
    "More than one break type in a record is kept apart",
    "Different ways of breaking take different energies; one mean of both describes neither.",
    "ISO 179-1, 7.8 and 8",
    "Nothing has to be done; look at the broken bars again if one letter is a surprise.",
    Severity.NOTE,
)


def break_type(case: ResolvedRecord) -> Iterator[Complaint]:
    """Break types that the method does not have."""
    if case.method is None:
        return
    for index, specimen in enumerate(case.record.specimens):
        if case.method.breaks.of_letter(specimen.break_type) is None:
            letters = [each.letter for each in case.method.breaks.types]
            yield Complaint(
                ("specimens", index, "break"),
                f"'{specimen.break_type}' is no break type of {case.method.standard}",
                _meant(specimen.break_type, letters),
            )


def _meant(written: str, letters: Sequence[str]) -> str:
    """A hint: the letter that differs in capitals alone, or the nearest one."""
    same = [each for each in letters if each.casefold() == written.casefold()]
    return nearest(same[0] if same else written, letters)


def no_break_strength(case: ResolvedRecord) -> Iterator[Complaint]:
    """Strengths reported for bars that did not break."""
    if case.method is None or case.record.reported is None:
        return
    types = {specimen.id: specimen.break_type for specimen in case.record.specimens}
    for specimen_id, reported in case.record.reported.specimens.items():
        kind = case.method.breaks.of_letter(types.get(specimen_id, ""))
        if kind is not None and not kind.has_strength and reported.strength_kJ_m2 is not None:
            yield Complaint(
                ("reported", "specimens", specimen_id, "strength_kJ_m2"),
                f"specimen {specimen_id} is of break type {kind.letter} ({kind.title}) and has no strength",
                "delete the strength; the letter is the result",
            )


def no_break_energy(case: ResolvedRecord) -> Iterator[Complaint]:
    """Unbroken bars that took less than broken ones."""
    method, result = case.method, case.result
    if method is None or result is None:
        return
    apart, hinged, broken = (_broken_energies(case, roles) for roles in BROKEN)
    if len(apart) >= FEWEST_APART:
        limit_J, words = max(apart), "the most that a bar took that came apart"
    elif len(hinged) >= FEWEST_BROKEN:
        limit_J, words = statistics.fmean(hinged), "the mean of those that came apart or nearly"
    elif len(broken) >= FEWEST_BROKEN:
        limit_J, words = PARTIAL * statistics.fmean(broken), "half of what those that broke took"
    else:
        return
    for index, specimen in enumerate(result.specimens):
        energy = specimen.energy_J
        if not specimen.counts or energy is None or not method.breaks.leave_unbroken(specimen.break_type):
            continue
        if energy < limit_J:
            yield Complaint(
                ("specimens", index, "break"),
                f"specimen {specimen.id} did not break, and took {number(energy)} J, less than {number(limit_J)} J, "
                f"{words}",
                "look at its pieces again",
            )


def _broken_energies(case: ResolvedRecord, roles: Sequence[BreakRole]) -> list[float]:
    """Energies of the bars that count and broke in one of these ways."""
    if case.method is None or case.result is None:
        return []
    return [
        each.energy_J
        for _, each in broken_bars(case.result, case.method)
        if each.energy_J is not None and case.method.breaks.role_of(each.break_type) in roles
    ]


def specimen_number(case: ResolvedRecord) -> Iterator[Complaint]:
    """Too few bars; those whose strength is not known, which is told elsewhere, are taken for some of the largest."""
    method, result = case.method, case.result
    if method is None or result is None:
        return
    asked = method.specimen_number
    counted = sum(specimen.counts for specimen in case.record.specimens)
    if counted >= asked.number:
        return
    largest = result.sets[0].summary if result.sets else None
    lacking = lacking_strengths(result, method)
    alike = lacking + (largest.n if largest is not None else 0)
    variation = largest.variation_pct if largest is not None else None
    narrow = variation is not None and variation < asked.fewer_below_variation_pct
    if alike >= asked.fewer and (narrow or largest is None):
        return
    spread = f"of {alike} it is {variation:.1f} %" if variation is not None else "they have no variation to judge by"
    bars = "bar counts" if counted == 1 else "bars count"
    yield Complaint(
        ("specimens",),
        f"{counted} {bars}; {method.standard} asks for {asked.number}, or for {asked.fewer} that share a mean where "
        f"its coefficient of variation is below {number(asked.fewer_below_variation_pct)} % ({asked.origin.clause}); "
        f"{spread}",
        "test more bars, or declare the deviation",
    )


def mixed_breaks(case: ResolvedRecord) -> Iterator[Complaint]:
    """Several break types in one record."""
    if case.method is None:
        return
    breaks = case.method.breaks
    counted: dict[tuple[str, ...], list[str]] = {}
    for specimen in case.record.specimens:
        if specimen.counts and breaks.of_letter(specimen.break_type) is not None:
            counted.setdefault(breaks.group_of(specimen.break_type), []).append(specimen.break_type)
    if len(counted) > 1:
        words = ", ".join(f"{len(letters)} {'/'.join(sorted(set(letters)))}" for letters in counted.values())
        yield Complaint(("specimens",), f"the bars broke in more than one way ({words}); each way has its own result")


RECORD_CHECKS = (
    Check(BREAK_TYPE, break_type),
    Check(NO_BREAK_STRENGTH, no_break_strength),
    Check(NO_BREAK_ENERGY, no_break_energy),
    Check(SPECIMEN_NUMBER, specimen_number),
    Check(MIXED_BREAKS, mixed_breaks),
)
