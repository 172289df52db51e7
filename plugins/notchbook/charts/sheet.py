"""A sheet to draw one chart on: artists in, an SVG string out.

All positions are in the chart's own pixels, x to the right and y down from the upper left corner.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal
from xml.etree import ElementTree as ET

from notchbook.charts import style
from notchbook.charts.style import Paint
from notchbook.charts.words import identifier
from notchbook.wording.lines import one_line

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence

    from matplotlib.artist import Artist

    from notchbook.charts.style import Look

Point = tuple[float, float]
Stroke = Literal["solid", "dashed", "dotted"]
Anchor = Literal["start", "middle", "end"]
_DASHES: dict[Stroke, tuple[float, tuple[float, ...]] | Literal["solid"]] = {
    "solid": "solid",
    "dashed": (0.0, (6.0, 3.0)),
    "dotted": (0.0, (1.5, 2.5)),
}


@dataclass(frozen=True, slots=True)
class Label:
    """One line of text."""

    at: Point
    text: str
    anchor: Anchor
    bold: bool
    upwards: bool
    """Whether it runs from below to above."""


class Sheet:
    """Keeps artists in the order in which they were asked for; `svg` draws them."""

    def __init__(self) -> None:
        self._artists: list[tuple[Artist, str | None]] = []
        self._labels: list[Label] = []

    def line(
        self,
        *strokes: Sequence[Point],
        paint: Paint = Paint.INK,
        width_px: float = style.GRID_WIDTH_PX,
        opacity: float = 1.0,
        stroke: Stroke = "solid",
        name: str | None = None,
    ) -> None:
        """One or more polylines as one element."""
        from matplotlib.patches import PathPatch
        from matplotlib.path import Path

        vertices = [point for each in strokes for point in each]
        if not vertices:
            return
        codes = [Path.LINETO if place else Path.MOVETO for each in strokes for place in range(len(each))]
        patch = PathPatch(
            Path(vertices, codes),
            facecolor="none",
            edgecolor=paint.rgba(opacity),
            linewidth=width_px,
            linestyle=_DASHES[stroke],
        )
        self._artists.append((patch, name))

    def area(
        self, low: Point, high: Point, paint: Paint, opacity: float = style.BAND_OPACITY, name: str | None = None
    ) -> None:
        """A filled rectangle between two corners."""
        from matplotlib.patches import PathPatch
        from matplotlib.path import Path

        (left, top), (right, bottom) = low, high
        corners = [(left, top), (right, top), (right, bottom), (left, bottom), (left, top)]
        patch = PathPatch(Path(corners, closed=True), facecolor=paint.rgba(opacity), linewidth=0.0)
        self._artists.append((patch, name))

    def marks(self, points: Iterable[Point], look: Look, *, hollow: bool = False, name: str | None = None) -> None:
        """One mark of that look at each point; hollow marks are outlines."""
        from matplotlib.lines import Line2D

        places = list(points)
        if not places:
            return
        ink = look.paint.rgba()
        marks = Line2D(
            [x for x, _ in places],
            [y for _, y in places],
            linestyle="none",
            marker=look.marker,
            markersize=look.size_px,
            markerfacecolor="none" if hollow else ink,
            markeredgecolor=ink,
            markeredgewidth=style.MARK_STROKE_PX if hollow else 0.0,
        )
        self._artists.append((marks, name))

    def text(
        self, at: Point, text: str, *, anchor: Anchor = "start", bold: bool = False, upwards: bool = False
    ) -> None:
        """One line of text whose base line starts, is centred or ends there; it lies above all else."""
        self._labels.append(Label(at, one_line(text), anchor, bold, upwards))

    def svg(self, height_px: float, id_prefix: str, title: str, description: str) -> str:
        """The chart as one line of SVG, to stand in a page or alone.

        Args:
            height_px: Height of the chart.
            id_prefix: Starts every id; no other chart on the page may have the same.
            title: What the chart shows, in a few words.
            description: What the chart says, numbers included, for those who cannot see it.
        """
        from matplotlib.figure import Figure
        from matplotlib.transforms import Affine2D

        from notchbook.charts.renderer import SvgRenderer

        prefix = identifier(id_prefix)
        figure = Figure((style.WIDTH_PX / 72.0, height_px / 72.0), dpi=72, frameon=False)
        down = Affine2D.from_values(1.0, 0.0, 0.0, -1.0, 0.0, height_px)
        for order, (artist, name) in enumerate(self._artists):
            artist.set_transform(down)
            artist.set_zorder(order)
            artist.set_gid(name)
            figure.add_artist(artist)
        renderer = SvgRenderer(style.WIDTH_PX, height_px, prefix)
        figure.draw(renderer)
        for label in self._labels:
            renderer.add_text(label)
        renderer.finish()
        root = renderer.root
        for place, (tag, text) in enumerate((("title", title), ("desc", description))):
            words = ET.Element(tag, {"id": f"{prefix}-{tag}"})
            words.text = one_line(text)
            root.insert(place, words)
        root.attrib.update(
            {
                "xmlns": "http://www.w3.org/2000/svg",
                "viewBox": f"0 0 {style.WIDTH_PX:g} {height_px:g}",
                "role": "img",
                "aria-labelledby": f"{prefix}-title {prefix}-desc",
                "class": "nb-chart",
                "style": f"width:100%;max-width:{style.MAX_WIDTH}",
                "fill": Paint.INK.value,
                "font-size": f"{style.FONT_PX:g}",
            }
        )
        return ET.tostring(root, encoding="unicode")
