"""The hammers of a rig: what they are built on, their energy and velocity, against the methods that they are for."""

from collections.abc import Iterator

from notchbook.checks.subject import Check, Complaint, RigCase
from notchbook.checks.words import departure_pct, too_far
from notchbook.evaluation.hammers import SwungHammer, built_moment_Nm, chain, edge_stated_by
from notchbook.findings import Rule, Severity
from notchbook.model.method import Method, PendulumClass
from notchbook.physics.pendulum import highest_velocity_m_s
from notchbook.wording.nearest import nearest
from notchbook.wording.numbers import number

# A thin rod alone has it at three quarters; what is heavy at the axis moves it up.
_NEAREST_CENTRE = 0.25

HAMMER_BASE = Rule(
    "hammer-base",
    "A hammer's base is another hammer of the rig, and no circle",
    "A hammer takes over from its base what it does not state itself.",
    "contract of the data files",
    "Name another hammer of the same rig as the base, and let one of them state its own moment.",
)
HAMMER_MOMENT = Rule(
    "hammer-moment",
    "A moment that is stated agrees with that of the base and the added masses",
    "One of the two is wrong, and every energy of the hammer with it.",
    "M = M_base + sum(m g r); ISO 13802:1999, 5.2",
    "Weigh the pendulum with its added masses, and correct the number that is wrong.",
)
HAMMER_FITTINGS = Rule(
    "hammer-fittings",
    "A pendulum that serves several methods has a striking edge for each, and fittings for no others",
    "What is fitted decides whether a blow is one of the method; a method without its edge has no hammer.",
    "contract of the data files; ISO 179-1, 5.1; ISO 180, 5.1",
    "State each method once under methods, and its striking edge under fittings.",
)
HAMMER_ENERGY = Rule(
    "hammer-energy",
    "The nominal energy is one that the method has",
    "Velocity and allowed loss follow from the nominal energy.",
    "ISO 13802:1999, Tables 1 and 2",
    "Write the energy that the hammer is marked with; one of another energy cannot serve this method.",
    declarable=True,
)
NOMINAL_ENERGY = Rule(
    "nominal-energy",
    "The potential energy is the nominal one",
    "Moment, release angle and nominal energy are three numbers of one pendulum: E = M (1 - cos alpha).",
    "ISO 13802:1999, 5.2",
    "Check moment, release angle and masses against the last verification, and correct the one that is wrong.",
    declarable=True,
)
IMPACT_VELOCITY = Rule(
    "impact-velocity",
    "The striking edge meets the bar at the method's velocity",
    "Plastics break in a more brittle way the faster they are struck.",
    "ISO 13802:1999, Table 1; that a length must be able to reach the velocity: common practice, no source",
    "Check the release angle and the striking length; a pendulum that is too short cannot serve that energy.",
    declarable=True,
)
PENDULUM_MASS = Rule(
    "pendulum-mass",
    "The centre of gravity of a pendulum lies above its centre of strike, and not at its axis",
    "Where moment over weight is longer than the striking length, or a small part of it, one of the three is wrong.",
    "mechanics of the rigid pendulum: L_P = d + k²/d; at least a quarter of the striking length: common practice, no "
    "source",
    "Weigh the whole pendulum as it is swung, with rod and added masses.",
    Severity.WARNING,
)


def hammer_base(case: RigCase) -> Iterator[Complaint]:
    """Bases that are not there, or lead in a circle."""
    hammers = case.rig.hammers
    for hammer in hammers.values():
        keys = ("hammers", hammer.id, "base")
        if hammer.base is not None and hammer.base not in hammers:
            others = [each for each in hammers if each != hammer.id]
            yield Complaint(keys, f"this rig has no hammer '{hammer.base}'", nearest(hammer.base, others))
        elif hammer.base is not None and chain(case.rig, hammer.id) is None and _in_circle(case, hammer.id):
            yield Complaint(
                keys,
                f"'{hammer.id}' is built on '{hammer.base}', which is in turn built on it",
                "one hammer of the rig must state its own moment",
            )


