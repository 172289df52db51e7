"""A rig and its hammers against the methods that they are for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from notchbook.checks.subject import Check, Complaint
from notchbook.checks.words import departs, departure_pct, nearest, number, too_far
from notchbook.evaluation.hammers import built_moment_Nm, chain
from notchbook.findings import Rule
from notchbook.physics.pendulum import highest_velocity_m_s

if TYPE_CHECKING:
    from collections.abc import Iterator

    from notchbook.checks.subject import RigCase
    from notchbook.evaluation.hammers import SwungHammer
    from notchbook.model.method import Method, PendulumClass
    from notchbook.model.requirement import Requirement

_LOWEST_GRAVITY_m_s2, _HIGHEST_GRAVITY_m_s2 = 9.76, 9.84

HAMMER_BASE = Rule(
    "hammer-base",
    "A hammer's base is another hammer of the rig, and no circle",
    "A hammer takes over from its base what it does not state itself.",
    "contract of the data files",
)
HAMMER_MOMENT = Rule(
    "hammer-moment",
    "A moment that is stated agrees with that of the base and the added masses",
    "One of the two is wrong, and every energy of the hammer with it.",
    "M = M_base + sum(m g r); ISO 13802, 5.2",
)
HAMMER_ENERGY = Rule(
    "hammer-energy",
    "The nominal energy is one that the method has",
    "Velocity and allowed loss follow from the nominal energy.",
    "ISO 13802, Tables 1 and 2",
    declarable=True,
)
NOMINAL_ENERGY = Rule(
    "nominal-energy",
    "The potential energy is the nominal one",
    "Moment, release angle and nominal energy are three numbers of one pendulum: E = M (1 - cos alpha).",
    "ISO 13802, 5.2",
    declarable=True,
)
IMPACT_VELOCITY = Rule(
    "impact-velocity",
    "The striking edge meets the bar at the method's velocity",
    "Plastics break in a more brittle way the faster they are struck.",
    "ISO 13802, Table 1; that a length must be able to reach the velocity: common practice, no source",
    declarable=True,
)
RIG_SUPPORT = Rule(
    "rig-support",
    "A rig has what its hammers' methods hold the bar with",
    "A three-point bar lies on two supports, a cantilever is clamped.",
    "ISO 179-1, 5.1; ISO 180, 5.1",
)
SUPPORT_SPAN = Rule(
    "support-span",
    "The span between the supports is the method's",
    "A longer span bends the bar further before it breaks.",
    "ISO 179-1, Table 1",
    declarable=True,
)
SUPPORT_EDGE = Rule(
    "support-edge",
    "The supports' or the clamp's edge has the method's radius",
    "A sharp edge bites into the bar, a round one lets it slide.",
    "ISO 13802, 5.7; ISO 180, Figure 2",
    declarable=True,
)
STRIKING_EDGE = Rule(
    "striking-edge",
    "The striking edge has the method's radius and angle",
    "A blunt edge spreads the blow, a sharp one cuts.",
    "ISO 13802, 5.8",
    declarable=True,
)
STRIKE_HEIGHT = Rule(
    "strike-height",
    "The clamped bar is struck at the method's height",
    "The height is the lever arm of the blow.",
    "ISO 180, 5; ISO 13802, 5.8",
    declarable=True,
)
FRAME_MASS = Rule(
    "frame-mass",
    "The frame is heavy enough for its hammers",
    "A light frame recoils and takes energy that is then counted as the bar's.",
    "ISO 180, 5; ISO 13802, Annex D",
    declarable=True,
)
GRAVITY = Rule(
    "gravity",
    "Gravity is stated once, and is one of this planet",
    "It ranges from 9.76 to 9.84 m/s² between the equator's heights and the poles.",
    "WGS 84 normal gravity",
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


def hammer_moment(case: RigCase) -> Iterator[Complaint]:
    """Stated moments against built ones."""
    for hammer, method in case.with_methods():
        stated, built = case.rig.hammers[hammer.id].moment_Nm, built_moment_Nm(case.rig, hammer.id)
        if stated is None or built is None:
            continue
        off = departure_pct(stated, built)
        if too_far(off, method.pendulums.potential_energy_tolerance_pct.highest):
            yield Complaint(
                ("hammers", hammer.id, "moment_Nm"),
                f"the moment is {number(stated)} Nm, base and added masses give {number(built)} Nm, {off:+.1f} %",
                "weigh the pendulum again, or correct the masses and radii",
                hammer=hammer.id,
            )


def hammer_energy(case: RigCase) -> Iterator[Complaint]:
    """Nominal energies that the method does not have."""
    for hammer, method in case.with_methods():
        if method.pendulums.of_energy(hammer.nominal_energy_J) is None:
            known = ", ".join(number(each.nominal_energy_J) for each in method.pendulums.classes)
            yield Complaint(
                ("hammers", hammer.id, "nominal_energy_J"),
                f"{method.standard} has no hammer of {number(hammer.nominal_energy_J)} J",
                f"it has {known} J",
                hammer=hammer.id,
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
                hammer=hammer.id,
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
                hammer=hammer.id,
            )
        elif not _velocity_fits(hammer, asked, method):
            off = departure_pct(hammer.velocity_m_s, asked.velocity_m_s)
            stated = case.rig.hammers[hammer.id].release_angle_deg is not None
            yield Complaint(
                ("hammers", hammer.id, "release_angle_deg" if stated else "base"),
                f"hammer '{hammer.id}' strikes at {hammer.velocity_m_s:.3f} m/s, {off:+.1f} % from the "
                f"{number(asked.velocity_m_s)} m/s of {method.standard}, which allows ± {number(tolerance.highest)} % "
                f"({tolerance.origin.clause}, {tolerance.origin.words})",
                "check the release angle and the striking length",
                hammer=hammer.id,
            )


def rig_support(case: RigCase) -> Iterator[Complaint]:
    """Supports or clamp that are not there."""
    for hammer, method in case.with_methods():
        missing = {"three-point": case.rig.supports is None, "cantilever": case.rig.clamp is None}[method.support]
        if missing:
            what = "supports" if method.support == "three-point" else "clamp"
            yield Complaint(
                ("hammers", hammer.id, "method"),
                f"hammer '{hammer.id}' is one of {method.standard} ({method.support}), but the rig states no '{what}'",
                f"add '{what}', or correct the method",
                hammer=hammer.id,
            )


def support_span(case: RigCase) -> Iterator[Complaint]:
    """Spans that no specimen type of the method has."""
    if case.rig.supports is None:
        return
    for method in case.methods():
        spans = [each.span_mm for each in method.specimen_types if each.span_mm is not None]
        if spans and not any(span.allows(case.rig.supports.span_mm) for span in spans):
            yield Complaint(
                ("supports", "span_mm"),
                departs("the span", case.rig.supports.span_mm, "mm", spans[0], method.standard),
                "set the supports to the span with a gauge; a gap of 60 mm is in use but is not this method's",
                method=method.id,
            )


def _form(
    keys: tuple[str | int, ...], name: str, value: float | None, asked: Requirement | None, method: Method, unit: str,
    hammer: str | None = None,
) -> Iterator[Complaint]:  # fmt: skip
    """A complaint where a dimension of the equipment that is stated is not the method's."""
    if value is not None and asked is not None and not asked.allows(value):
        hint = "measure it again, or put the equipment right"
        yield Complaint(keys, departs(name, value, unit, asked, method.standard), hint, hammer=hammer, method=method.id)


