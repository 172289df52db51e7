"""The hammers of a rig that begins: what follows from the energies that its pendulums are marked with."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from notchbook.model.method import Method
from notchbook.physics.gravity import STANDARD_GRAVITY_m_s2
from notchbook.starting.wishes import Wishes
from notchbook.wording.numbers import plain

_USUAL_RELEASE_deg = 150.0
"""Of bench pendulums that are too short for the velocity: common practice, no source."""
_KINDS = {"iso-179-1": "charpy", "iso-180": "izod"}
_SMALLEST_J = 1.0
"""A hammer to begin with, where none is named."""


@dataclass(frozen=True, slots=True)
class BeginningHammer:
    """One hammer as its file begins."""

    id: str
    title: str
    base: str
    """Id of the bare pendulum; empty where it is that itself."""
    methods: tuple[str, ...]
    """Which it states itself; empty where they are those of its base."""
    nominal_J: float
    added_J: float
    """What the masses on the pendulum are marked with; 0 for the bare one."""
    release_deg: float
    moment_Nm: float
    """That gives the nominal energy from the release angle."""
    ring: float | None
    """Division of its own ring of the scale."""


def beginning_hammers(wishes: Wishes, methods: Mapping[str, Method], length_mm: float) -> list[BeginningHammer]:
    """Every hammer, a pendulum after the other."""
    chosen = {each: methods[each] for each in wishes.methods}
    pendulums = wishes.pendulums_J or (_usual_energies_J(next(iter(chosen.values()))),)
    rings = iter(wishes.divisions if len(wishes.divisions) > 1 else ())
    found: list[BeginningHammer] = []
    for energies in pendulums:
        served = [_served(chosen, energy) for energy in energies]
        release_deg = _release_deg(chosen, energies, served, length_mm)
        base, of_base = "", tuple[str, ...]()
        for energy, serves in zip(energies, served, strict=True):
            name = _name(serves, energy, {each.id for each in found})
            moment = energy / (1.0 - math.cos(math.radians(release_deg)))
            title = f"{plain(energy)} J hammer"
            added = energy - energies[0]
            stated = () if serves == of_base else serves
            found.append(
                BeginningHammer(name, title, base, stated, energy, added, release_deg, moment, next(rings, None))
            )
            base, of_base = base or name, of_base or serves
    return found


def _usual_energies_J(method: Method) -> tuple[float, ...]:
    return tuple(each.nominal_energy_J for each in method.pendulums.classes if each.nominal_energy_J >= _SMALLEST_J)[:1]


def _served(chosen: Mapping[str, Method], energy_J: float) -> tuple[str, ...]:
    """The methods that have a hammer of that energy; all where none has."""
    return tuple(each for each, method in chosen.items() if method.pendulums.of_energy(energy_J)) or tuple(chosen)


def _name(serves: Sequence[str], energy_J: float, taken: set[str]) -> str:
    """An id that says how the bars are held and which energy it is."""
    kind = _KINDS[serves[0]] if len(serves) == 1 else "pendulum"
    name = f"{kind}-{plain(energy_J)}"
    return next(each for each in (name, *(f"{name}-{number}" for number in range(2, 100))) if each not in taken)


def _release_deg(
    chosen: Mapping[str, Method], energies_J: Sequence[float], served: Sequence[Sequence[str]], length_mm: float
) -> float:
    """The release angle at which the pendulum meets the bar as fast as its methods ask, as far as one angle can."""
    wanted = list(_velocities_m_s(chosen, energies_J, served))
    if not wanted:
        return _USUAL_RELEASE_deg
    low, high = max(each[0] for each in wanted), min(each[1] for each in wanted)
    velocity = (low + high) / 2.0 if low <= high else sum(wanted[0]) / 2.0
    # v = sqrt(2 g L (1 - cos alpha)); ISO 13802:1999, 5.2
    share = velocity**2 / (2.0 * STANDARD_GRAVITY_m_s2 * length_mm / 1000.0)
    if share >= 1.0 - math.cos(math.radians(_USUAL_RELEASE_deg)):
        return _USUAL_RELEASE_deg
    return round(math.degrees(math.acos(1.0 - share)), 1)


def _velocities_m_s(
    chosen: Mapping[str, Method], energies_J: Sequence[float], served: Sequence[Sequence[str]]
) -> Iterator[tuple[float, float]]:
    """Between which velocities each method wants each energy."""
    for energy, names in zip(energies_J, served, strict=True):
        for name in names:
            pendulums = chosen[name].pendulums
            asked = pendulums.of_energy(energy)
            if asked is not None:
                part = pendulums.velocity_tolerance_pct.highest / 100.0
                yield asked.velocity_m_s * (1.0 - part), asked.velocity_m_s * (1.0 + part)
