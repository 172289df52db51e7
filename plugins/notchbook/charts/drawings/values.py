"""What a drawing is made from: dimensions as numbers to draw and as texts to print."""

import math
from dataclasses import dataclass
from typing import Self

from notchbook.model.method import Notch, SpecimenType
from notchbook.model.requirement import Requirement

_HALF_TURN_DEG = 180.0


@dataclass(frozen=True, slots=True)
class Dimension:
    """A length in mm or an angle in degrees, with the text that stands for it."""

    value: float
    text: str
    """With its tolerance; a length without the unit, which the drawing states once, an angle with its degree sign."""

    @classmethod
    def of(cls, requirement: Requirement, unit: str = "") -> Self:
        """What is required, a length without and an angle with its unit."""
        return cls(requirement.value, requirement.text(unit))


@dataclass(frozen=True, slots=True)
class BarShape:
    """A bar without its notch."""

    length: Dimension
    width: Dimension
    thickness: Dimension

    def __post_init__(self) -> None:
        for each in (self.length, self.width, self.thickness):
            positive(each.value, "a bar's dimension")

    @classmethod
    def of(cls, specimen_type: SpecimenType) -> Self:
        """The bar of a specimen type."""
        sizes = specimen_type.length_mm, specimen_type.width_mm, specimen_type.thickness_mm
        return cls(*map(Dimension.of, sizes))


@dataclass(frozen=True, slots=True)
class NotchShape:
    """A notch at mid-length, across the width of a bar."""

    name: str
    base_radius: Dimension
    angle: Dimension
    """Included angle of the flanks, below 180 degrees; 0 for parallel ones."""
    remaining_width: Dimension

    def __post_init__(self) -> None:
        positive(self.base_radius.value, "a notch's base radius")
        positive(self.remaining_width.value, "the width under a notch")
        if not 0.0 <= self.angle.value < _HALF_TURN_DEG:
            raise ValueError(f"a notch's angle lies between 0 and 180 degrees, not at {self.angle.value:g}")

    @classmethod
    def of(cls, notch: Notch) -> Self:
        """The shape of a method's notch."""
        radius, width = map(Dimension.of, (notch.base_radius_mm, notch.remaining_width_mm))
        return cls(notch.id, radius, Dimension.of(notch.angle_deg, "°"), width)

    def depth_mm(self, bar: BarShape) -> float:
        """How deep it is cut: width less remaining width.

        Raises:
            ValueError: As much or more would remain than there was.
        """
        depth = bar.width.value - self.remaining_width.value
        return positive(depth, "the depth of a notch, width less remaining width,")


@dataclass(frozen=True, slots=True)
class EdgeShape:
    """The striking edge in profile."""

    radius: Dimension
    angle: Dimension | None
    """Included angle of its flanks, below 180 degrees; None where it is not stated."""

    def __post_init__(self) -> None:
        positive(self.radius.value, "a striking edge's radius")
        if self.angle is not None and not 0.0 <= self.angle.value < _HALF_TURN_DEG:
            raise ValueError(f"a striking edge's angle lies between 0 and 180 degrees, not at {self.angle.value:g}")


@dataclass(frozen=True, slots=True)
class ThreePoint:
    """Two supports."""

    span: Dimension
    """Distance of the lines on which the bar rests."""
    edge_radius: Dimension | None

    def __post_init__(self) -> None:
        positive(self.span.value, "a span")
        if self.edge_radius is not None:
            positive(self.edge_radius.value, "the radius of a support's edge")


@dataclass(frozen=True, slots=True)
class Cantilever:
    """A clamp that holds the lower half of the bar."""

    strike_height: Dimension
    """From the top of the clamp to the line of strike."""
    jaw_edge_radius: Dimension | None

    def __post_init__(self) -> None:
        positive(self.strike_height.value, "a height of strike")
        if self.jaw_edge_radius is not None:
            positive(self.jaw_edge_radius.value, "the radius of a jaw's edge")


def positive(value: float, what: str) -> float:
    """The value.

    Raises:
        ValueError: It is not a finite number above 0.
    """
    if not (math.isfinite(value) and value > 0.0):
        raise ValueError(f"{what} must be a number above 0, not {value:g}")
    return value