def support_edge(case: RigCase) -> Iterator[Complaint]:
    """Edges of supports and clamp."""
    for method in case.methods():
        if case.rig.supports is not None and method.support == "three-point":
            keys, value = ("supports", "edge_radius_mm"), case.rig.supports.edge_radius_mm
            yield from _form(keys, "the support edge's radius", value, method.support_edge_radius_mm, method, "mm")
        if case.rig.clamp is not None and method.support == "cantilever":
            keys, value = ("clamp", "jaw_edge_radius_mm"), case.rig.clamp.jaw_edge_radius_mm
            yield from _form(keys, "the jaw edge's radius", value, method.jaw_edge_radius_mm, method, "mm")


def striking_edge(case: RigCase) -> Iterator[Complaint]:
    """Striking edges."""
    for hammer, method in case.with_methods():
        if case.rig.hammers[hammer.id].striking_edge is None:
            continue
        keys, edge = ("hammers", hammer.id, "striking_edge"), hammer.striking_edge
        asked = method.striking_edge
        yield from _form(
            (*keys, "radius_mm"), "the striking edge's radius", edge.radius_mm, asked.radius_mm, method, "mm", hammer.id
        )
        yield from _form(
            (*keys, "angle_deg"), "the striking edge's angle", edge.angle_deg, asked.angle_deg, method, "°", hammer.id
        )


