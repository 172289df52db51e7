"""What the bars of an exercise have: a notch or none, a reading of one scale, break types, a number."""

from dataclasses import dataclass, field

from notchbook.model.method import Method
from notchbook.model.procedure import Exercise
from notchbook.model.rig import Rig

ANGLE, ENERGY = "rise_angle_deg", "indicated_energy_J"
READINGS = (ANGLE, ENERGY)


@dataclass(frozen=True, slots=True)
class BarForm:
    """The bars of an exercise on a rig, as far as they are known."""

    notched: bool | None = None
    reading: str | None = None
    """The key that takes what the rig's indicator reads."""
    breaks: dict[str, str] = field(default_factory=dict)
    """Title of each break type of the method by its letter."""
    number: int | None = None
    """How many bars there should be."""

    @property
    def keys(self) -> list[str]:
        """What every bar that counts has, in the order of the contract."""
        notch = ["remaining_width_mm"] if self.notched else []
        reading = [self.reading] if self.reading else []
        return ["id", "width_mm", "thickness_mm", *notch, *reading, "break"]


def bar_form(exercise: Exercise | None, method: Method | None, rig: Rig | None) -> BarForm:
    """The bars of an exercise; what is not known of it stays open."""
    specimen = exercise.specimen if exercise else None
    asked = method.specimen_number.number if method else None
    return BarForm(
        notched=specimen.notch != "none" if specimen else None,
        reading=(ANGLE if rig.indicator.reads == "angle" else ENERGY) if rig else None,
        breaks={each.letter: each.title for each in method.breaks.types} if method else {},
        number=(exercise.number_of_specimens if exercise else None) or asked,
    )
