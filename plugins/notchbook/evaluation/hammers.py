"""A hammer as it swings: what it takes over from its base, the moment of its added masses, its energy and velocity."""

from dataclasses import dataclass

from notchbook.model.rig import Hammer, Rig, StrikingEdge
from notchbook.physics.pendulum import added_moment_Nm, impact_velocity_m_s, potential_energy_J


@dataclass(frozen=True, slots=True)
class SwungHammer:
    """A complete pendulum with every value known."""

    rig: str
    id: str
    title: str
    method: str
    nominal_energy_J: float
    release_angle_deg: float
    moment_Nm: float
    striking_edge: StrikingEdge
    pendulum_mass_kg: float | None
    potential_energy_J: float
    velocity_m_s: float


def chain(rig: Rig, hammer_id: str) -> list[Hammer] | None:
    """The hammer and its bases, the hammer itself first; None where the chain is a circle or leads to nothing."""
    found: list[Hammer] = []
    seen: set[str] = set()
    next_id: str | None = hammer_id
    while next_id is not None:
        if next_id in seen or next_id not in rig.hammers:
            return None
        seen.add(next_id)
        found.append(rig.hammers[next_id])
        next_id = found[-1].base
    return found


def edge_stated_by(rig: Rig, hammer_id: str) -> str:
    """Id of the hammer that states the striking edge of another that has one: itself, or one that it is built on."""
    return next(each.id for each in chain(rig, hammer_id) or () if each.striking_edge is not None)


def built_moment_Nm(rig: Rig, hammer_id: str) -> float | None:
    """Moment of the base and the masses added to it: ``M = M_base + sum(m g r)``.

    None for a hammer without a base, or where its chain of bases is broken.
    """
    links = chain(rig, hammer_id)
    if links is None or len(links) == 1:
        return None
    base = _moment_Nm(rig, links[1:])
    return None if base is None else base + _added_Nm(rig, links[0])


def _moment_Nm(rig: Rig, links: list[Hammer]) -> float | None:
    """The moment as weighed, where it is stated, else that of the base with the masses added to it."""
    added = 0.0
    for hammer in links:
        if hammer.moment_Nm is not None:
            return hammer.moment_Nm + added
        added += _added_Nm(rig, hammer)
    return None


def _added_Nm(rig: Rig, hammer: Hammer) -> float:
    return added_moment_Nm(
        [mass.mass_kg for mass in hammer.added_masses],
        [mass.radius_mm for mass in hammer.added_masses],
        rig.gravity_m_s2,
    )


def _pendulum_mass_kg(links: list[Hammer]) -> float | None:
    """The mass as stated, else that of the base with the masses added to it."""
    added = 0.0
    for hammer in links:
        if hammer.pendulum_mass_kg is not None:
            return hammer.pendulum_mass_kg + added
        added += sum(mass.mass_kg for mass in hammer.added_masses)
    return None


def swung_hammers(rig: Rig) -> dict[str, SwungHammer]:
    """The rig's hammers with every value known, by id; one whose chain of bases is broken is left out."""
    found = {}
    for hammer_id in rig.hammers:
        hammer = _swung(rig, hammer_id)
        if hammer is not None:
            found[hammer_id] = hammer
    return found


def _swung(rig: Rig, hammer_id: str) -> SwungHammer | None:
    links = chain(rig, hammer_id)
    moment = _moment_Nm(rig, links) if links else None
    if links is None or moment is None:
        return None
    method = next((each.method for each in links if each.method is not None), None)
    nominal = next((each.nominal_energy_J for each in links if each.nominal_energy_J is not None), None)
    angle = next((each.release_angle_deg for each in links if each.release_angle_deg is not None), None)
    edge = next((each.striking_edge for each in links if each.striking_edge is not None), None)
    if method is None or nominal is None or angle is None or edge is None:
        return None
    return SwungHammer(
        rig=rig.id,
        id=hammer_id,
        title=links[0].title or f"{nominal:g} J hammer",
        method=method,
        nominal_energy_J=nominal,
        release_angle_deg=angle,
        moment_Nm=moment,
        striking_edge=edge,
        pendulum_mass_kg=_pendulum_mass_kg(links),
        potential_energy_J=float(potential_energy_J(moment, angle)),
        velocity_m_s=float(impact_velocity_m_s(rig.striking_length_mm / 1000.0, angle, rig.gravity_m_s2)),
    )
