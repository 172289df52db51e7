"""What a verification measured, against the rig's file and the method."""

from collections.abc import Iterator

from notchbook.checks.rigs import STRIKE_HEIGHT, STRIKING_EDGE, SUPPORT_SPAN
from notchbook.checks.subject import Check, Complaint, VerificationCase
from notchbook.checks.words import departs, departure_pct, outside, too_far
from notchbook.findings import Rule, Severity
from notchbook.physics.pendulum import potential_energy_J
from notchbook.wording.nearest import nearest
from notchbook.wording.numbers import number

# Runs of fifty swings timed by hand agree to a few hundredths of a second.
RUN_SPREAD_PCT = 0.5
# Where a pendulum is held level on a scale at the nearest, as a share of the striking length.
NEAREST_ARM = 0.1

VERIFICATION_MOMENT = Rule(
    "verification-moment",
    "The weighed moment is the one that the rig's file states",
    "Every energy is computed with the moment in the file.",
    "ISO 13802:1999, 5.2",
    "Weigh again with the pendulum level; if it is right, correct the moment in the rig's file.",
)
WEIGHING_ARM = Rule(
    "weighing-arm",
    "The pendulum is weighed well away from its axis",
    "Near the axis half a millimetre of the arm is more of the moment than is allowed. Force and arm that were "
    "exchanged give the same moment, but nobody could repeat the weighing from them.",
    "at least a tenth of the striking length: common practice, no source",
    "See whether force and arm were exchanged; if not, weigh again with the support near the centre of strike.",
    Severity.WARNING,
)
VERIFICATION_LENGTH = Rule(
    "verification-length",
    "The pendulum length from the period agrees with the striking length",
    "Where they differ the bar is not struck at the centre of percussion, and the axis takes part of the blow.",
    "ISO 13802:1999, 5.2 and Annex A",
    "Count and time the swings again, there and back being one; if they are right, measure the striking length again.",
    declarable=True,
)
STRIKING_LENGTH = Rule(
    "striking-length",
    "The measured striking length is the one that the rig's file states",
    "The velocity is computed with the length in the file.",
    "ISO 13802:1999, 5.2; the allowed difference is that of the pendulum length",
    "Measure from the axis to the centre of strike again; if it is right, correct the rig's file.",
)
RELEASE_ANGLE = Rule(
    "release-angle",
    "The measured release angle still gives the nominal energy",
    "Every energy is computed with the release angle in the rig's file.",
    "ISO 13802:1999, 5.2",
    "Measure from the hanging position again; if it is right, have the latch set by the person responsible.",
)
VERIFICATION_FITTING = Rule(
    "verification-fitting",
    "A verification names the fitting whose striking edge was measured",
    "A pendulum that serves several methods has an edge for each, and one that passes says nothing of the others.",
    "contract of the data files",
    "Name the method that the pendulum was fitted for when the edge was measured.",
)
PERIOD_AMPLITUDE = Rule(
    "period-amplitude",
    "The period was timed on small swings",
    "Large swings take longer; the amplitude is taken out, but only as well as it is known.",
    "ISO 13802:1999, 5.2",
    "Time the swings again with a smaller amplitude.",
    declarable=True,
)
PERIOD_RUNS = Rule(
    "period-runs",
    "The timed runs agree with each other",
    "A run that differs has a swing too many or too few.",
    "common practice, no source",
    "Count again and leave a miscounted run out.",
    Severity.WARNING,
)


def weighed_moment(case: VerificationCase) -> Iterator[Complaint]:
    """The moment by weighing."""
    hammer, method, result = case.hammer, case.method, case.result
    if hammer is None or method is None or result is None or result.weighed_moment_Nm is None:
        return
    tolerance = method.pendulums.potential_energy_tolerance_pct
    off = departure_pct(result.weighed_moment_Nm, hammer.moment_Nm)
    if too_far(off, tolerance.highest):
        yield Complaint(
            ("weighing", "force_N"),
            f"force times arm is {number(result.weighed_moment_Nm)} Nm, {off:+.1f} % from the "
            f"{number(hammer.moment_Nm)} Nm of hammer '{hammer.id}'; {number(tolerance.highest)} % is allowed "
            f"({tolerance.origin.clause})",
            "weigh again with the pendulum level; if it is right, correct the rig's file",
        )


def weighing_arm(case: VerificationCase) -> Iterator[Complaint]:
    """Arms that end near the axis."""
    rig, weighing = case.rig, case.verification.weighing
    if rig is None or weighing is None:
        return
    length = rig.striking_length_mm
    if weighing.arm_mm < NEAREST_ARM * length:
        yield Complaint(
            ("weighing", "arm_mm"),
            f"an arm of {number(weighing.arm_mm)} mm ends near the axis of a pendulum whose striking length is "
            f"{number(length)} mm",
            "see whether force and arm were exchanged; the arm is counted from the axis",
        )


def pendulum_length(case: VerificationCase) -> Iterator[Complaint]:
    """The pendulum length by the period."""
    rig, method, result = case.rig, case.method, case.result
    if rig is None or method is None or result is None or result.pendulum_length_mm is None:
        return
    tolerance = method.pendulums.length_agreement_pct
    off = departure_pct(rig.striking_length_mm, result.pendulum_length_mm)
    if too_far(off, tolerance.highest):
        yield Complaint(
            ("period", "times_s"),
            f"the period gives a pendulum length of {result.pendulum_length_mm:.1f} mm; the striking length of "
            f"{number(rig.striking_length_mm)} mm is {off:+.1f} % from it, {number(tolerance.highest)} % is allowed "
            f"({tolerance.origin.clause}, {tolerance.origin.words})",
            "count the swings and time them again; they are full swings, there and back",
        )


