"""A pendulum in its positions, with the way between them, and what a drawing of it shows."""

import math
from dataclasses import dataclass
from typing import Self

from notchbook.charts.drawings.board import DASHED, OUTLINE, SOLID, STEEL, Board, Fill, Pen
from notchbook.charts.drawings.geometry import DOWN, polar, polyline
from notchbook.charts.drawings.values import positive
from notchbook.charts.outlines import Point
from notchbook.charts.shown import Shown
from notchbook.charts.style import Paint

_HALF_TURN_DEG = 180.0
_TENTH_FROM = 100.0
"""Heights below this many millimetres are given to a tenth."""


@dataclass(frozen=True, slots=True)
class PendulumDrawing(Shown):
    """What a drawing of a pendulum shows.

    Raises:
        ValueError: The striking length is not above 0, or an angle does not lie between 0 and 180 degrees.
    """

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

    def height_mm(self, angle_deg: float) -> float:
        """How far the centre of strike is above its lowest place: ``L (1 - cos angle)``."""
        return self.striking_length_mm * (1.0 - math.cos(math.radians(angle_deg)))

    def height_text(self, angle_deg: float) -> str:
        """That height in mm, to be read."""
        height = self.height_mm(angle_deg)
        return f"{height:.1f}" if height < _TENTH_FROM else f"{height:.0f}"


_AXIS_PX = 3.0
_BAR_PX = 2.4
_HALF_BAR_PX = 1.6
_FULL_SIZE_FROM_MM = 230.0


@dataclass(frozen=True, slots=True)
class PositionLook:
    """How the pendulum looks in one of its positions."""

    rod: Pen
    hammer: Pen
    fill: Fill | None = None


RELEASED = PositionLook(OUTLINE, OUTLINE, STEEL)
AT_REST = PositionLook(Pen(Paint.INK, 0.8), Pen(Paint.INK, 0.8))
RISEN_AFTER_BREAK = PositionLook(DASHED, Pen(Paint.INK, 1.1, "3 2"))
RISEN_FREELY = PositionLook(Pen(Paint.INK, 1.1, "8 2 1.5 2", 0.6), Pen(Paint.INK, 0.9, opacity=0.5))


@dataclass(frozen=True, slots=True)
class Swing:
    """Where the pendulum swings, in pixels."""

    centre: Point
    radius: float
    """Striking length."""
    outer: float
    """Of the circle to be kept clear."""
    px_per_mm: float

    def strike_at(self, angle_deg: float) -> Point:
        """The centre of strike with the pendulum turned from rest towards the release side."""
        return polar(self.centre, self.radius, DOWN + angle_deg)


@dataclass(frozen=True, slots=True)
class HammerSize:
    """A hammer of no particular make, in mm, with a recess in which the striking edge stands."""

    above: float
    """From the centre of strike towards the axis."""
    below: float
    half_width: float
    recess: float
    """Half the height of the recess."""

    @classmethod
    def of(cls, striking_length_mm: float) -> Self:
        """One of usual size, smaller on a short pendulum."""
        share = min(1.0, striking_length_mm / _FULL_SIZE_FROM_MM)
        return cls(40.0 * share, 26.0 * share, 22.0 * share, 15.0 * share)


def draw_position(
    board: Board, swing: Swing, size: HammerSize, angle_deg: float, look: PositionLook, name: str
) -> None:
    """Rod and hammer, turned from rest towards the release side; the striking edge leads on the way down."""
    away = DOWN + angle_deg

    def at(beyond_strike_mm: float, ahead_mm: float) -> Point:
        along = swing.radius + beyond_strike_mm * swing.px_per_mm
        return polar(polar(swing.centre, along, away), ahead_mm * swing.px_per_mm, away - 90.0)

    width, recess, back = size.half_width, size.recess, -0.45 * size.half_width
    board.path(polyline(swing.centre, at(-size.above, 0.0)), look.rod, name=f"{name}-rod")
    corners = (
        *(at(-size.above, -width), at(-size.above, width), at(-recess, width), at(-recess, back)),
        *(at(-0.4 * recess, back), at(0.0, 0.0), at(0.4 * recess, back)),
        *(at(recess, back), at(recess, width), at(size.below, width), at(size.below, -width)),
    )
    board.path(polyline(*corners, closed=True), look.hammer, look.fill, name=f"{name}-hammer")


def draw_axis_and_bar(board: Board, swing: Swing) -> None:
    """The axis of rotation, and a bar too small to be drawn to scale where the striking edge meets it."""
    board.circle(swing.centre, _AXIS_PX, OUTLINE, SOLID, name="axis")
    x, y = swing.strike_at(0.0)
    top, bottom = y - _HALF_BAR_PX, y + _HALF_BAR_PX
    corners = ((x, top), (x + _BAR_PX, top), (x + _BAR_PX, bottom), (x, bottom))
    board.path(polyline(*corners, closed=True), None, SOLID, name="bar")
