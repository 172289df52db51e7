"""A hammer as it swings: what it takes over from its base, the moment of its added masses, its energy and velocity."""

from dataclasses import dataclass, replace

from notchbook.model.rig import AddedMass, Hammer, Rig, StrikingEdge
from notchbook.physics.pendulum import added_moment_Nm, impact_velocity_m_s, moment_of_energy_Nm, potential_energy_J


@dataclass(frozen=True, slots=True)
class SwungHammer:
    """A complete pendulum with every value known, as it is fitted for one of its methods."""

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
    edges: tuple[tuple[str, StrikingEdge], ...] = ()
    """The striking edges by method, where it serves several."""
    division_deg: float | None = None
    """Of its own ring of the scale; None where it is read on the rig's."""
    division_J: float | None = None
    is_marked: bool = False
    """Whether its moment rests on what is stamped on added masses, so that its energy is a nominal one."""

    @property
    def fittings(self) -> list["SwungHammer"]:
        """The pendulum as it is fitted for each of its methods, the first of them first."""
        if not self.edges:
            return [self]
        return [replace(self, method=method, striking_edge=edge) for method, edge in self.edges]

    @property
    def methods(self) -> tuple[str, ...]:
        """The methods that it serves."""
        return tuple(method for method, _ in self.edges) or (self.method,)

    @property
    def has_ring(self) -> bool:
        """Whether it is read on a ring of the scale of its own."""
        return (self.division_deg, self.division_J) != (None, None)

    def fitted(self, method: str | None) -> "SwungHammer":
        """The pendulum as it is fitted for a method; as it is where it does not serve that."""
        return next((each for each in self.fittings if each.method == method), self)


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


def edge_stated_by(rig: Rig, hammer_id: str, method: str) -> str | None:
    """Id of the hammer that states the edge with which another serves a method: itself, or one that it is built on."""
    links = chain(rig, hammer_id) or ()
    return next((each.id for each in links if method in each.fittings or each.striking_edge is not None), None)


def built_moment_Nm(rig: Rig, hammer_id: str) -> float | None:
    """Moment of the base and the masses added to it: ``M = M_base + sum(m g r)``.

    None for a hammer without a base, or where its chain of bases is broken.
    """
    links = chain(rig, hammer_id)
    if links is None or len(links) == 1:
        return None
    base, added = _moment_Nm(rig, links[1:]), added_Nm(rig, links)
    return None if base is None or added is None else base + added


def _moment_Nm(rig: Rig, links: list[Hammer]) -> float | None:
    """The moment as weighed, where it is stated, else that of the base with the masses added to it."""
    added: list[float | None] = []
    for place, hammer in enumerate(links):
        if hammer.moment_Nm is not None:
            return None if None in added else hammer.moment_Nm + sum(filter(None, added))
        added.append(added_Nm(rig, links[place:]))
    return None


def added_Nm(rig: Rig, links: list[Hammer]) -> float | None:
    """Moment of the masses added to the first of a hammer and its bases; None where a marked one cannot be told."""
    weighed, marked_J = weighed_masses(links[0]), sum(each.marked_J or 0.0 for each in links[0].added_masses)
    found = added_moment_Nm([mass for mass, _ in weighed], [radius for _, radius in weighed], rig.gravity_m_s2)
    if not marked_J:
        return found
    angle = _release_angle_deg(links)
    return found + float(moment_of_energy_Nm(marked_J, angle)) if angle is not None else None


def weighed_masses(hammer: Hammer) -> list[tuple[float, float]]:
    """Mass in kg and radius in mm of the added masses that were weighed."""

    def weighed(each: AddedMass) -> tuple[float, float] | None:
        return None if each.mass_kg is None or each.radius_mm is None else (each.mass_kg, each.radius_mm)

    return [found for each in hammer.added_masses if (found := weighed(each)) is not None]


def _release_angle_deg(links: list[Hammer]) -> float | None:
    return next((each.release_angle_deg for each in links if each.release_angle_deg is not None), None)


def _is_marked(links: list[Hammer]) -> bool:
    """Whether the moment rests on masses of which only the stamped energy is known."""
    for hammer in links:
        if hammer.moment_Nm is not None:
            return False
        if any(each.marked_J is not None for each in hammer.added_masses):
            return True
    return False


def _pendulum_mass_kg(links: list[Hammer]) -> float | None:
    """The mass as stated, else that of the base with the masses added to it; None where one was not weighed."""
    added: list[float | None] = []
    for hammer in links:
        if hammer.pendulum_mass_kg is not None:
            return None if None in added else hammer.pendulum_mass_kg + sum(filter(None, added))
        added += [each.mass_kg for each in hammer.added_masses]
    return None


def swung_hammers(rig: Rig) -> dict[str, SwungHammer]:
    """The rig's hammers with every value known, by id, as they are fitted for the first of their methods.

    One whose chain of bases is broken is left out.
    """
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
    nominal = next((each.nominal_energy_J for each in links if each.nominal_energy_J is not None), None)
    angle, edges = _release_angle_deg(links), _edges(rig, links)
    if nominal is None or angle is None or not edges:
        return None
    ring = next((each for each in links if (each.division_deg, each.division_J) != (None, None)), None)
    return SwungHammer(
        rig=rig.id,
        id=hammer_id,
        title=links[0].title or f"{nominal:g} J hammer",
        method=edges[0][0],
        nominal_energy_J=nominal,
        release_angle_deg=angle,
        moment_Nm=moment,
        striking_edge=edges[0][1],
        pendulum_mass_kg=_pendulum_mass_kg(links),
        potential_energy_J=float(potential_energy_J(moment, angle)),
        velocity_m_s=float(impact_velocity_m_s(rig.striking_length_mm / 1000.0, angle, rig.gravity_m_s2)),
        edges=edges if len(edges) > 1 else (),
        division_deg=ring.division_deg if ring is not None else None,
        division_J=ring.division_J if ring is not None else None,
        is_marked=_is_marked(links),
    )


def _edges(rig: Rig, links: list[Hammer]) -> tuple[tuple[str, StrikingEdge], ...]:
    """The striking edge for each method of the first hammer, own or taken over; a method without one is left out."""
    found = []
    for method in next((each.stated_methods for each in links if each.stated_methods), ()):
        stating = edge_stated_by(rig, links[0].id, method)
        if stating is not None:
            hammer = rig.hammers[stating]
            fitting = hammer.fittings.get(method)
            edge = fitting.striking_edge if fitting is not None else hammer.striking_edge
            if edge is not None:
                found.append((method, edge))
    return tuple(found)
