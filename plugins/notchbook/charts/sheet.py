"""A sheet to draw one chart on, on the paper that drawings share: lines, areas, marks and texts in, an SVG string out.

All positions are in the chart's own pixels, x to the right and y down from the upper left corner. The shape of a mark
is written once and used often; what a chart inherits from its root is left out.
"""

import html
from collections.abc import Iterable, Sequence
from typing import Literal

from notchbook.charts import style
from notchbook.charts.outlines import Point, outline, polyline, short
from notchbook.charts.style import Look, Paint
from notchbook.charts.words import identifier
from notchbook.wording.lines import one_line

Stroke = Literal["solid", "dashed", "dotted"]
Anchor = Literal["start", "middle", "end"]
_DASHES: dict[Stroke, tuple[float, ...]] = {"solid": (), "dashed": (6.0, 3.0), "dotted": (1.5, 2.5)}
"""Lengths of dashes and gaps, in widths of the line."""
_PAINT_DECIMALS = 2


class Paper:
    """What charts and drawings are drawn on: elements in their order, under a title and a description."""

    kind = "nb-chart"
    """Class of the whole in a page."""
    joins = ""
    """How the lines of all elements join, as an attribute."""

    def __init__(self, id_prefix: str) -> None:
        """Begin an empty one; no other on a page may have the same prefix, which starts every id."""
        self._prefix = identifier(id_prefix)
        self._elements: list[str] = []

    def svg(self, height_px: float, title: str, description: str) -> str:
        """The whole as one line of SVG, to stand in a page or alone.

        Args:
            height_px: Its height.
            title: What it shows, in a few words.
            description: What it says, numbers included, for those who cannot see it.
        """
        prefix, height = self._prefix, short(height_px, _PAINT_DECIMALS)
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {style.WIDTH_PX:g} {height}" role="img" '
            f'aria-labelledby="{prefix}-title {prefix}-desc" class="{self.kind}" style="width:100%;max-width:'
            f'{style.MAX_WIDTH}" fill="{Paint.INK.value}" font-size="{style.FONT_PX:g}"{self.joins}>'
            f'<title id="{prefix}-title">{_escaped(title)}</title>'
            f'<desc id="{prefix}-desc">{_escaped(description)}</desc>'
            f"{self._drawn()}</svg>"
        )

    def _drawn(self) -> str:
        return "".join(self._elements)

    def _id(self, name: str | None) -> str:
        return "" if name is None else f' id="{self._prefix}-{name}"'


class Sheet(Paper):
    """The paper of a chart: what is drawn below, texts above it; `svg` puts them together."""

    def __init__(self, id_prefix: str) -> None:
        super().__init__(id_prefix)
        self._shapes: dict[str, int] = {}
        """Outlines of marks with their numbers."""
        self._labels: list[str] = []

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
        data = "".join(polyline(each) for each in strokes if each)
        if data:
            pen = _stroke(paint, width_px, opacity, _DASHES[stroke])
            self._elements.append(f'<path{self._id(name)} d="{data}" fill="none"{pen} />')

    def area(
        self, low: Point, high: Point, paint: Paint, opacity: float = style.BAND_OPACITY, name: str | None = None
    ) -> None:
        """A filled rectangle between two corners."""
        (left, top), (right, bottom) = low, high
        data = polyline([(left, top), (right, top), (right, bottom), (left, bottom)])
        self._elements.append(f'<path{self._id(name)} d="{data}Z"{fill_of(paint, opacity)} />')

    def marks(self, points: Iterable[Point], look: Look, *, hollow: bool = False, name: str | None = None) -> None:
        """One mark of that look at each point; hollow marks are outlines."""
        places = [(short(x), short(y)) for x, y in points]
        if not places:
            return
        number = self._shapes.setdefault(outline(look.shape, look.size_px), len(self._shapes) + 1)
        ink = f' fill="none"{_stroke(look.paint, style.MARK_STROKE_PX)}' if hollow else fill_of(look.paint)
        used = "".join(f'<use href="#{self._prefix}-shape-{number}" x="{x}" y="{y}" />' for x, y in places)
        self._elements.append(f"<g{self._id(name)}{ink}>{used}</g>")

    def text(
        self, at: Point, text: str, *, anchor: Anchor = "start", bold: bool = False, upwards: bool = False
    ) -> None:
        """One line of text whose base line starts, is centred or ends there; it lies above all else."""
        x, y = map(short, at)
        self._labels.append(text_element(x, y, text, anchor, bold=bold, upwards=upwards))

    def _drawn(self) -> str:
        named = ((f"{self._prefix}-shape-{number}", data) for data, number in self._shapes.items())
        shapes = "".join(f'<path id="{name}" d="{data}" />' for name, data in named)
        return "".join([f"<defs>{shapes}</defs>" if shapes else "", super()._drawn(), *self._labels])


def text_element(
    x: str, y: str, text: str, anchor: Anchor, *, bold: bool, upwards: bool, paint: Paint = Paint.INK
) -> str:
    """One line of text whose base line starts, is centred or ends there."""
    anchored = "" if anchor == "start" else f' text-anchor="{anchor}"'
    turned = f' transform="rotate(-90 {x} {y})"' if upwards else ""
    weight = ' font-weight="bold"' if bold else ""
    return f'<text x="{x}" y="{y}"{anchored}{turned}{weight}{fill_of(paint)}>{_escaped(text)}</text>'


def fill_of(paint: Paint, opacity: float = 1.0) -> str:
    """The attributes of an area or a text that is filled so; ink is what all is filled with."""
    colour = "" if paint is Paint.INK else f' fill="{paint.value}"'
    return colour if opacity == 1.0 else f'{colour} fill-opacity="{short(opacity, _PAINT_DECIMALS)}"'


def _stroke(paint: Paint, width_px: float, opacity: float = 1.0, dashes: tuple[float, ...] = ()) -> str:
    width = f' stroke="{paint.value}" stroke-width="{short(width_px, _PAINT_DECIMALS)}"'
    if opacity != 1.0:
        width += f' stroke-opacity="{short(opacity, _PAINT_DECIMALS)}"'
    return width + (f' stroke-dasharray="{" ".join(short(width_px * each) for each in dashes)}"' if dashes else "")


def _escaped(text: str) -> str:
    return html.escape(one_line(text), quote=False)
