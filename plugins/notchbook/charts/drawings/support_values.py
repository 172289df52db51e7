"""What a drawing of a bar under the blow shows."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Self

from notchbook.charts.drawings.values import BarShape, Cantilever, Dimension, EdgeShape, NotchShape, ThreePoint

if TYPE_CHECKING:
    from notchbook.model.method import Method, Notch, SpecimenType
    from notchbook.model.requirement import Requirement

DIRECTIONS = ("edgewise", "flatwise")
"""Directions of blow that can be drawn."""


@dataclass(frozen=True, slots=True)
class SupportDrawing:
    """What a drawing of a bar under the blow shows."""

    id_prefix: str
    """Starts every id in the SVG; no other drawing on the page may have the same."""
    title: str
    bar: BarShape
    notch: NotchShape | None
    direction: str
    """One of `DIRECTIONS`."""
    striking_edge: EdgeShape
    support: ThreePoint | Cantilever

    def __post_init__(self) -> None:
        if self.direction not in DIRECTIONS:
            raise ValueError(f"a blow can be drawn edgewise or flatwise, not {self.direction}")

    @classmethod
    def of(
        cls,
        method: Method,
        specimen_type: SpecimenType,
        notch: Notch | None,
        direction: str,
        *,
        id_prefix: str,
        title: str,
    ) -> Self:
        """The arrangement as a method asks for it.

        Raises:
            ValueError: The direction cannot be drawn, a dimension is not above 0, or the method states no span or
                height of strike.
        """
        edge = method.striking_edge
        support: ThreePoint | Cantilever
        if method.support == "three-point":
            if specimen_type.span_mm is None:
                raise ValueError(f"specimen type {specimen_type.id} has no span to draw")
            radius = method.support_edge_radius_mm
            support = ThreePoint(Dimension.length(specimen_type.span_mm), _required(radius))
        else:
            if method.strike_height_mm is None:
                raise ValueError(f"method {method.id} has no height of strike to draw")
            radius = method.jaw_edge_radius_mm
            support = Cantilever(Dimension.length(method.strike_height_mm), _required(radius))
        return cls(
            id_prefix,
            title,
            BarShape.of(specimen_type),
            None if notch is None else NotchShape.of(notch),
            direction,
            EdgeShape(
                Dimension.length(edge.radius_mm), None if edge.angle_deg is None else Dimension.angle(edge.angle_deg)
            ),
            support,
        )


def _required(requirement: Requirement | None) -> Dimension | None:
    return None if requirement is None else Dimension.length(requirement)
