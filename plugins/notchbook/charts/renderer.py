"""Drawing commands to a small SVG tree.

Matplotlib's own SVG writer repeats a style on every mark and cannot name a custom property. This renderer writes the
same commands as a few plain elements; the shape of a mark is written once and used often. Texts come in beside the
artists: they stand in the page's typeface, which matplotlib does not know, so it could only measure them wrongly, take
a dollar sign for mathematics or miss a glyph.
"""

from __future__ import annotations

from typing import TYPE_CHECKING
from xml.etree import ElementTree as ET

import numpy as np
from matplotlib.backend_bases import GraphicsContextBase, RendererBase
from matplotlib.colors import to_rgba
from matplotlib.path import Path
from matplotlib.transforms import Affine2D

from notchbook.charts import style

if TYPE_CHECKING:
    from matplotlib.transforms import Transform
    from matplotlib.typing import ColorType

    from notchbook.charts.sheet import Label

_LETTERS = {Path.MOVETO: "M", Path.LINETO: "L", Path.CURVE3: "Q", Path.CURVE4: "C", Path.CLOSEPOLY: "Z"}
_POSITION_DECIMALS = 1
_SHAPE_DECIMALS = 2


class SvgRenderer(RendererBase):
    """Collects what is drawn as children of an SVG element.

    Attributes:
        root: The element; it has no attributes yet.
    """

    def __init__(self, width_px: float, height_px: float, id_prefix: str) -> None:
        super().__init__()
        self.root = ET.Element("svg")
        self._size_px = width_px, height_px
        self._id_prefix = id_prefix
        self._definitions = ET.SubElement(self.root, "defs")
        self._definition_ids: dict[str, str] = {}
        self._name: str | None = None
        self._flip = Affine2D.from_values(1.0, 0.0, 0.0, -1.0, 0.0, height_px)

    def finish(self) -> None:
        """Takes away what stayed empty."""
        if not len(self._definitions):
            self.root.remove(self._definitions)

    def open_group(self, s: str, gid: str | None = None) -> None:  # noqa: ARG002 - the signature is matplotlib's
        """Keeps the name of what is drawn next."""
        self._name = gid

    def get_canvas_width_height(self) -> tuple[float, float]:
        """Size of the chart in its own pixels."""
        return self._size_px

    def draw_path(
        self, gc: GraphicsContextBase, path: Path, transform: Transform, rgbFace: ColorType | None = None
    ) -> None:
        """One path, filled or stroked."""
        data = _path_data(path, transform + self._flip, _POSITION_DECIMALS)
        self._add("path", {"d": data, **_paint(gc, rgbFace)})

    def draw_markers(
        self,
        gc: GraphicsContextBase,
        marker_path: Path,
        marker_trans: Transform,
        path: Path,
        trans: Transform,
        rgbFace: ColorType | None = None,
    ) -> None:
        """One shape at every point of a path."""
        data = _path_data(marker_path, marker_trans + Affine2D().scale(1.0, -1.0), _SHAPE_DECIMALS)
        reference = f"#{self._definition(data)}"
        group = self._add("g", _paint(gc, rgbFace))
        for x, y in np.asarray((trans + self._flip).transform(path.vertices)).tolist():
            ET.SubElement(group, "use", {"href": reference, "x": _short(x), "y": _short(y)})

    def add_text(self, label: Label) -> None:
        """One line of text, anchored so that its real width does not matter."""
        x, y = map(_short, label.at)
        attributes = {"x": x, "y": y}
        if label.anchor != "start":
            attributes["text-anchor"] = label.anchor
        if label.upwards:
            attributes["transform"] = f"rotate(-90 {x} {y})"
        if label.bold:
            attributes["font-weight"] = "bold"
        ET.SubElement(self.root, "text", attributes).text = label.text

    def _add(self, tag: str, attributes: dict[str, str]) -> ET.Element:
        if self._name is not None:
            attributes = {"id": f"{self._id_prefix}-{self._name}", **attributes}
            self._name = None
        return ET.SubElement(self.root, tag, attributes)

    def _definition(self, data: str) -> str:
        """Id of a shape, which is written once."""
        if data not in self._definition_ids:
            name = f"{self._id_prefix}-shape-{len(self._definition_ids) + 1}"
            self._definition_ids[data] = name
            ET.SubElement(self._definitions, "path", {"id": name, "d": data})
        return self._definition_ids[data]


def _paint(gc: GraphicsContextBase, face: ColorType | None) -> dict[str, str]:
    """Fill and stroke; what a chart inherits from its root is left out."""
    found: dict[str, str] = {}
    fill = to_rgba("none" if face is None else face)
    if not fill[3]:
        found["fill"] = "none"
    else:
        paint = style.paint_of(fill)
        if paint is not style.Paint.INK:
            found["fill"] = paint.value
        if fill[3] != 1:
            found["fill-opacity"] = _short(fill[3], _SHAPE_DECIMALS)
    stroke = gc.get_rgb()
    if gc.get_linewidth() and stroke[3]:
        found["stroke"] = style.paint_of(stroke).value
        found["stroke-width"] = _short(gc.get_linewidth(), _SHAPE_DECIMALS)
        if stroke[3] != 1:
            found["stroke-opacity"] = _short(stroke[3], _SHAPE_DECIMALS)
        dashes = gc.get_dashes()[1]
        if dashes is not None:
            found["stroke-dasharray"] = " ".join(map(_short, np.asarray(dashes, dtype=float).tolist()))
    return found


def _path_data(path: Path, transform: Transform, decimals: int) -> str:
    parts: list[str] = []
    x = y = ""
    for vertices, code in path.iter_segments(transform, simplify=False, curves=True):
        letter = _LETTERS[code]
        numbers = [] if letter == "Z" else [_short(each, decimals) for each in vertices.tolist()]
        if letter == "L" and numbers == [x, y]:
            continue
        if letter == "L" and numbers[1] == y:
            parts.append(f"H{numbers[0]}")
        elif letter == "L" and numbers[0] == x:
            parts.append(f"V{numbers[1]}")
        else:
            parts.append(letter + " ".join(numbers))
        if numbers:
            x, y = numbers[-2:]
    return "".join(parts)


def _short(value: float, decimals: int = _POSITION_DECIMALS) -> str:
    """A number with no more digits than it needs."""
    text = f"{value:.{decimals}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text
