"""What the pieces of a bar take with them as they fly off, beside what the bar absorbed."""

from dataclasses import dataclass

from notchbook.facts.records import RecordFacts
from notchbook.model.record import Specimen
from notchbook.physics.toss import toss_energies_J


@dataclass(frozen=True, slots=True)
class Toss:
    """The energy of the pieces of one bar, between its ends."""

    mass_kg: float
    least_J: float
    most_J: float


def toss_of(line: RecordFacts, specimen: Specimen) -> Toss | None:
    """That of a bar of nominal length; None where density, length or hammer is not known.

    The notch is taken for full: it lacks less than a hundredth of the bar.
    """
    density = line.material.density_kg_m3 if line.material is not None else None
    bar = line.method.specimen_type(line.record.specimen.type) if line.method is not None else None
    if density is None or bar is None or line.hammer is None:
        return None
    mass_kg = density * 1e-9 * bar.length_mm.value * specimen.width_mm * specimen.thickness_mm
    least_J, most_J = toss_energies_J(mass_kg, line.hammer.velocity_m_s)
    return Toss(mass_kg, float(least_J), float(most_J))