def strike_height(case: RigCase) -> Iterator[Complaint]:
    """The height of the blow above the clamp."""
    if case.rig.clamp is not None:
        for method in case.methods():
            value = case.rig.clamp.strike_height_mm
            keys = ("clamp", "strike_height_mm")
            yield from _form(keys, "the strike height", value, method.strike_height_mm, method, "mm")


def frame_mass(case: RigCase) -> Iterator[Complaint]:
    """Frames that are too light."""
    mass = case.rig.frame_mass_kg
    if mass is None:
        return
    for hammer, method in case.with_methods():
        asked = method.pendulums.frame_mass_ratio
        if hammer.pendulum_mass_kg is not None and not asked.allows(mass / hammer.pendulum_mass_kg):
            yield Complaint(
                ("frame_mass_kg",),
                f"the frame has {number(mass)} kg, {mass / hammer.pendulum_mass_kg:.1f} times the "
                f"{number(hammer.pendulum_mass_kg)} kg of hammer '{hammer.id}'; {method.standard} asks for "
                f"{asked.text()} times ({asked.origin.clause}, {asked.origin.words})",
                "fix the frame to a heavy bench and count it, or correct the mass",
                hammer=hammer.id,
            )


def gravity(case: RigCase) -> Iterator[Complaint]:
    """Gravity that is none of this planet."""
    if not _LOWEST_GRAVITY_m_s2 <= case.rig.gravity_m_s2 <= _HIGHEST_GRAVITY_m_s2:
        yield Complaint(
            ("gravity_m_s2",) if case.rig.gravity_basis == "stated for the rig" else ("gravity_at",),
            f"gravity is {number(case.rig.gravity_m_s2)} m/s²; on this planet it is {_LOWEST_GRAVITY_m_s2} to "
            f"{_HIGHEST_GRAVITY_m_s2}",
            "look it up for the place, or give latitude and height",
        )
    if case.rig.gravity_stated_twice:
        yield Complaint(
            ("gravity_at",), "gravity is given twice, as a value and by the place", "keep the value or the place"
        )


RIG_CHECKS = (
    Check(HAMMER_BASE, hammer_base),
    Check(HAMMER_MOMENT, hammer_moment),
    Check(HAMMER_ENERGY, hammer_energy),
    Check(NOMINAL_ENERGY, nominal_energy),
    Check(IMPACT_VELOCITY, impact_velocity),
    Check(RIG_SUPPORT, rig_support),
    Check(SUPPORT_SPAN, support_span),
    Check(SUPPORT_EDGE, support_edge),
    Check(STRIKING_EDGE, striking_edge),
    Check(STRIKE_HEIGHT, strike_height),
    Check(FRAME_MASS, frame_mass),
    Check(GRAVITY, gravity),
)
