"""A board to draw on: lines, areas and labels in, an SVG string out.

All positions are in the drawing's own pixels. The board remembers where labels and lines lie, so that a label can be
put where it covers neither.
"""

import functools
import itertools
import math
from collections.abc import Callable
from dataclasses import dataclass

from notchbook.charts import style
from notchbook.charts.drawings.geometry import Box, Segment, Trace, arc_segments, coordinate
from notchbook.charts.outlines import Point
from notchbook.charts.sheet import Anchor, Paper, fill_of, text_element
from notchbook.charts.style import Paint
from notchbook.charts.words import estimated_width_px, shortened
from notchbook.wording.lines import one_line

_SHARE_BEFORE = {"start": 0.0, "middle": 0.5, "end": 1.0}
_ASCENT_PX = 8.5
_DESCENT_PX = 2.5
RAISE_PX = 4.0
"""From the middle of a text down to its base line."""
_PLACE_STEP_PX = 2.0
_PLACE_REACH_PX = 150.0
_CLEAR_PX = 2.0


@dataclass(frozen=True, slots=True)
class Pen:
    """How a line looks."""

    paint: Paint
    width_px: float
    dashes: str | None = None
    opacity: float = 1.0


OUTLINE = Pen(Paint.INK, 1.4)
DASHED = Pen(Paint.INK, 1.2, "5 3")
THIN = Pen(Paint.QUIET, 0.7)
CENTRE_LINE = Pen(Paint.QUIET, 0.7, "9 2 2 2")
BOUNDARY = Pen(Paint.WARN, 0.9, "2 3")


@dataclass(frozen=True, slots=True)
class Fill:
    """How an area is filled."""

    paint: Paint
    opacity: float


SPECIMEN = Fill(Paint.BAND, 0.28)
STEEL = Fill(Paint.QUIET, 0.13)
KEEP_CLEAR = Fill(Paint.WARN, 0.09)
SOLID = Fill(Paint.INK, 1.0)


@functools.cache
def _moves() -> tuple[tuple[float, float], ...]:
    """Steps away from a place, the shortest first."""
    count = int(_PLACE_REACH_PX / _PLACE_STEP_PX)
    steps = [step * _PLACE_STEP_PX for step in range(-count, count + 1)]
    return tuple(sorted(itertools.product(steps, steps), key=lambda move: (math.hypot(*move), move)))


class Board(Paper):
    """Collects what is drawn, each view in a group of its own.

    Attributes:
        labels: Boxes of the labels so far.
        lines: Segments that `room_for` a label keeps clear of.
    """

    kind, joins = "nb-drawing", ' stroke-linejoin="round"'

    def __init__(self, id_prefix: str) -> None:
        super().__init__(id_prefix)
        self.labels: list[Box] = []
        self.lines: list[Segment] = []
        self._end = ""
        """Of the view that is being drawn."""

    def view(self, name: str, px_per_mm: float) -> None:
        """What follows belongs to that view, drawn to that scale."""
        self._elements.append(f'{self._end}<g{self._id(name)} data-px-per-mm="{px_per_mm:.6g}">')
        self._end = "</g>"

    def path(self, trace: Trace, pen: Pen | None, fill: Fill | None = None, *, name: str | None = None) -> None:
        """A path of lines and arcs."""
        self._add("path", f'd="{trace.data}"', pen, fill, name)
        if pen is not None:
            self.lines += trace.segments

    def circle(self, centre: Point, radius: float, pen: Pen, fill: Fill | None = None, name: str | None = None) -> None:
        """A whole circle."""
        x, y, size = map(coordinate, (*centre, radius))
        self._add("circle", f'cx="{x}" cy="{y}" r="{size}"', pen, fill, name)
        self.lines += arc_segments(centre, radius, 0.0, 360.0)

    def text(
        self,
        at: Point,
        text: str,
        *,
        anchor: Anchor = "start",
        bold: bool = False,
        upwards: bool = False,
        paint: Paint = Paint.INK,
        widest_px: float = style.WIDTH_PX,
    ) -> Box:
        """One line of text whose base line starts, is centred or ends there, cut off where it would run too wide."""
        words = shortened(one_line(text), widest_px, style.FONT_PX)
        x, y = map(coordinate, at)
        self._elements.append(text_element(x, y, words, anchor, bold=bold, upwards=upwards, paint=paint))
        width = estimated_width_px(words, style.FONT_PX)
        before = _SHARE_BEFORE[anchor] * width
        box = Box(at[0] - before, at[1] - _ASCENT_PX, at[0] - before + width, at[1] + _DESCENT_PX)
        if upwards:
            box = Box(at[0] - _ASCENT_PX, at[1] + before - width, at[0] + _DESCENT_PX, at[1] + before)
        self.labels.append(box)
        return box

    def room_for(self, text: str, near: Point, within: Callable[[Box], bool]) -> Box | None:
        """Where a line of text covers no label and no line, its middle as near to a point as can be.

        Args:
            text: What is to be written.
            near: Where its middle should be.
            within: Whether a box is an acceptable place.

        Returns:
            The box of the text, or None where there is no room for it in a wide surrounding.
        """
        half_width = estimated_width_px(one_line(text), style.FONT_PX) / 2.0
        half_height = (_ASCENT_PX + _DESCENT_PX) / 2.0
        box = Box(near[0] - half_width, near[1] - half_height, near[0] + half_width, near[1] + half_height)
        lines = list(self.lines)
        for right, down in _moves():
            if box.left + right < 0.0 or box.right + right > style.WIDTH_PX or box.top + down < 0.0:
                continue
            moved = box.moved(right, down)
            if not within(moved):
                continue
            room = moved.grown(_CLEAR_PX)
            if any(map(room.overlaps, self.labels)):
                continue
            crossing = next((place for place, line in enumerate(lines) if room.crossed_by(line)), None)
            if crossing is None:
                return moved
            # what crosses one place crosses those around it
            lines.insert(0, lines.pop(crossing))
        return None

    def text_in(self, box: Box, text: str, paint: Paint = Paint.INK) -> Box:
        """A line of text in the room found for it."""
        return self.text((box.left, box.bottom - _DESCENT_PX), text, paint=paint)

    def _drawn(self) -> str:
        return f"{super()._drawn()}{self._end}"

    def _add(self, tag: str, shape: str, pen: Pen | None, fill: Fill | None, name: str | None) -> None:
        look = ' fill="none"' if fill is None else fill_of(fill.paint, fill.opacity)
        if pen is not None:
            look += f' stroke="{pen.paint.value}" stroke-width="{pen.width_px:g}"'
            look += "" if pen.dashes is None else f' stroke-dasharray="{pen.dashes}"'
            look += "" if pen.opacity == 1.0 else f' stroke-opacity="{pen.opacity:g}"'
        self._elements.append(f"<{tag}{self._id(name)} {shape}{look} />")