def _in_circle(case: RigCase, hammer_id: str) -> bool:
    """Whether following the bases leads back to the hammer."""
    hammers, seen = case.rig.hammers, set()
    current = hammers[hammer_id].base
    while current in hammers and current not in seen:
        if current == hammer_id:
            return True
        seen.add(current)
        current = hammers[current].base
    return False


def stated_key(case: RigCase, hammer: SwungHammer, key: str) -> str:
    """The key that a hammer has a value from: its own, or its base where it takes the value over."""
    return key if getattr(case.rig.hammers[hammer.id], key) else "base"


def hammer_moment(case: RigCase) -> Iterator[Complaint]:
    """Stated moments against built ones; without added masses a stated moment takes the place of the base's."""
    for hammer, method in case.with_methods():
        own, built = case.rig.hammers[hammer.id], built_moment_Nm(case.rig, hammer.id)
        stated = own.moment_Nm
        if stated is None or built is None or not own.added_masses:
            continue
        off = departure_pct(stated, built)
        if too_far(off, method.pendulums.potential_energy_tolerance_pct.highest):
            yield Complaint(
                ("hammers", hammer.id, "moment_Nm"),
                f"the moment is {number(stated)} Nm, base and added masses give {number(built)} Nm, {off:+.1f} %",
                "weigh the pendulum again, or correct the masses and radii",
                hammers=(hammer.id,),
                method=method.id,
            )


def hammer_fittings(case: RigCase) -> Iterator[Complaint]:
    """Pendulums for several methods: the edge of each, and fittings for no method of theirs."""
    for hammer in case.rig.hammers.values():
        keys, about, links = ("hammers", hammer.id), (hammer.id,), chain(case.rig, hammer.id) or ()
        methods = next((each.stated_methods for each in links if each.stated_methods), ())
        if hammer.method is not None and hammer.methods:
            message = f"hammer '{hammer.id}' states both 'method' and 'methods'"
            yield Complaint((*keys, "method"), message, "keep 'methods'", hammers=about)
        for method in hammer.methods:
            if links and edge_stated_by(case.rig, hammer.id, method) is None:
                message = f"hammer '{hammer.id}' serves {method}, but no striking edge is stated for it"
                hint = f"add '{method}' with its striking_edge under 'fittings'"
                yield Complaint((*keys, "methods"), message, hint, hammers=about)
        for method in hammer.fittings if methods else ():
            if method not in methods:
                message = f"hammer '{hammer.id}' has a fitting for {method}, which is none of its methods"
                hint = f"add it to 'methods', or {nearest(method, methods)}"
                yield Complaint((*keys, "fittings", method), message, hint, hammers=about)


def hammer_energy(case: RigCase) -> Iterator[Complaint]:
    """Nominal energies that the method does not have."""
    for hammer, method in case.with_methods():
        if method.pendulums.of_energy(hammer.nominal_energy_J) is None:
            known = ", ".join(number(each.nominal_energy_J) for each in method.pendulums.classes)
            yield Complaint(
                ("hammers", hammer.id, "nominal_energy_J"),
                f"{method.standard} has no hammer of {number(hammer.nominal_energy_J)} J",
                f"it has {known} J",
                hammers=(hammer.id,),
                method=method.id,
            )


def nominal_energy(case: RigCase) -> Iterator[Complaint]:
    """Potential energies that are not the nominal ones."""
    for hammer, method in case.with_methods():
        tolerance = method.pendulums.potential_energy_tolerance_pct
        off = departure_pct(hammer.potential_energy_J, hammer.nominal_energy_J)
        if too_far(off, tolerance.highest):
            yield Complaint(
                ("hammers", hammer.id, _culprit(case, hammer, method)),
                f"moment {number(hammer.moment_Nm)} Nm and release angle {number(hammer.release_angle_deg)}° give "
                f"{number(hammer.potential_energy_J)} J, {off:+.1f} % from the nominal "
                f"{number(hammer.nominal_energy_J)} J; {method.standard} allows {number(tolerance.highest)} % "
                f"({tolerance.origin.clause}, {tolerance.origin.words})",
                "check the moment (force times arm, pendulum level), the release angle and the masses",
                hammers=(hammer.id,),
                method=method.id,
            )


