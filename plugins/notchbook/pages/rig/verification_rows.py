"""What a verification measured, a row a quantity, each with what is asked of it and what the checks say."""

from collections.abc import Iterator

from notchbook.checks.swings import LATER_SHARE
from notchbook.checks.verifications import RUN_SPREAD_PCT
from notchbook.checks.words import departure_pct
from notchbook.facts import hammer_words
from notchbook.model.requirement import Requirement
from notchbook.pages.rig.verification_case import VerificationRow, Verified, row_of
from notchbook.physics.pendulum import potential_energy_J
from notchbook.wording.numbers import alike, plain, to_decimals, to_figures


def verification_rows(case: Verified) -> list[VerificationRow]:
    """All quantities, those that were not measured too."""
    return [*_pendulum_rows(case), *_length_rows(case), *_form_rows(case), *_loss_rows(case)]


def _signed(number: str) -> str:
    return number if number.startswith("−") else f"+{number}"


def _percent(value: float, expected: float, decimals: int = 2) -> str:
    return f"{_signed(to_decimals(departure_pct(value, expected), decimals))} %"


def _with_unit(value: float | None, unit: str, decimals: int | None = None) -> str:
    """As it was written or to so many decimals; empty where there is none."""
    if value is None:
        return ""
    return f"{plain(value) if decimals is None else to_decimals(value, decimals)}{'' if unit == '°' else ' '}{unit}"


def _pendulum_rows(case: Verified) -> Iterator[VerificationRow]:
    hammer, weighing, result = case.hammer, case.facts.verification.weighing, case.result
    pendulums = case.method.pendulums
    energy, velocity = pendulums.potential_energy_tolerance_pct, pendulums.velocity_tolerance_pct
    weighed = result.weighed_moment_Nm
    measured, off = "", ""
    if weighing is not None and weighed is not None:
        force, arm = plain(weighing.force_N), plain(weighing.arm_mm)
        measured = f"{to_figures(weighed, 5)} Nm = {force} N × {arm} mm"
        off = _percent(weighed, hammer.moment_Nm)
    asked = f"{to_figures(hammer.moment_Nm, 5)} Nm of the rig's file ± {plain(energy.highest)} %"
    yield row_of(case, "Moment, by weighing", measured, asked, energy.origin, off, ("verification-moment",))
    yield row_of(
        case,
        "Potential energy, from the rig's file",
        f"{hammer_words.energy(hammer, case.facts.verification)} J",
        f"nominal {plain(hammer.nominal_energy_J)} J ± {plain(energy.highest)} %",
        energy.origin,
        _percent(hammer.potential_energy_J, hammer.nominal_energy_J),
        ("nominal-energy", "hammer-energy"),
    )
    allowed = pendulums.of_energy(hammer.nominal_energy_J)
    yield row_of(
        case,
        "Impact velocity, from the rig's file",
        _with_unit(hammer.velocity_m_s, "m/s", 3),
        f"{plain(allowed.velocity_m_s)} m/s ± {plain(velocity.highest)} %" if allowed else "not known",
        velocity.origin,
        _percent(hammer.velocity_m_s, allowed.velocity_m_s) if allowed else "",
        ("impact-velocity", "hammer-energy"),
    )
    yield _release_row(case, energy)


def _release_row(case: Verified, energy: Requirement) -> VerificationRow:
    """The release angle, which is held against the nominal energy that it gives with the moment of the rig's file."""
    hammer, angle = case.hammer, case.facts.verification.measured.release_angle_deg
    off = ""
    if angle is not None:
        off = f"{_percent(float(potential_energy_J(hammer.moment_Nm, angle)), hammer.nominal_energy_J)} in energy"
    asked = f"gives {plain(hammer.nominal_energy_J)} J ± {plain(energy.highest)} %; the rig's file has "
    asked += f"{plain(hammer.release_angle_deg)}°"
    measured = _with_unit(angle, "°")
    # where the file's own angle does not give the nominal energy either, the rig is at fault and this is not judged
    rules = ("release-angle",)
    row = row_of(case, "Release angle", measured, asked, energy.origin, off, rules)
    if measured and not case.facts.broken(rules) and case.facts.broken(("nominal-energy",)):
        return VerificationRow(row.title, measured, asked, row.origin, off, "see potential energy")
    return row


