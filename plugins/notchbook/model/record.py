"""A test record: one set of specimens broken on one day."""

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from notchbook.model.procedure import Deviation, SpecimenChoice
from notchbook.model.verification import Acknowledgement, FreeSwings


@dataclass(frozen=True, slots=True)
class Conditioning:
    """The climate that the specimens were kept in before the test."""

    temperature_C: float
    humidity_pct: float
    hours: float
    state: Literal["dry", "conditioned", "as-received"] | None
    """In what state of moisture the specimens were tested; None where nobody says."""


@dataclass(frozen=True, slots=True)
class Atmosphere:
    """The climate during the test."""

    temperature_C: float
    humidity_pct: float


@dataclass(frozen=True, slots=True)
class Specimen:
    """One bar with its readings."""

    id: str
    width_mm: float
    thickness_mm: float
    remaining_width_mm: float | None
    notch_radius_mm: float | None
    """These three only where they are not those of the record."""
    clamp_torque_Nm: float | None
    transfer_s: float | None
    rise_angle_deg: float | None
    indicated_energy_J: float | None
    break_type: str
    """The letter of its break type."""
    excluded: str | None
    """Why it does not count, or None."""

    @property
    def counts(self) -> bool:
        """Whether it counts for the result: it was not excluded."""
        return self.excluded is None


@dataclass(frozen=True, slots=True)
class ReportedSpecimen:
    """What the group wrote down for one specimen."""

    energy_J: float | None
    strength_kJ_m2: float | None


@dataclass(frozen=True, slots=True)
class Reported:
    """What the group worked out itself, to be compared with what is computed here."""

    mean_kJ_m2: float | None
    standard_deviation_kJ_m2: float | None
    specimens: dict[str, ReportedSpecimen]
    digits: dict[tuple[str, ...], int]
    """Decimal places of each number as it was written, by its keys under `reported`."""


@dataclass(frozen=True, slots=True)
class Record:
    """One set of specimens of one material, broken on one day with one hammer."""

    id: str
    date: dt.date
    group: str
    exercise: str
    rig: str
    hammer: str
    material: str
    batch: str | None
    specimen: SpecimenChoice
    conditioning: Conditioning
    test_atmosphere: Atmosphere
    notch_radius_mm: float | None
    """Measured at the base of the notch, of all specimens that do not state their own."""
    clamp_torque_Nm: float | None
    """The same of the torque with which the clamp was closed."""
    transfer_s: float | None
    """The same of the time from conditioning to the blow."""
    zero_reading_deg: float | None
    """What an angle scale shows with the pendulum hanging at rest."""
    zero_reading_J: float | None
    """What an energy scale shows with the indicator where the pendulum is released."""
    free_swings: FreeSwings | None
    specimens: tuple[Specimen, ...]
    reported: Reported | None
    deviations: tuple[Deviation, ...]
    acknowledged: tuple[Acknowledgement, ...]
    notes: str | None

    def measured(self, name: str) -> Iterator[tuple[tuple[str | int, ...], float]]:
        """A quantity of the record or of bars that differ from it: the keys that lead to each value, and the value."""
        common = getattr(self, name)
        if common is not None:
            yield (name,), common
        for place, specimen in enumerate(self.specimens):
            own = getattr(specimen, name)
            if own is not None:
                yield ("specimens", place, name), own