def _culprit(case: RigCase, hammer: SwungHammer, method: Method) -> str:
    """The key of the number that is most likely wrong: an energy no hammer has, an angle that gives no velocity."""
    asked = method.pendulums.of_energy(hammer.nominal_energy_J)
    if asked is None:
        return "nominal_energy_J"
    stated = case.rig.hammers[hammer.id]
    if stated.release_angle_deg is not None and not _velocity_fits(hammer, asked, method):
        return "release_angle_deg"
    return "moment_Nm" if stated.moment_Nm is not None else "added_masses" if stated.added_masses else "base"


def _velocity_fits(hammer: SwungHammer, asked: PendulumClass, method: Method) -> bool:
    off = departure_pct(hammer.velocity_m_s, asked.velocity_m_s)
    return not too_far(off, method.pendulums.velocity_tolerance_pct.highest)


def impact_velocity(case: RigCase) -> Iterator[Complaint]:
    """Velocities outside the tolerance, and lengths that cannot reach the velocity at all."""
    for hammer, method in case.with_methods():
        asked = method.pendulums.of_energy(hammer.nominal_energy_J)
        if asked is None:
            continue
        highest = float(highest_velocity_m_s(case.rig.striking_length_mm / 1000.0, case.rig.gravity_m_s2))
        tolerance = method.pendulums.velocity_tolerance_pct
        if highest < asked.velocity_m_s:
            yield Complaint(
                ("striking_length_mm",),
                f"a pendulum of {number(case.rig.striking_length_mm)} mm cannot reach the "
                f"{number(asked.velocity_m_s)} m/s of a {number(hammer.nominal_energy_J)} J hammer of "
                f"{method.standard}, whatever its release angle: sqrt(4 g L) = {highest:.2f} m/s",
                f"take hammer '{hammer.id}' out, or correct the striking length",
                hammers=(hammer.id,),
                method=method.id,
            )
        elif not _velocity_fits(hammer, asked, method):
            off = departure_pct(hammer.velocity_m_s, asked.velocity_m_s)
            yield Complaint(
                ("hammers", hammer.id, stated_key(case, hammer, "release_angle_deg")),
                f"hammer '{hammer.id}' strikes at {hammer.velocity_m_s:.3f} m/s, {off:+.1f} % from the "
                f"{number(asked.velocity_m_s)} m/s of {method.standard}, which allows ± {number(tolerance.highest)} % "
                f"({tolerance.origin.clause}, {tolerance.origin.words})",
                "check the release angle and the striking length",
                hammers=(hammer.id,),
                method=method.id,
            )


def pendulum_mass(case: RigCase) -> Iterator[Complaint]:
    """Pendulums whose centre of gravity would lie beyond their end, or near their axis."""
    for hammer, method in case.with_methods():
        mass, length = hammer.pendulum_mass_kg, case.rig.striking_length_mm
        if mass is None:
            continue
        arm = 1000.0 * hammer.moment_Nm / (mass * case.rig.gravity_m_s2)
        beyond = arm > length and too_far(departure_pct(arm, length), method.pendulums.length_agreement_pct.highest)
        if beyond or arm < _NEAREST_CENTRE * length:
            where = "beyond the striking length" if beyond else f"less than {_NEAREST_CENTRE:g} of the striking length"
            yield Complaint(
                ("hammers", hammer.id, stated_key(case, hammer, "pendulum_mass_kg")),
                f"{number(hammer.moment_Nm)} Nm and {number(mass)} kg put the centre of gravity "
                f"{number(arm)} mm from the axis, {where} of {number(length)} mm",
                "weigh the whole pendulum, rod and added masses included",
                hammers=(hammer.id,),
                method=method.id,
            )


RIG_CHECKS = (
    Check(HAMMER_BASE, hammer_base),
    Check(HAMMER_MOMENT, hammer_moment),
    Check(HAMMER_FITTINGS, hammer_fittings),
    Check(HAMMER_ENERGY, hammer_energy),
    Check(NOMINAL_ENERGY, nominal_energy),
    Check(IMPACT_VELOCITY, impact_velocity),
    Check(PENDULUM_MASS, pendulum_mass),
)