def _length_rows(case: Verified) -> Iterator[VerificationRow]:
    rig, period, pendulums = case.rig, case.facts.verification.period, case.method.pendulums
    tolerance = pendulums.length_agreement_pct
    stated, allowed = plain(rig.striking_length_mm), plain(tolerance.highest)
    striking = case.facts.verification.measured.striking_length_mm
    yield row_of(
        case,
        "Striking length",
        _with_unit(striking, "mm"),
        f"{stated} mm of the rig's file ± {allowed} %",
        tolerance.origin,
        _percent(striking, rig.striking_length_mm) if striking is not None else "",
        ("striking-length",),
    )
    length = case.result.pendulum_length_mm
    yield row_of(
        case,
        "Pendulum length, from the period",
        _with_unit(length, "mm", 1),
        f"the striking length of {stated} mm lies within {allowed} % of it",
        tolerance.origin,
        _percent(rig.striking_length_mm, length) if length is not None else "",
        ("verification-length",),
    )
    amplitude = pendulums.period_amplitude_deg
    yield row_of(
        case,
        "Amplitude of the timed swings",
        _with_unit(period.amplitude_deg if period else None, "°"),
        amplitude.text("°"),
        amplitude.origin,
        "",
        ("period-amplitude",),
    )
    times = sorted(period.times_s) if period else []
    off, middle = "", times[len(times) // 2] if times else 0.0
    if len(times) > 1:
        off = _percent(max(times, key=lambda each: abs(each - middle)), middle)
    runs = f"{', '.join(alike(period.times_s))} s for {period.swings} swings" if period else ""
    yield row_of(
        case,
        "Timed runs, against each other",
        runs if len(times) > 1 else "",
        f"within {plain(RUN_SPREAD_PCT)} % of the middle one",
        None,
        off,
        ("period-runs",),
    )


def _form_rows(case: Verified) -> Iterator[VerificationRow]:
    method, measured = case.method, case.facts.verification.measured
    edge = method.striking_edge
    radius_mm, angle_deg = (measured.edge_radius_mm, measured.edge_angle_deg) if case.facts.is_fitted else (None, None)
    forms: list[tuple[str, float | None, list[Requirement], str, str, str]] = [
        ("Striking edge, radius", radius_mm, [edge.radius_mm], "mm", "striking-edge", "edge_radius_mm"),
    ]
    if edge.angle_deg is not None:
        asked = [edge.angle_deg]
        forms.append(("Striking edge, angle", angle_deg, asked, "°", "striking-edge", "edge_angle_deg"))
    spans = [each.span_mm for each in method.specimen_types if each.span_mm is not None]
    if method.support == "three-point" and spans:
        forms.append(("Span of the supports", measured.span_mm, spans, "mm", "support-span", "span_mm"))
    if method.support == "cantilever" and method.strike_height_mm is not None:
        height = method.strike_height_mm
        forms.append(("Strike height", measured.strike_height_mm, [height], "mm", "strike-height", "strike_height_mm"))
    for title, value, asked, unit, rule, key in forms:
        words = " or ".join(dict.fromkeys(each.text(unit) for each in asked))
        off = ""
        if value is not None:
            nearest = min(asked, key=lambda each: abs(value - each.value))
            off = _signed(_with_unit(value - nearest.value, unit))
        yield row_of(case, title, _with_unit(value, unit), words, asked[0].origin, off, (rule,), key)
    ratio, frame, mass = method.pendulums.frame_mass_ratio, case.rig.frame_mass_kg, case.hammer.pendulum_mass_kg
    shown = ""
    if frame is not None and mass is not None:
        shown = f"{to_decimals(frame / mass, 1)} = {plain(frame)} kg / {plain(mass)} kg"
    yield row_of(
        case, "Mass of the frame over that of the pendulum", shown, ratio.text(), ratio.origin, "",
        ("frame-mass",),
    )  # fmt: skip


def _loss_rows(case: Verified) -> Iterator[VerificationRow]:
    losses, hammer = case.result.losses, case.hammer
    allowed = case.method.pendulums.of_energy(hammer.nominal_energy_J)
    parts = (
        ("Loss of the indicator", losses.indicator_loss_J if losses else None),
        ("Loss of bearings and air, free swing", losses.swing_loss_J if losses else None),
    )
    for title, loss_J in parts:
        shown = "" if loss_J is None else f"{to_figures(loss_J, 3)} J"
        verdict = "part of the sum" if shown else "not measured"
        yield VerificationRow(title, shown, "", None, "", verdict)
    shown = off = ""
    if losses is not None:
        total = to_figures(losses.indicator_loss_J + losses.swing_loss_J, 3)
        shown = f"{total} J = {to_decimals(losses.loss_pct, 2)} % of the nominal energy"
        if allowed is not None:
            off = f"{to_decimals(100.0 * losses.loss_pct / allowed.loss_pct, 0)} % of what is allowed"
    yield row_of(
        case,
        "Both losses together",
        shown,
        f"at most {plain(allowed.loss_pct)} % of the nominal energy" if allowed else "not known",
        allowed.origin if allowed else None,
        off,
        ("loss-limit", "free-swing-order", "hammer-energy"),
    )
    half_J = losses.half_swing_loss_J if losses else None
    yield row_of(
        case,
        "Loss of bearings and air, later swings",
        "" if half_J is None else f"{to_figures(half_J, 3)} J a half swing",
        f"within a scale division and {LATER_SHARE:.0%} of that of the free swing".replace("%", " %"),
        None,
        _percent(half_J, losses.swing_loss_J, 1) if losses and half_J is not None and losses.swing_loss_J else "",
        ("later-swings", "free-swing-order"),
    )
    history = case.facts.history
    if history is not None:
        low, high = (to_decimals(max(each, 0.0), 2) for each in history.interval_pct)
        off = _signed(to_decimals(history.newest_pct - history.earlier.mean, 2))
        yield row_of(
            case,
            "Both losses, against earlier verifications",
            f"{to_decimals(history.newest_pct, 2)} % of the nominal energy",
            f"{low} to {high} %, from {history.earlier.n} earlier ones and the changes of all hammers of the rig",
            None,
            f"{off} % of the nominal energy",
            ("loss-history",),
        )
