"""What a drawing of a bar under the blow shows, and what it says in sentences for those who cannot see it."""

from dataclasses import dataclass
from typing import Self

from notchbook.charts.drawings.values import BarShape, Cantilever, Dimension, EdgeShape, NotchShape, ThreePoint
from notchbook.charts.shown import Shown
from notchbook.model.method import Method, Notch, SpecimenType
from notchbook.model.requirement import Requirement

DIRECTIONS = ("edgewise", "flatwise")
"""Directions of blow that can be drawn."""


@dataclass(frozen=True, slots=True)
class SupportDrawing(Shown):
    """What a drawing of a bar under the blow shows."""

    bar: BarShape
    notch: NotchShape | None
    direction: str
    """One of `DIRECTIONS`."""
    striking_edge: EdgeShape
    support: ThreePoint | Cantilever

    def __post_init__(self) -> None:
        if self.direction not in DIRECTIONS:
            raise ValueError(f"a blow can be drawn edgewise or flatwise, not {self.direction}")

    @property
    def depth(self) -> Dimension:
        """The dimension of the bar along the blow."""
        return self.bar.thickness if self.direction == "flatwise" else self.bar.width

    @property
    def notch_seen(self) -> NotchShape | None:
        """The notch where it is in profile; None where it lies in a narrow face that is not seen."""
        return self.notch if self.direction == "edgewise" else None

    @classmethod
    def of(
        cls, method: Method, bar: SpecimenType, notch: Notch | None, direction: str, id_prefix: str, title: str
    ) -> Self:
        """The arrangement as a method asks for it.

        Raises:
            ValueError: The direction cannot be drawn, a dimension is not above 0, or the method states no span or
                height of strike.
        """
        edge = method.striking_edge
        support: ThreePoint | Cantilever
        if method.support == "three-point":
            if bar.span_mm is None:
                raise ValueError(f"specimen type {bar.id} has no span to draw")
            support = ThreePoint(Dimension.of(bar.span_mm), _stated(method.support_edge_radius_mm))
        else:
            if method.strike_height_mm is None:
                raise ValueError(f"method {method.id} has no height of strike to draw")
            support = Cantilever(Dimension.of(method.strike_height_mm), _stated(method.jaw_edge_radius_mm))
        shape = NotchShape.of(notch) if notch is not None else None
        striking_edge = EdgeShape(Dimension.of(edge.radius_mm), _stated(edge.angle_deg, "°"))
        return cls(id_prefix, title, BarShape.of(bar), shape, direction, striking_edge, support)


def _stated(requirement: Requirement | None, unit: str = "") -> Dimension | None:
    return None if requirement is None else Dimension.of(requirement, unit)


def describe_bar(bar: BarShape) -> str:
    """The bar in a sentence."""
    return f"A bar of length {bar.length.text} mm, width {bar.width.text} mm and thickness {bar.thickness.text} mm."


def describe_notch(notch: NotchShape, bar: BarShape) -> str:
    """The notch in a sentence."""
    return (
        f"Notch {notch.name} at mid-length is {notch.depth_mm(bar):.4g} mm deep: base radius {notch.base_radius.text} "
        f"mm, included angle {notch.angle.text}, remaining width {notch.remaining_width.text} mm."
    )


def describe_support(drawing: SupportDrawing) -> str:
    """The bar on two supports or in a clamp, how it is struck, and where its notch lies."""
    support, edge, notch = drawing.support, drawing.striking_edge, drawing.notch
    if isinstance(support, ThreePoint):
        rounded, place = support.edge_radius, "It lies in the face away from the blow."
        held = f"Seen from above, it rests against two supports at a span of {support.span.text} mm"
        struck = "Halfway between them"
    else:
        rounded, place = support.jaw_edge_radius, "It is level with the top of the clamp and faces the striking edge."
        held = "Seen from the side, it stands upright with its lower half in a clamp"
        struck = f"At {support.strike_height.text} mm above the clamp"
    edges = "" if rounded is None else f", whose edges have the radius {rounded.text} mm"
    angle = "of no stated angle" if edge.angle is None else f"of included angle {edge.angle.text}"
    face = "narrow" if drawing.direction == "edgewise" else "wide"
    sentences = [
        describe_bar(drawing.bar),
        f"{held}{edges}.",
        f"{struck} a striking edge {angle} and radius {edge.radius.text} mm strikes its {face} face: "
        f"{drawing.direction}.",
    ]
    if notch is not None:
        seen = place if drawing.notch_seen else "It lies in a narrow face, which is not seen here."
        sentences += [describe_notch(notch, drawing.bar), seen]
    return " ".join(sentences)
