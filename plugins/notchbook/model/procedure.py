"""Materials, exercises and hazards: what a department writes down before anybody swings a hammer."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class TypicalStrength:
    """A range that the department wrote down with its source, for choosing a hammer; never a pass mark."""

    method: str
    notch: str
    strength_kJ_m2: tuple[float, float]
    source: str


@dataclass(frozen=True, slots=True)
class Material:
    """A material by generic name."""

    id: str
    title: str
    symbol: str
    form: str | None
    typical: tuple[TypicalStrength, ...]
    notes: str | None
    density_kg_m3: float | None = None


@dataclass(frozen=True, slots=True)
class SpecimenChoice:
    """Type, notch and direction of the specimens of an exercise or a record."""

    type: str
    notch: str
    direction: str

    @property
    def notched(self) -> bool:
        """Whether the bars have a notch."""
        return self.notch != "none"

    @property
    def notch_words(self) -> str:
        """The notch in words: `notch A`, `unnotched`."""
        return f"notch {self.notch}" if self.notched else "unnotched"


@dataclass(frozen=True, slots=True)
class Step:
    """One step of a procedure."""

    do: str
    look_for: str | None
    hazard: str | None


@dataclass(frozen=True, slots=True)
class Deviation:
    """A declared departure from the method."""

    rule: str
    reason: str
    accepted_by: str


@dataclass(frozen=True, slots=True)
class Exercise:
    """A laboratory procedure; without a specimen it is one about the pendulum itself."""

    id: str
    title: str
    method: str
    specimen: SpecimenChoice | None
    aim: str
    outcomes: tuple[str, ...]
    hazards: tuple[str, ...]
    needs: tuple[str, ...]
    prepare: tuple[Step, ...]
    steps: tuple[Step, ...]
    finish: tuple[Step, ...]
    questions: tuple[str, ...]
    duration_min: float
    number_of_specimens: int | None
    accepted_deviations: tuple[Deviation, ...]
    dimension_uncertainty_mm: float | None = None
    """Standard uncertainty of a measured thickness or width; None where it is not stated."""


@dataclass(frozen=True, slots=True)
class Hazard:
    """Something that can hurt, whom, and the controls in order of effect."""

    id: str
    title: str
    harm: str
    whom: str
    remove: tuple[str, ...]
    guard: tuple[str, ...]
    arrange: tuple[str, ...]
    wear: tuple[str, ...]
