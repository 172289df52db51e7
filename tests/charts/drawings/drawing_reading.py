"""Reads a drawing back: where its labels, lines and parts lie."""

import itertools
import math
import re
from xml.etree import ElementTree as ET

from notchbook.charts.drawings.values import Dimension
from notchbook.charts.words import estimated_width_px

SVG = "{http://www.w3.org/2000/svg}"
FONT_PX = 11.0
ASCENT_PX, DESCENT_PX = 8.5, 2.5
COLOUR = re.compile(r"currentColor|none|var\(--nb-(quiet|warn|band),currentColor\)")
ELEMENTS = {"svg", "title", "desc", "path", "circle", "g", "text"}
ATTRIBUTES = {
    "viewBox", "role", "aria-labelledby", "class", "style", "id", "d", "cx", "cy", "r", "x", "y", "transform",
    "text-anchor", "font-size", "font-weight", "fill", "fill-opacity", "stroke", "stroke-width", "stroke-opacity",
    "stroke-dasharray", "stroke-linejoin", "data-px-per-mm",
}  # fmt: skip


def mm(value):
    """A length without a tolerance."""
    return Dimension(value, f"{value:g}")


class Drawing:
    """One SVG with its parts by name."""

    def __init__(self, text, prefix):
        self.source = text
        self.prefix = prefix
        self.root = ET.fromstring(text)  # noqa: S314 - it is our own
        self.elements = list(self.root.iter())
        self.height = float(self.root.get("viewBox").split()[3])

    def named(self, name):
        found = [each for each in self.elements if each.get("id") == f"{self.prefix}-{name}"]
        assert len(found) == 1, name
        return found[0]

    def has(self, name):
        return any(each.get("id") == f"{self.prefix}-{name}" for each in self.elements)

    def scale(self, view):
        return float(self.named(view).get("data-px-per-mm"))

    def corners(self, name):
        """Ends of the lines and arcs of a path."""
        return [piece[-2:] for piece in pieces(self.named(name).get("d")) if piece[0] != "Z"]

    def extent(self, name):
        """Left, top, right and bottom of a path without curves that bulge."""
        points = [(x, y) for x, y in self.corners(name)]
        xs, ys = [x for x, _ in points], [y for _, y in points]
        return min(xs), min(ys), max(xs), max(ys)

    def arc(self, name):
        """Radius, start and end of the first arc of a path, and whether it goes clockwise."""
        at = None
        for piece in pieces(self.named(name).get("d")):
            if piece[0] == "A":
                return piece[1], at, piece[-2:], bool(piece[5])
            if piece[0] != "Z":
                at = piece[-2:]
        raise AssertionError(f"{name} has no arc")

    def texts(self):
        return [each.text for each in self.elements if each.tag == f"{SVG}text"]

    def description(self):
        return self.named("desc").text

    def labels(self):
        """Text and box of each label, by the width that a common sans-serif typeface gives it."""
        found = []
        for each in self.elements:
            if each.tag != f"{SVG}text":
                continue
            x, y, width = float(each.get("x")), float(each.get("y")), estimated_width_px(each.text, FONT_PX)
            before = {"middle": 0.5, "end": 1.0}.get(each.get("text-anchor"), 0.0) * width
            if each.get("transform"):
                assert each.get("transform") == f"rotate(-90 {each.get('x')} {each.get('y')})"
                found.append((each.text, (x - ASCENT_PX, y + before - width, x + DESCENT_PX, y + before)))
            else:
                found.append((each.text, (x - before, y - ASCENT_PX, x - before + width, y + DESCENT_PX)))
        return found

    def strokes(self):
        """Every drawn line and the outline of every solid area, as short straight pieces."""
        found = []
        for each in self.elements:
            if each.tag == f"{SVG}circle":
                x, y, radius = (float(each.get(name)) for name in ("cx", "cy", "r"))
                turn = [math.radians(step * 5.0) for step in range(73)]
                round_it = [(x + radius * math.cos(angle), y + radius * math.sin(angle)) for angle in turn]
                found += itertools.pairwise(round_it)
            elif each.tag == f"{SVG}path" and (each.get("stroke") or each.get("fill-opacity") is None):
                found += segments(each.get("d"))
        return found