def striking_length(case: VerificationCase) -> Iterator[Complaint]:
    """The measured striking length."""
    rig, method, measured = case.rig, case.method, case.verification.measured.striking_length_mm
    if rig is None or method is None or measured is None:
        return
    tolerance = method.pendulums.length_agreement_pct.highest
    off = departure_pct(measured, rig.striking_length_mm)
    if too_far(off, tolerance):
        yield Complaint(
            ("measured", "striking_length_mm"),
            f"{number(measured)} mm were measured, {off:+.1f} % from the {number(rig.striking_length_mm)} mm of the "
            f"rig's file; {number(tolerance)} % is allowed",
            "measure again from the axis to the centre of strike; if it is right, correct the rig's file",
        )


def release_angle(case: VerificationCase) -> Iterator[Complaint]:
    """The measured release angle."""
    hammer, method, measured = case.hammer, case.method, case.verification.measured.release_angle_deg
    if hammer is None or method is None or measured is None:
        return
    tolerance = method.pendulums.potential_energy_tolerance_pct.highest
    energy = float(potential_energy_J(hammer.moment_Nm, measured))
    off = departure_pct(energy, hammer.nominal_energy_J)
    stated_off = departure_pct(hammer.potential_energy_J, hammer.nominal_energy_J)
    if too_far(off, tolerance) and not too_far(stated_off, tolerance):
        yield Complaint(
            ("measured", "release_angle_deg"),
            f"{number(measured)}° gives {number(energy)} J, {off:+.1f} % from the nominal "
            f"{number(hammer.nominal_energy_J)} J; the rig's file states {number(hammer.release_angle_deg)}°, "
            f"{number(tolerance)} % is allowed",
            "measure again from the hanging position; if it is right, set the latch",
        )


def period_amplitude(case: VerificationCase) -> Iterator[Complaint]:
    """The amplitude of the timed swings."""
    if case.method is not None and case.verification.period is not None:
        asked, found = case.method.pendulums.period_amplitude_deg, case.verification.period.amplitude_deg
        hint = "time smaller swings"
        yield from outside(("period", "amplitude_deg"), "the amplitude", found, asked, case.method.standard, hint)


def period_runs(case: VerificationCase) -> Iterator[Complaint]:
    """Timed runs that stand out."""
    period = case.verification.period
    if period is None or len(period.times_s) < 2:
        return
    times = sorted(period.times_s)
    middle = times[len(times) // 2]
    for index, time in enumerate(period.times_s):
        off = departure_pct(time, middle)
        if too_far(off, RUN_SPREAD_PCT):
            yield Complaint(
                ("period", "times_s", index),
                f"the run of {number(time)} s is {off:+.1f} % from the middle one of {number(middle)} s",
                "count the swings again and leave a miscounted run out",
            )


def support_span(case: VerificationCase) -> Iterator[Complaint]:
    """The measured span."""
    method, measured = case.method, case.verification.measured.span_mm
    if method is None or measured is None:
        return
    spans = [each.span_mm for each in method.specimen_types if each.span_mm is not None]
    if spans and not any(span.allows(measured) for span in spans):
        message = departs("the span", measured, "mm", spans[0], method.standard)
        yield Complaint(("measured", "span_mm"), message, "set the supports with a gauge and measure again")


def striking_edge(case: VerificationCase) -> Iterator[Complaint]:
    """The measured striking edge."""
    method, measured, hint = case.method, case.verification.measured, "have the edge reground or replaced"
    if method is not None and case.is_fitted:
        for key, name, found, asked in (
            ("edge_radius_mm", "radius", measured.edge_radius_mm, method.striking_edge.radius_mm),
            ("edge_angle_deg", "angle", measured.edge_angle_deg, method.striking_edge.angle_deg),
        ):
            keys, words = ("measured", key), f"the striking edge's {name}"
            yield from outside(keys, words, found, asked, method.standard, hint)


def strike_height(case: VerificationCase) -> Iterator[Complaint]:
    """The measured strike height."""
    if case.method is not None:
        keys, found = ("measured", "strike_height_mm"), case.verification.measured.strike_height_mm
        asked, hint = case.method.strike_height_mm, "set the clamp with the gauge and measure again"
        yield from outside(keys, "the strike height", found, asked, case.method.standard, hint)


def fitting(case: VerificationCase) -> Iterator[Complaint]:
    """Measured edges of pendulums with several, and fittings that they do not have."""
    hammer, measured = case.hammer, case.verification.measured
    if hammer is None:
        return
    named = f"hammer '{hammer.id}' serves {', '.join(hammer.methods)}"
    if measured.fitting is not None and measured.fitting not in hammer.methods:
        hint = nearest(measured.fitting, hammer.methods)
        yield Complaint(("measured", "fitting"), f"{named}, and has no fitting for '{measured.fitting}'", hint)
    elif measured.fitting is None and hammer.edges and (measured.edge_radius_mm or measured.edge_angle_deg):
        message = f"{named}; the verification does not say whose striking edge was measured"
        yield Complaint(("measured",), message, "add 'fitting' with the method that the pendulum was fitted for")


VERIFICATION_CHECKS = (
    Check(VERIFICATION_FITTING, fitting),
    Check(VERIFICATION_MOMENT, weighed_moment),
    Check(WEIGHING_ARM, weighing_arm),
    Check(VERIFICATION_LENGTH, pendulum_length),
    Check(STRIKING_LENGTH, striking_length),
    Check(RELEASE_ANGLE, release_angle),
    Check(PERIOD_AMPLITUDE, period_amplitude),
    Check(PERIOD_RUNS, period_runs),
    Check(SUPPORT_SPAN, support_span),
    Check(STRIKING_EDGE, striking_edge),
    Check(STRIKE_HEIGHT, strike_height),
)
