"""Whether free swings are those of the hammer that is named, and whether a verification was measured anew."""

from collections.abc import Iterator
from dataclasses import dataclass

from notchbook.checks.scale import division_of
from notchbook.checks.subject import Check, Complaint, RecordCase, SwingsCase, VerificationCase
from notchbook.checks.swings import order
from notchbook.checks.words import departure_pct
from notchbook.findings import Rule, Severity
from notchbook.model.verification import FreeSwings, Verification
from notchbook.wording.numbers import number

_Case = RecordCase | SwingsCase | VerificationCase
_RISES = ("first_rise_deg", "second_rise_deg", "later_rise_deg")
_ENERGIES = ("first_indicated_energy_J", "second_indicated_energy_J", "later_indicated_energy_J")
_SAME, _NEAR = 0.1, 1.1
"""Divisions within which free swings are the same as, or near to, those of another hammer."""
_FAR, _VERY_FAR = 2.9, 4.9
"""Divisions that they lie off every one of their own hammer then."""
_SAME_MOMENT_pct = 0.1
_FEWEST_NUMBERS, _FEWEST_WITH_RUNS = 8, 6
"""Numbers that agree in two verifications where all do; fewer with timed runs among them, which hardly ever do."""
_FEWEST_RUNS = 3
_EARLIER = 4
"""Verifications of a hammer before, with which one is compared."""
_STOPWATCH_s = 0.1
"""Coarsest stopwatch on which equal runs say nothing."""

FREE_SWING_HAMMER = Rule(
    "free-swing-hammer",
    "Free swings are those of the hammer that is named",
    "Every hammer loses its own share. Free swings that are those of another hammer correct each bar by a wrong loss, "
    "or were swung with the wrong hammer.",
    "three divisions from every verification of the hammer itself and equal to another's, or five and within one: "
    "common practice, no source",
    "Compare with the sheet of the day, and see which hammer was on the pendulum.",
    Severity.WARNING,
)
COPIED_VERIFICATION = Rule(
    "copied-verification",
    "A verification was measured anew",
    "Force, timed runs and free swings never all repeat to the last digit; a verification with a new date and the old "
    "numbers verifies nothing.",
    "all numbers agree, with timed runs six or more, else eight or more, which chance gives fewer than one pair in two "
    "thousand: common practice, no source",
    "Verify the pendulum, and write down what was measured; delete the file if it was only copied.",
    Severity.WARNING,
)
RUNS_ALIKE = Rule(
    "runs-alike",
    "Timed runs differ in their last digit",
    "A stopwatch held by hand tells hundredths of a second apart; three equal runs are most often one that was written "
    "three times.",
    "three runs or more, finer than a tenth of a second: common practice, no source",
    "Time each run, and write down each time as it was read.",
    Severity.NOTE,
)


@dataclass(frozen=True, slots=True)
class _Swings:
    """Free swings beside those of verifications of the rig, in divisions of its scale."""

    swings: FreeSwings
    division: float
    keys: tuple[str, str, str]

    def off(self, other: FreeSwings, keys: tuple[str, ...]) -> float | None:
        """By how many divisions they differ at most; None where one of the first two is missing on either side."""
        worst = 0.0
        for key in keys:
            own_reading, reading = getattr(self.swings, key), getattr(other, key)
            if own_reading is not None and reading is not None:
                worst = max(worst, abs(own_reading - reading) / self.division)
            elif key in self.keys[:2]:
                return None
        return worst

    def far(self, others: list[Verification]) -> float:
        """How far the first two swings are from the nearest of the others, 0 without others.

        The later rise is left out: ten half swings make ten times as much of a bearing that wears.
        """
        offs = [self.off(each.free_swings, self.keys[:2]) for each in others]
        return min((each for each in offs if each is not None), default=0.0)

    def near(self, other: FreeSwings) -> float | None:
        """How far all swings are from those of another hammer."""
        same_count = self.swings.half_swings == other.half_swings
        return self.off(other, self.keys if same_count else self.keys[:2])


def _swings(case: _Case) -> _Swings | None:
    division = division_of(case.scale_read)
    if case.own_swings is None or division is None:
        return None
    return _Swings(case.own_swings, division[2], _RISES if division[0] == "division_deg" else _ENERGIES)


def _compared(case: _Case, hammer: str) -> list[Verification]:
    """The verifications of a hammer of the rig before and after the day, other than the one that is looked at."""
    subject = case.verification if isinstance(case, VerificationCase) else case.record
    # a verification is itself one of its day or before
    earlier = 2 if isinstance(case, VerificationCase) else 1
    near = case.around.evaluation.around_day(subject.rig, hammer, subject.date, earlier, 1)
    return [each for each in near if each is not subject]


