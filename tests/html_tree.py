"""HTML as a tree, strict about the nesting of its elements."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser

# HTML Living Standard, 13.1.2: elements without an end tag.
VOID = frozenset(["area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"])


@dataclass(eq=False)
class Element:
    """An element with its attributes and what stands in it."""

    tag: str
    attributes: dict[str, str] = field(default_factory=dict)
    children: list[Element | str] = field(default_factory=list)
    parent: Element | None = None

    def __iter__(self) -> Iterator[Element]:
        """This element and all inside it, in the order of the document."""
        yield self
        for child in self.children:
            if isinstance(child, Element):
                yield from child

    @property
    def classes(self) -> set[str]:
        return set(self.attributes.get("class", "").split())

    @property
    def raw_text(self) -> str:
        return "".join(child if isinstance(child, str) else child.raw_text for child in self.children)

    @property
    def text(self) -> str:
        """The text with runs of white space as one space."""
        return re.sub(r"\s+", " ", self.raw_text).strip()

    @property
    def ancestors(self) -> list[Element]:
        return [] if self.parent is None else [self.parent, *self.parent.ancestors]

    def all(self, *tags: str, css: str | None = None) -> list[Element]:
        """All inside this element with one of the tags, where there are any, and with that class."""
        return [
            each
            for each in self
            if each is not self and (not tags or each.tag in tags) and (css is None or css in each.classes)
        ]

    def one(self, *tags: str, css: str | None = None) -> Element:
        """The only one inside this element."""
        found = self.all(*tags, css=css)
        assert len(found) == 1, f"{len(found)} of {tags} {css}"
        return found[0]

    def with_id(self, element_id: str) -> Element:
        """The only one with that id."""
        found = [each for each in self if each.attributes.get("id") == element_id]
        assert len(found) == 1, f"{len(found)} elements have the id {element_id}"
        return found[0]


class _Builder(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.root = Element("document")
        self.at = self.root

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        names = [name for name, _ in attrs]
        assert len(set(names)) == len(names), f"line {self.getpos()[0]}: <{tag}> has an attribute twice: {names}"
        element = Element(tag, {name: value or "" for name, value in attrs}, parent=self.at)
        self.at.children.append(element)
        if tag not in VOID:
            self.at = element

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        if tag not in VOID:
            self.handle_endtag(tag)

    def handle_endtag(self, tag: str) -> None:
        assert tag == self.at.tag, f"line {self.getpos()[0]}: </{tag}> ends <{self.at.tag}>"
        assert self.at.parent is not None
        self.at = self.at.parent

    def handle_data(self, data: str) -> None:
        self.at.children.append(data)


def parse(html: str) -> Element:
    """The document; an assertion fails where an element is not ended in its parent."""
    builder = _Builder()
    builder.feed(html)
    builder.close()
    assert builder.at is builder.root, f"<{builder.at.tag}> is never ended"
    return builder.root


def rows_of(table: Element) -> list[dict[str, Element]]:
    """The rows of a table's body as cells by the head of their column."""
    heads = [each.text for each in table.one("thead").all("th")]
    rows = []
    for row in table.one("tbody").all("tr"):
        cells = row.all("th", "td")
        assert len(cells) == len(heads), f"{len(cells)} cells under {heads}"
        rows.append(dict(zip(heads, cells, strict=True)))
    return rows
