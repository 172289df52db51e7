"""The readings of a record: possible, consistent with the free swing, and inside the hammer's window."""

from collections.abc import Iterator

from notchbook.checks.subject import Check, Complaint, RecordCase
from notchbook.checks.words import departure_pct, too_far
from notchbook.evaluation.hammer_choice import largest_that_serves, serves
from notchbook.evaluation.hammers import SwungHammer
from notchbook.evaluation.records import broken_bars
from notchbook.evaluation.resolved import ResolvedRecord
from notchbook.evaluation.scale import division_worth_J, scale_of
from notchbook.findings import Rule, Severity
from notchbook.model.method import LARGEST_HAMMER, EnergyWindow, Method
from notchbook.model.rig import Indicator
from notchbook.physics.pendulum import rise_from_energy_deg
from notchbook.wording.numbers import number

READING_PRESENT = Rule(
    "reading-present",
    "Each bar that counts has an angle of rise or an indicated energy",
    "Without a reading there is no energy.",
    "contract of the data files",
    "Add the reading from the sheet of the day, or say under excluded why there is none.",
)
RISE_ANGLE = Rule(
    "rise-angle",
    "The pendulum rises, and not to its release angle",
    "No rise means that it was stopped; a rise to the release angle means that nothing was broken.",
    "conservation of energy",
    "Compare with the sheet of the day; a bar that stopped the pendulum is excluded, with the reason.",
)
LOSS_FLOOR = Rule(
    "loss-floor",
    "A swing that breaks a bar loses more than a free swing",
    "A rise above that of the free swing is a misread scale, a wrong hammer or a wrong release angle.",
    "conservation of energy",
    "Compare with the sheet of the day, then check hammer, release angle and free swing.",
)
ENERGY_WINDOW = Rule(
    "energy-window",
    "The absorbed energy lies inside the method's share of the hammer's energy",
    "Below it the losses and the scale weigh too much, above it the pendulum slows too much during the blow.",
    "ISO 179-1, 7.3; ISO 180, 7",
    "Check the reading; if it is right, repeat the test with the hammer whose window holds the energy.",
    declarable=True,
)
MISREAD_DIVISIONS = 2.0
"""What a reading and the free swing before it may be off together, in divisions."""
LARGER_BY = 1.01
"""Factor between the energies of two hammers of which one is larger: what each of them may be off."""

LARGER_HAMMER = Rule(
    "larger-hammer",
    "No larger hammer of the rig that was verified would also have served",
    "Of several hammers that keep the energies inside the window the largest is taken, because it slows least.",
    f"{LARGEST_HAMMER}; a method's file can take the rule away: `largest_hammer: false`",
    "Repeat the test with the hammer that the finding names, and take it from the start next time.",
    Severity.WARNING,
    declarable=True,
)


def reading_present(case: ResolvedRecord) -> Iterator[Complaint]:
    """Bars without a reading; one that was excluded before it was struck has none."""
    wanted = "indicated_energy_J" if case.rig and case.rig.indicator.reads == "energy" else "rise_angle_deg"
    for index, specimen in enumerate(case.record.specimens):
        if specimen.counts and specimen.rise_angle_deg is None and specimen.indicated_energy_J is None:
            yield Complaint(
                ("specimens", index),
                f"specimen {specimen.id} has no reading",
                f"add {wanted}, or say under 'excluded' why there is none",
            )


def rise_angle(case: ResolvedRecord) -> Iterator[Complaint]:
    """Rises that cannot have been; a bar that stopped the pendulum may stay on record, but excluded."""
    hammer = case.hammer
    if hammer is None:
        return
    for index, specimen in enumerate(case.record.specimens):
        rise, indicated = specimen.rise_angle_deg, specimen.indicated_energy_J
        if specimen.excluded is not None and (rise == 0.0 or indicated == hammer.nominal_energy_J):
            continue
        if rise is not None and not 0.0 < rise < hammer.release_angle_deg:
            yield Complaint(
                ("specimens", index, "rise_angle_deg"),
                f"a rise of {number(rise)}° is not between rest and the release angle "
                f"of {number(hammer.release_angle_deg)}°",
                "read the scale again: the rise is counted from the pendulum hanging at rest",
            )
        if indicated is not None and not 0.0 < indicated < hammer.potential_energy_J:
            yield Complaint(
                ("specimens", index, "indicated_energy_J"),
                f"{number(indicated)} J is not between nothing and the {number(hammer.potential_energy_J)} J "
                "that the pendulum has",
                "read the scale again, and see that the hammer is the one that was used",
            )