def of_another_hammer(case: _Case) -> Iterator[Complaint]:
    """Free swings that fit a verification of another hammer and none of their own."""
    swings = _swings(case)
    if swings is None or case.hammer is None or any(order(case)):
        return
    own = own_hammers(case)
    far = swings.far([each for hammer_id in own for each in _compared(case, hammer_id)])
    if far < _FAR:
        return
    rigs_hammers = case.around.evaluation.hammers_of(case.hammer.rig)
    for other in (each for hammer_id in rigs_hammers if hammer_id not in own for each in _compared(case, hammer_id)):
        off = swings.near(other.free_swings)
        if off is not None and (off <= _SAME or (off <= _NEAR and far >= _VERY_FAR)):
            yield Complaint(
                ("free_swings",),
                f"the free swings {'are' if off <= _SAME else 'are within a division of'} those of hammer "
                f"'{other.hammer}' in verification '{other.id}', and {far:.0f} divisions from the nearest of hammer "
                f"'{case.hammer.id}'",
                "see which hammer was swung, and compare with the sheet of the day",
            )
            return


def own_hammers(case: _Case) -> list[str]:
    """The hammer and others that are the same pendulum: one may serve two methods under two names."""
    own = case.hammer
    return [
        hammer_id
        for hammer_id, hammer in case.around.evaluation.hammers_of(own.rig if own is not None else "").items()
        if own is not None
        and abs(departure_pct(hammer.moment_Nm, own.moment_Nm)) < _SAME_MOMENT_pct
        and hammer.release_angle_deg == own.release_angle_deg
    ]


def _numbers(verification: Verification, parts: tuple[str, ...]) -> dict[str, float]:
    """What was measured, by its keys."""
    found: dict[str, float | None] = {}
    for part in parts:
        values = getattr(verification, part)
        for key in getattr(values, "__slots__", ()):
            found[f"{part}.{key}"] = getattr(values, key)
    # where a pendulum is weighed, how many swings are counted and what is fitted is chosen and not measured
    for chosen in ("weighing.arm_mm", "free_swings.half_swings", "measured.fitting"):
        found.pop(chosen, None)
    for index, time in enumerate(verification.period.times_s if verification.period is not None else ()):
        found[f"period.times_s.{index}"] = time
    return {key: value for key, value in found.items() if value is not None}


def copied_verification(case: VerificationCase) -> Iterator[Complaint]:
    """Verifications with all numbers of an earlier one, its geometry aside where runs were timed."""
    own, evaluation = case.verification, case.around.evaluation
    timed = own.period is not None and len(own.period.times_s) >= _FEWEST_RUNS
    parts = ("weighing", "free_swings") if timed else ("weighing", "free_swings", "measured")
    numbers = _numbers(own, parts)
    if len(numbers) < (_FEWEST_WITH_RUNS if timed else _FEWEST_NUMBERS):
        return
    for other in evaluation.around_day(own.rig, own.hammer, own.date, _EARLIER):
        if other.date < own.date and _numbers(other, parts) == numbers:
            what = "force, times and free swings" if timed else "force, free swings and geometry"
            yield Complaint(
                ("date",),
                f"{what} are all those of verification '{other.id}'",
                "write what was measured on this day; a verification that was only copied verifies nothing",
            )
            return


def runs_alike(case: VerificationCase) -> Iterator[Complaint]:
    """Timed runs that are the same to a hundredth of a second."""
    period = case.verification.period
    if period is None or len(period.times_s) < _FEWEST_RUNS or len(set(period.times_s)) > 1:
        return
    tenths = period.times_s[0] / _STOPWATCH_s
    if abs(tenths - round(tenths)) > 1e-6:
        yield Complaint(
            ("period", "times_s"),
            f"all {len(period.times_s)} runs took {number(period.times_s[0])} s",
            "write down each time as it was read",
        )


RECORD_CHECKS: tuple[Check[RecordCase], ...] = (Check(FREE_SWING_HAMMER, of_another_hammer),)
VERIFICATION_CHECKS: tuple[Check[VerificationCase], ...] = (
    Check(FREE_SWING_HAMMER, of_another_hammer),
    Check(COPIED_VERIFICATION, copied_verification),
    Check(RUNS_ALIKE, runs_alike),
)
SWINGS_CHECKS: tuple[Check[SwingsCase], ...] = (Check(FREE_SWING_HAMMER, of_another_hammer),)