def pieces(data):
    """A path's commands with their numbers."""
    return [(found[1], *map(float, found[2].split())) for found in re.finditer(r"([MLAZ])([-\d. ]*)", data)]


def segments(data):
    found, at, start = [], None, None
    for letter, *numbers in pieces(data):
        if letter == "M":
            start = at = tuple(numbers)
            continue
        if letter == "A":
            points = [at, *_arc_points(at, numbers)]
            found += itertools.pairwise(points)
            at = points[-1]
        else:
            end = start if letter == "Z" else tuple(numbers)
            found.append((at, end))
            at = end
    return found


def arc_centre(start, end, radius, large, clockwise):
    """Centre of an arc between two points, as SVG 1.1, appendix F.6.5, gives it for a circle."""
    half_x, half_y = (start[0] - end[0]) / 2.0, (start[1] - end[1]) / 2.0
    half = math.hypot(half_x, half_y)
    height = math.sqrt(max(0.0, radius**2 - half**2)) / half
    side = 1.0 if large != clockwise else -1.0
    return (
        (start[0] + end[0]) / 2.0 + side * height * half_y,
        (start[1] + end[1]) / 2.0 - side * height * half_x,
    )


def _arc_points(start, numbers):
    radius, _, _, large, clockwise, *end = numbers
    centre = arc_centre(start, end, radius, bool(large), bool(clockwise))
    first, last = (math.atan2(y - centre[1], x - centre[0]) for x, y in (start, end))
    turn = (last - first) % math.tau if clockwise else -((first - last) % math.tau)
    turns = (first + turn * step / 12 for step in range(1, 12))
    return [*((centre[0] + radius * math.cos(at), centre[1] + radius * math.sin(at)) for at in turns), tuple(end)]


def overlap(one, other):
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def crosses(segment, box):
    """Whether a straight piece comes into a box, looked at every half pixel."""
    (x, y), (end_x, end_y) = segment
    steps = max(1, math.ceil(2.0 * math.dist((x, y), (end_x, end_y))))
    places = ((x + (end_x - x) * step / steps, y + (end_y - y) * step / steps) for step in range(steps + 1))
    return any(box[0] < at_x < box[2] and box[1] < at_y < box[3] for at_x, at_y in places)


def assert_readable(drawing):
    """Labels stand inside the drawing, clear of each other and of every line."""
    labels = drawing.labels()
    for text, (left, top, right, bottom) in labels:
        assert left >= -0.01, text
        assert right <= 340.01, text
        assert top >= -0.01, text
        assert bottom <= drawing.height, text
    for (one, box), (other, other_box) in itertools.combinations(labels, 2):
        assert not overlap(box, other_box), (one, other)
    strokes = drawing.strokes()
    for text, box in labels:
        crossing = [each for each in strokes if crosses(each, box)]
        assert crossing == [], (text, box)


def assert_fit_for_a_page(drawing):
    """Small, without script, without colour or typeface of its own, with no id that could clash."""
    ids = [each.get("id") for each in drawing.elements if each.get("id")]
    assert len(ids) == len(set(ids))
    assert all(each.startswith(f"{drawing.prefix}-") for each in ids)
    for each in drawing.elements:
        assert each.tag.removeprefix(SVG) in ELEMENTS
        assert set(each.attrib) <= ATTRIBUTES
        for name in ("fill", "stroke"):
            assert COLOUR.fullmatch(each.get(name, "none"))
        if each is not drawing.root:
            assert "style" not in each.attrib
    root = drawing.root
    assert root.get("role") == "img"
    assert root.get("aria-labelledby").split() == [f"{drawing.prefix}-title", f"{drawing.prefix}-desc"]
    assert root.get("viewBox").startswith("0 0 340 ")
    assert root.get("font-size") == "11"
    assert [each.tag for each in root][:2] == [f"{SVG}title", f"{SVG}desc"]
    for unwanted in ("<?xml", "<!", "\n", "<script", "<style", "font-family", "url("):
        assert unwanted not in drawing.source.lower()
    assert not any(re.search("nan|inf", each.get("d", "")) for each in drawing.elements)
    assert drawing.source.count("http") == 1  # the name space
    assert len(drawing.source.encode()) <= 8192
