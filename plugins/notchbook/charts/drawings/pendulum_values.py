"""What a drawing of a pendulum shows."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Self

from notchbook.charts.drawings.values import positive

if TYPE_CHECKING:
    from notchbook.evaluation.hammers import SwungHammer
    from notchbook.model.rig import Rig

_HALF_TURN_DEG = 180.0
_TENTH_FROM = 100.0
"""Heights below this many millimetres are given to a tenth."""


@dataclass(frozen=True, slots=True)
class PendulumDrawing:
    """What a drawing of a pendulum shows."""

    id_prefix: str
    """Starts every id in the SVG; no other drawing on the page may have the same."""
    title: str
    striking_length_mm: float
    release_angle_deg: float
    """Alpha, above 0 and below 180."""
    free_rise_deg: float | None
    """Beta 1, angle of rise of a free swing; None where none was measured."""
    break_rise_deg: float | None
    """Beta, angle of rise after a typical break; None where none is known."""

    def __post_init__(self) -> None:
        positive(self.striking_length_mm, "a striking length")
        positive(self.release_angle_deg, "a release angle")
        for angle in (self.release_angle_deg, self.free_rise_deg, self.break_rise_deg):
            if angle is not None and not 0.0 <= angle < _HALF_TURN_DEG:
                raise ValueError(f"a pendulum's angle lies between 0 and 180 degrees, not at {angle:g}")

    @classmethod
    def of(
        cls,
        rig: Rig,
        hammer: SwungHammer,
        *,
        free_rise_deg: float | None,
        break_rise_deg: float | None,
        id_prefix: str,
        title: str,
    ) -> Self:
        """The drawing of one hammer of a rig.

        Raises:
            ValueError: The striking length is not above 0, or an angle does not lie between 0 and 180 degrees.
        """
        return cls(id_prefix, title, rig.striking_length_mm, hammer.release_angle_deg, free_rise_deg, break_rise_deg)

    def height_mm(self, angle_deg: float) -> float:
        """How far the centre of strike is above its lowest place: ``L (1 - cos angle)``."""
        return self.striking_length_mm * (1.0 - math.cos(math.radians(angle_deg)))

    def height_text(self, angle_deg: float) -> str:
        """That height in mm, to be read."""
        height = self.height_mm(angle_deg)
        return f"{height:.1f}" if height < _TENTH_FROM else f"{height:.0f}"
