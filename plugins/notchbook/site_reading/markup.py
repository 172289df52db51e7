"""What the HTML of a hand-written page holds that is not published, found tag by tag.

Each tag is shown to the sanitiser by itself; what it takes away is refused. What is no tag as HTML means it, such as
one whose quotation mark is never closed, is refused before: programs read it in different ways.
"""

import re
from bisect import bisect_left
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from notchbook.site_reading.sanitiser import ATTRIBUTES, SHAPES, TAGS, VALUES, VOID, advice, kept_attributes

MOST_DEPTH = 100
"""Elements within elements: a parser needs time and memory that grow with both depth and length."""
_MOST_CROSSED = 20
"""End tags that cross others; each can be begun anew in every paragraph after it."""
_MOST_ATTRIBUTES = 50
_LONGEST_SHOWN = 60
_ADDRESSES = frozenset({"href", "src", "poster"})
# HTML's own white space; that of Python has more.
_SPACE = r"[\t\n\f\r ]"
_NAME = r"[a-z][^\t\n\f\r />]*+"
_ATTRIBUTE_FORM = rf"([^\t\n\f\r \"'<>/=]++)(?:{_SPACE}*+={_SPACE}*+(\"[^\"]*+\"|'[^']*+'|[^\t\n\f\r \"'=<>`]++))?+"
# HTML Living Standard, 13.1.2, tags as they are written, and 13.2.5.43 to 52, where a comment ends. Possessive, so that
# no text costs more than its length.
_PIECE = re.compile(
    rf"<(?:(?P<start>{_NAME})(?P<attributes>(?:{_SPACE}++{_ATTRIBUTE_FORM})*+){_SPACE}*+/?>"
    rf"|/(?P<end>{_NAME}){_SPACE}*+>"
    r"|(?P<comment>!--)"
    r"|(?P<broken>[a-z/!?]))",
    re.IGNORECASE,
)
_ATTRIBUTE = re.compile(_ATTRIBUTE_FORM)
_COMMENT_END = re.compile(r"--!?>")
# 13.1.2.4: elements whose end may be left out before the next of their kind
_OPTIONAL_END = frozenset(["p", "li", "dt", "dd", "tr", "td", "th", "tbody", "thead", "tfoot", "colgroup", "rt", "rp"])
# Elements whose content is no part of the page.
_OPAQUE = re.compile(
    r"</(?P<name>script|style|textarea|title|iframe|xmp|noembed|noframes|noscript|math|template|object)[\t\n\f\r />]",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Refusal:
    """A piece of HTML that is not published."""

    start: int
    """Where it begins in the HTML, from 0."""
    text: str
    """The tag as it stands there."""
    subject: str
    """What in the tag is refused: its name, an attribute, or a value as it is written."""
    message: str
    hint: str
    is_address: bool = False
    """Whether it is where a link leads, or where something shown comes from."""


def refusals(page: str, reserved: str = "") -> Iterator[Refusal]:
    """Everything in the HTML that would not be published, in its order; what lies inside a script is not looked at.

    A reserved text may stand between tags and nowhere in them.
    """
    nesting, ends = _Nesting(), _Ends(page)
    position = 0
    while found := _PIECE.search(page, position):
        start, position = found.start(), found.end()
        text, complaint = found.group(), None
        if found["start"] is not None:
            name = found["start"].lower()
            for each in _of_tag(text, name, found["attributes"]):
                yield Refusal(start, text, *each)
            if reserved and reserved in text:
                message, hint = f"a value or formula stands inside the tag <{name}>", "put it between the tags"
                yield Refusal(start, text, text, message, hint)
            if name not in TAGS:
                position = ends.after(name, position)
            complaint = nesting.begin(name, text) if position == found.end() else None
        elif found["end"] is not None:
            complaint = nesting.end(found["end"].lower(), text)
        elif found["comment"] is not None:
            position = ends.of_comment(position)
        if found["broken"] is not None or position < 0:
            shown = page[start : start + _LONGEST_SHOWN].partition("\n")[0]
            message = f"'{shown}' is no tag as HTML knows it, or one that is never ended"
            yield Refusal(start, shown, shown, message, "write &lt; for the sign <, or put the text in backticks")
            position = found.end()
        if complaint:
            yield Refusal(start, text, text, *complaint)
            return


class _Ends:
    """Where comments and elements that are no part of the page end; the text is gone through once for each."""

    def __init__(self, page: str) -> None:
        self._page = page
        self._last_comment = len(page)

    def of_comment(self, position: int) -> int:
        """Where a comment ends whose text begins here; -1 for one without an end."""
        if self._page.startswith((">", "->"), position):
            return self._page.index(">", position) + 1
        if position > self._last_comment:
            return -1
        found = _COMMENT_END.search(self._page, position)
        if found is None:
            self._last_comment = position
            return -1
        return found.end()

    def after(self, name: str, position: int) -> int:
        """The place after the next end tag of an element that is no part of the page; here where there is none."""
        places = self._places[name]
        index = bisect_left(places, position)
        return places[index] if index < len(places) else position

    @cached_property
    def _places(self) -> defaultdict[str, list[int]]:
        """Where the end tags of each such element end, by its name."""
        places = defaultdict(list)
        for found in _OPAQUE.finditer(self._page):
            places[found["name"].lower()].append(found.end() - 1)
        return places


class _Nesting:
    """Which elements are open, so far as it takes to keep the work of a parser within bounds."""

    def __init__(self) -> None:
        self._crossed = 0
        self._open: list[str] = []

    def begin(self, name: str, text: str) -> tuple[str, str] | None:
        """Begin an element; what is wrong and what to do where that is one too many."""
        if name in VOID or (name in SHAPES and text.endswith("/>")):
            return None
        if name not in _OPTIONAL_END or self._open[-1:] != [name]:
            self._open.append(name)
        if len(self._open) > MOST_DEPTH:
            return f"is nested more than {MOST_DEPTH} elements deep", "end the elements before it"
        return None

    def end(self, name: str, text: str) -> tuple[str, str] | None:
        """End an element; the same."""
        if name not in self._open:
            return None
        crossed = False
        while (last := self._open.pop()) != name:
            crossed = crossed or last not in _OPTIONAL_END
        self._crossed += crossed
        if self._crossed > _MOST_CROSSED:
            message = f"'{text[:_LONGEST_SHOWN]}' is one of more than {_MOST_CROSSED} end tags that stand crosswise"
            return message, "end elements in the order inside out"
        return None


def _of_tag(text: str, name: str, attributes: str) -> Iterator[tuple[str, str, str, bool]]:
    """What is refused of one start tag: subject, message, hint, and whether it is an address."""
    if name not in TAGS:
        yield text, f"<{name[:_LONGEST_SHOWN]}> is not published from a page", advice(name), False
        return
    if not attributes and name != "input":
        return
    written = _ATTRIBUTE.findall(attributes)
    names = [each.lower() for each, _ in written[:_MOST_ATTRIBUTES]]
    if len(written) > _MOST_ATTRIBUTES or len(set(names)) < len(names):
        more = f"more than {_MOST_ATTRIBUTES} attributes" if len(written) > _MOST_ATTRIBUTES else "an attribute twice"
        yield text, f"<{name}> has {more}", "leave out those that do nothing", False
        return
    kept = kept_attributes(name, text)
    for each, value in written:
        key = each.lower()
        if key in kept:
            continue
        shown = value.strip("\"'")
        if key in ATTRIBUTES["*"] | ATTRIBUTES.get(name, frozenset()) or key in VALUES.get(name, {}):
            message = f"<{name}> has '{shown[:_LONGEST_SHOWN]}' as {key}, which is not published"
            yield shown or each, message, advice(name, key), key in _ADDRESSES
        else:
            message = f"<{name}> has the attribute '{key[:_LONGEST_SHOWN]}', which is not published"
            yield each, message, advice(name, key), False
    if name == "input" and "type" not in names:
        yield text, "<input> without a type is a field to type into", advice("input"), False
