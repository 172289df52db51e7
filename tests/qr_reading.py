"""QR codes as a phone takes them: a picture, read by another library than the one that made them."""

import re

import numpy as np
import zxingcpp
from numpy.typing import NDArray

from html_tree import Element

STROKE = re.compile(r"([Mmh])(-?[\d.]+)(?: (-?[\d.]+))?")


def modules_of(path: str, modules: int) -> NDArray[np.bool_]:
    """Dark modules of a path of strokes of width 1 along rows, shape (modules, modules)."""
    dark = np.zeros((modules, modules), dtype=bool)
    assert "".join(each.group() for each in STROKE.finditer(path)) == path
    x = y = 0.0
    for command, first, second in STROKE.findall(path):
        if command == "M":
            x, y = float(first), float(second)
            assert y % 1 == 0.5, "a stroke lies in the middle of its row"
        elif command == "m":
            x, y = x + float(first), y + float(second)
        else:
            dark[int(y), int(x) : int(x + float(first))] = True
            x += float(first)
    return dark


def read(picture: NDArray[np.uint8]) -> list[str]:
    """The texts of all QR codes of a grey picture, shape (height, width)."""
    return [each.text for each in zxingcpp.read_barcodes(picture) if each.format == zxingcpp.BarcodeFormat.QRCode]


def read_path(path: str, modules: int, pixels: int = 4) -> list[str]:
    """The texts of a code given as a path."""
    dark = modules_of(path, modules)
    return read(np.where(np.kron(dark, np.ones((pixels, pixels), dtype=bool)), 0, 255).astype(np.uint8))


def read_svg(svg: Element) -> list[str]:
    """The texts of a code in a page; it is drawn black on a white square of its whole size."""
    left, top, width, height = map(int, svg.attributes["viewbox"].split())  # the parser lowers the name
    assert (left, top) == (0, 0)
    assert width == height
    ground, code = svg.all("path")
    assert (ground.attributes["fill"], ground.attributes["d"]) == ("#fff", f"M0 0h{width}v{width}H0z")
    assert code.attributes["stroke"] == "#000"
    return read_path(code.attributes["d"], width)
