"""What the drawings of a bar say, in sentences, for those who cannot see them."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from notchbook.charts.drawings.support_values import SupportDrawing
    from notchbook.charts.drawings.values import BarShape, Cantilever, NotchShape, ThreePoint


def describe_bar(bar: BarShape) -> str:
    """The bar in a sentence."""
    return f"A bar of length {bar.length.text} mm, width {bar.width.text} mm and thickness {bar.thickness.text} mm."


def describe_notch(notch: NotchShape, bar: BarShape) -> str:
    """The notch in a sentence."""
    return (
        f"Notch {notch.name} at mid-length is {notch.depth_mm(bar):.4g} mm deep: base radius {notch.base_radius.text} "
        f"mm, included angle {notch.angle.text}, remaining width {notch.remaining_width.text} mm."
    )


def describe_three_point(drawing: SupportDrawing, support: ThreePoint) -> str:
    """The bar on two supports."""
    edges = "" if support.edge_radius is None else f", whose edges have the radius {support.edge_radius.text} mm"
    sentences = [
        describe_bar(drawing.bar),
        f"Seen from above, it rests against two supports at a span of {support.span.text} mm{edges}.",
        f"Halfway between them {_blow(drawing)}",
        *_notch(drawing, "It lies in the face away from the blow."),
    ]
    return " ".join(sentences)


def describe_cantilever(drawing: SupportDrawing, clamp: Cantilever) -> str:
    """The bar in a clamp."""
    edges = "" if clamp.jaw_edge_radius is None else f", whose edges have the radius {clamp.jaw_edge_radius.text} mm"
    sentences = [
        describe_bar(drawing.bar),
        f"Seen from the side, it stands upright with its lower half in a clamp{edges}.",
        f"At {clamp.strike_height.text} mm above the clamp {_blow(drawing)}",
        *_notch(drawing, "It is level with the top of the clamp and faces the striking edge."),
    ]
    return " ".join(sentences)


def _blow(drawing: SupportDrawing) -> str:
    edge, face = drawing.striking_edge, "narrow" if drawing.direction == "edgewise" else "wide"
    angle = "of no stated angle" if edge.angle is None else f"of included angle {edge.angle.text}"
    return f"a striking edge {angle} and radius {edge.radius.text} mm strikes its {face} face: {drawing.direction}."


def _notch(drawing: SupportDrawing, place: str) -> list[str]:
    if drawing.notch is None:
        return []
    seen = place if drawing.direction == "edgewise" else "It lies in a narrow face, which is not seen here."
    return [describe_notch(drawing.notch, drawing.bar), seen]
