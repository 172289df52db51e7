"""The slips of a hand or of a spreadsheet, made in the text of a file so that the real reader meets them."""

from collections.abc import Iterator
from decimal import Decimal

from yaml.nodes import CollectionNode, MappingNode

from faults.leaves import Leaf, next_entry, next_key

TIMES_TEN = "× 10"
TENTH = "÷ 10"
SIGN = "sign"
REMOVED = "removed"
TEXT = "text"
NEXT_KEY = "next key"
NEXT_ENTRY = "next entry"
KINDS = {
    TIMES_TEN: "times ten: the decimal point one place to the right",
    TENTH: "divided by ten: the decimal point one place to the left",
    SIGN: "the other sign",
    REMOVED: "removed, with its key",
    TEXT: "words in quotation marks in its place",
    NEXT_KEY: "exchanged with the next number of the same mapping or list",
    NEXT_ENTRY: "exchanged with the number under the same key of the next entry: bar, hammer, mass",
}
"""Every kind of change, by its name in the table."""
WORDS = '"see the sheet"'


def changes(kind: str, text: str, leaf: Leaf, leaves: list[Leaf]) -> Iterator[tuple[str, str]]:
    """Each kind of change with the text that it makes; one that leaves every value as it was is none.

    Arguments:
        kind: the kind of file.
        text: its text.
        leaf: the number that is changed.
        leaves: all numbers of the file, for the neighbours.
    """
    if leaf.value != 0.0:
        yield TIMES_TEN, _put(text, leaf, shifted(leaf.written, 1))
        yield TENTH, _put(text, leaf, shifted(leaf.written, -1))
        yield SIGN, _put(text, leaf, leaf.written[1:] if leaf.written[0] == "-" else f"-{leaf.written.lstrip('+')}")
    yield REMOVED, removed(text, leaf)
    yield TEXT, _put(text, leaf, WORDS)
    for name, other in ((NEXT_KEY, next_key(leaf, leaves)), (NEXT_ENTRY, next_entry(kind, leaf, leaves))):
        if other is not None and other.value != leaf.value:
            yield name, exchanged(text, leaf, other)


def _put(text: str, leaf: Leaf, new: str) -> str:
    return text[: leaf.start] + new + text[leaf.end :]


def shifted(written: str, places: int) -> str:
    """A number with its decimal point moved, its digits kept: 8.00 becomes 80.0 or 0.800, and 50 becomes 500 or 5."""
    number = Decimal(written).scaleb(places)
    is_whole = "." not in written and number == number.to_integral_value()
    return f"{number.to_integral_value() if is_whole else number:f}"


def exchanged(text: str, leaf: Leaf, other: Leaf) -> str:
    """The text with two numbers in each other's places."""
    first, second = sorted((leaf, other), key=lambda each: each.start)
    between = text[first.end : second.start]
    return text[: first.start] + second.written + between + first.written + text[second.end :]


def removed(text: str, leaf: Leaf) -> str:
    """The text without a number, and without its key where it has one; what held it alone is left empty."""
    parent = leaf.parents[-1]
    spans = _spans(parent)
    place = next(index for index, (_, end) in enumerate(spans) if end == leaf.end)
    start, end = spans[place]
    if parent.flow_style:
        if place + 1 < len(spans):
            return text[:start] + text[spans[place + 1][0] :]
        return text[: spans[place - 1][1] if place else start] + text[end:]
    if len(spans) == 1:
        # deeper than the key that it belongs to, which an unindented list is not
        empty = "{}" if isinstance(parent, MappingNode) else "  []"
        return text[: parent.start_mark.index] + empty + text[end:]
    if place + 1 < len(spans):
        return text[:start] + text[spans[place + 1][0] :]
    # the last of several begins a line of its own
    line_end = text.find("\n", end)
    return text[: text.rfind("\n", 0, start) + 1] + (text[line_end + 1 :] if line_end >= 0 else "")


def _spans(parent: CollectionNode) -> list[tuple[int, int]]:
    """Where each entry begins, with its key, and where it ends."""
    pairs = parent.value if isinstance(parent, MappingNode) else [(item, item) for item in parent.value]
    return [(first.start_mark.index, last.end_mark.index) for first, last in pairs]