def loss_floor(case: ResolvedRecord) -> Iterator[Complaint]:
    """Rises above that of the free swing."""
    hammer, losses = case.hammer, case.result.losses if case.result else None
    if hammer is None or losses is None:
        return
    free_J = losses.indicator_loss_J + losses.swing_loss_J
    verification = case.verification.id if case.verification else "none"
    where = "of that day" if case.record.free_swings else f"of verification '{verification}'"
    for index, specimen in enumerate(case.record.specimens):
        rise, indicated = specimen.rise_angle_deg, specimen.indicated_energy_J
        if rise is not None and losses.first_rise_deg < rise < hammer.release_angle_deg:
            yield Complaint(
                ("specimens", index, "rise_angle_deg"),
                f"a rise of {number(rise)}° is above the {number(losses.first_rise_deg)}° of the free swing {where}: "
                "the bar would have absorbed less than nothing",
                "read the scale again, and see that hammer and release angle are the ones that were used",
            )
        elif rise is None and indicated is not None and 0.0 < indicated < free_J:
            yield Complaint(
                ("specimens", index, "indicated_energy_J"),
                f"{number(indicated)} J is less than the {number(free_J)} J that the free swing {where} loses "
                "by itself",
                "read the scale again, and see that the hammer is the one that was used",
            )


def energy_window(case: ResolvedRecord) -> Iterator[Complaint]:
    """Energies outside the window, where the reading is a possible one."""
    method, hammer, result = case.method, case.hammer, case.result
    if method is None or hammer is None or result is None:
        return
    window = method.energy_window
    told = {complaint.keys[1] for complaint in (*rise_angle(case), *loss_floor(case))}
    for index, specimen in broken_bars(result, method):
        energy, used = specimen.energy_J, specimen.used_pct
        if index in told or energy is None or used is None or window.holds(used):
            continue
        side = "larger" if used > window.high_pct else "smaller"
        read_angle = case.record.specimens[index].rise_angle_deg is not None
        yield Complaint(
            ("specimens", index, "rise_angle_deg" if read_angle else "indicated_energy_J"),
            f"specimen {specimen.id} absorbed {number(energy)} J, {used:.1f} % of the hammer's "
            f"{number(hammer.potential_energy_J)} J; {method.standard} allows "
            f"{number(window.low_pct)} to {number(window.high_pct)} % ({window.origin.clause})",
            f"check the reading; if it is right, the test needs a {side} hammer",
        )


def _sound(hammer: SwungHammer, method: Method) -> bool:
    """Whether a hammer has an energy of the method, and has it really."""
    off = departure_pct(hammer.potential_energy_J, hammer.nominal_energy_J)
    known = method.pendulums.of_energy(hammer.nominal_energy_J) is not None
    return known and not too_far(off, method.pendulums.potential_energy_tolerance_pct.highest)


def _misread_J(hammer: SwungHammer, window: EnergyWindow, indicator: Indicator) -> float:
    """By how much an energy at the lower end of a hammer's window may have been read too high."""
    least_J, _ = window.ends_J(hammer.potential_energy_J)
    rise_deg = float(rise_from_energy_deg(hammer.moment_Nm, hammer.release_angle_deg, least_J))
    return MISREAD_DIVISIONS * division_worth_J(indicator, hammer, rise_deg)


def larger_hammer(case: RecordCase) -> Iterator[Complaint]:
    """A larger hammer that keeps all energies inside its window too, and that could have been taken that day."""
    method, hammer, result = case.method, case.hammer, case.result
    if method is None or not method.takes_largest or hammer is None or case.rig is None or result is None:
        return
    energies = [each.energy_J for _, each in broken_bars(result, method) if each.energy_J is not None]
    if not energies:
        return
    window, low_J, high_J = method.energy_window, min(energies), max(energies)
    larger = [
        each
        for each in case.around.evaluation.hammers_of(hammer.rig).values()
        if hammer.method in each.methods
        and each.potential_energy_J > hammer.potential_energy_J * LARGER_BY
        and serves(each, window, low_J, high_J)
        and case.around.evaluation.verification_in_force(each.rig, each.id, case.record.date) is not None
        and _sound(each, method)
        and serves(each, window, low_J - _misread_J(each, window, scale_of(case.rig, each)), high_J)
    ]
    best = largest_that_serves(larger, window, low_J, high_J)
    if best is not None:
        yield Complaint(
            ("hammer",),
            f"hammer '{best.id}' ({number(best.nominal_energy_J)} J) would also have kept all energies, "
            f"{number(low_J)} to {number(high_J)} J, inside the window",
            f"take the largest hammer that does ({method.largest_hammer_clause})",
        )


CHECKS_OF_A_RECORD_ALONE = (
    Check(READING_PRESENT, reading_present),
    Check(RISE_ANGLE, rise_angle),
    Check(LOSS_FLOOR, loss_floor),
    Check(ENERGY_WINDOW, energy_window),
)
RECORD_CHECKS: tuple[Check[RecordCase], ...] = (*CHECKS_OF_A_RECORD_ALONE, Check(LARGER_HAMMER, larger_hammer))
