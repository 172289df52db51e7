"""How a bar sits when it is struck: on two supports or in a clamp."""

from __future__ import annotations

from typing import TYPE_CHECKING

from notchbook.charts.drawings.cantilever import draw_cantilever
from notchbook.charts.drawings.three_point import draw_three_point
from notchbook.charts.drawings.values import ThreePoint

if TYPE_CHECKING:
    from notchbook.charts.drawings.support_values import SupportDrawing


def support_drawing(drawing: SupportDrawing) -> str:
    """The bar with its supports or clamp and the striking edge that arrives, as SVG.

    Raises:
        ValueError: As much width would remain under the notch as the bar has, or more.
    """
    if isinstance(drawing.support, ThreePoint):
        return draw_three_point(drawing, drawing.support)
    return draw_cantilever(drawing, drawing.support)
