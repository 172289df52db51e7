"""Reads a chart back: what a browser or a screen reader would find in it."""

import re
from xml.etree import ElementTree as ET

from notchbook.charts.kinds import BreakKind

SVG = "{http://www.w3.org/2000/svg}"
COLOUR = re.compile(r"currentColor|none|var\(--nb-(complete|hinge|partial|none|band),currentColor\)")
ELEMENTS = {"svg", "title", "desc", "defs", "path", "g", "use", "text"}
ATTRIBUTES = {
    "viewBox", "role", "aria-labelledby", "class", "style", "id", "d", "href", "x", "y", "transform", "text-anchor",
    "font-size", "font-weight", "fill", "fill-opacity", "stroke", "stroke-width", "stroke-opacity", "stroke-dasharray",
}  # fmt: skip
KINDS = {
    "C": BreakKind("complete", "complete"),
    "H": BreakKind("hinge", "hinge"),
    "P": BreakKind("partial", "partial"),
    "N": BreakKind("none", "none"),
}
"""The break types of ISO 179-1, 7.8."""


class Chart:
    """One SVG with its parts by name."""

    def __init__(self, text, prefix):
        self.source = text
        self.prefix = prefix
        self.root = ET.fromstring(text)  # noqa: S314 - it is our own
        self.elements = list(self.root.iter())

    def named(self, name):
        found = [each for each in self.elements if each.get("id") == f"{self.prefix}-{name}"]
        assert len(found) <= 1
        return found[0] if found else None

    def names(self, start):
        ids = [each.get("id", "").removeprefix(f"{self.prefix}-") for each in self.elements]
        return [each for each in ids if each.startswith(start)]

    def points(self, name):
        """Centres of the marks of one group."""
        group = self.named(name)
        return [] if group is None else [(float(use.get("x")), float(use.get("y"))) for use in group.iter(f"{SVG}use")]

    def shape(self, name):
        """Outline that the marks of one group are drawn with."""
        (reference,) = {use.get("href") for use in self.named(name).iter(f"{SVG}use")}
        (shape,) = [each for each in self.elements if each.get("id") == reference.removeprefix("#")]
        return shape.get("d")

    def texts(self):
        return [each.text for each in self.elements if each.tag == f"{SVG}text"]

    def text(self, wanted):
        """Position of the first text that reads so."""
        found = next(each for each in self.elements if each.tag == f"{SVG}text" and each.text == wanted)
        return float(found.get("x")), float(found.get("y"))

    @property
    def description(self):
        return self.named("desc").text

    @property
    def height(self):
        return float(self.root.get("viewBox").split()[3])


def assert_fit_for_a_page(chart):
    """No script, no reference to elsewhere, no colour or typeface of its own, no id that could clash."""
    ids = [each.get("id") for each in chart.elements if each.get("id")]
    assert len(ids) == len(set(ids))
    assert all(each.startswith(f"{chart.prefix}-") for each in ids)
    for each in chart.elements:
        assert each.tag.removeprefix(SVG) in ELEMENTS
        assert set(each.attrib) <= ATTRIBUTES
        for name in ("fill", "stroke"):
            assert COLOUR.fullmatch(each.get(name, "none"))
        if "href" in each.attrib:
            assert each.get("href").removeprefix("#") in ids
        if each is not chart.root:
            assert "style" not in each.attrib
    root = chart.root
    assert root.get("role") == "img"
    assert root.get("aria-labelledby").split() == [f"{chart.prefix}-title", f"{chart.prefix}-desc"]
    assert root.get("viewBox").startswith("0 0 340 ")
    assert root.get("style") == "width:100%;max-width:30em"
    assert [each.tag for each in root][:2] == [f"{SVG}title", f"{SVG}desc"]
    for unwanted in ("<?xml", "<!", "\n", "<script", "<style", "font-family", "metadata", "xlink", "url("):
        assert unwanted not in chart.source.lower()
    assert chart.source.count("http") == 1  # the name space
