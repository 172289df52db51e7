"""Places of values: a writer of its own puts nested data down in many styles and remembers where it put what."""

import json
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from notchbook.reading.nodes import compose, position
from notchbook.reading.scalars import decimal_places
from notchbook.reading.strict_yaml import parse
from small_handbook import TEST, as_yaml, files, opened

PLAIN_WORD = re.compile(r"[a-z_]+\Z")
RESERVED = {"null", "true", "false"}


class Writer:
    """Writes data as YAML, in block or flow style as the choices say, and keeps the place of each key and value."""

    def __init__(self, choices):
        self.lines = [""]
        self.values = {}
        self.keys = {}
        self._choices = choices

    def _choose(self):
        return next(self._choices)

    def _here(self):
        return len(self.lines), len(self.lines[-1]) + 1

    def _put(self, text):
        self.lines[-1] += text

    def _break(self, indent):
        if self._choose():
            self.lines.append("  # a remark: {é}")
        self.lines.append(" " * indent)

    def _scalar(self, value):
        if isinstance(value, str) and PLAIN_WORD.match(value) and value not in RESERVED and self._choose():
            return value
        return json.dumps(value, ensure_ascii=False)

    def _key(self, key, path):
        self.keys[path] = self._here()
        self._put(self._scalar(key) + ":")

    def document(self, data):
        self._block_mapping(data, (), 0)
        return "\n".join(self.lines) + "\n"

    def _value(self, value, path, indent):
        """A value after its key or dash."""
        collection = isinstance(value, (dict, list))
        if collection and value and self._choose():
            deeper = indent + (3 if self._choose() else 1)
            self._break(deeper)
            (self._block_mapping if isinstance(value, dict) else self._block_list)(value, path, deeper)
            return
        self._put("   " if self._choose() else " ")
        self._flow(value, path, indent)

    def _block_mapping(self, data, path, indent):
        self.values[path] = self._here()
        for number, (key, value) in enumerate(data.items()):
            if number:
                self._break(indent)
            self._key(key, (*path, key))
            self._value(value, (*path, key), indent)

    def _block_list(self, data, path, indent):
        self.values[path] = self._here()
        for number, value in enumerate(data):
            if number:
                self._break(indent)
            self._put("-")
            self._value(value, (*path, number), indent)

    def _flow(self, value, path, indent):
        self.values[path] = self._here()
        if not isinstance(value, (dict, list)):
            self._put(self._scalar(value))
            return
        opening, closing = "{}" if isinstance(value, dict) else "[]"
        self._put(opening)
        for number, (key, item) in enumerate(value.items() if isinstance(value, dict) else enumerate(value)):
            if number:
                self._put(", ")
            if self._choose():
                self._break(indent + 2)
            if isinstance(value, dict):
                self._key(key, (*path, key))
                self._put(" ")
            self._flow(item, (*path, key if isinstance(value, dict) else number), indent)
        self._put(closing)


WORDS = st.one_of(
    st.from_regex(PLAIN_WORD, fullmatch=True),
    st.text(st.sampled_from("aé漢😀 :#-{}[],&*!'\"\\%|>?0"), min_size=1, max_size=6),
)
SCALARS = st.one_of(WORDS, st.integers(-999, 999), st.booleans(), st.none(), st.floats(0.001, 1e6))
VALUES = st.recursive(
    SCALARS,
    lambda inner: st.one_of(st.lists(inner, max_size=4), st.dictionaries(WORDS, inner, max_size=4)),
    max_leaves=12,
)


@given(data=st.dictionaries(WORDS, VALUES, min_size=1, max_size=5), choices=st.lists(st.booleans(), min_size=1))
def test_a_value_is_found_where_it_was_written(data, choices):
    writer = Writer(choices[number % len(choices)] for number in range(10_000))
    text = writer.document(data)
    assert parse(text) == (data, [])
    node = compose(text)
    assert {path: position(node, path) for path in writer.values} == writer.values
    assert {path: position(node, path, at_key=True) for path in writer.keys} == writer.keys


def test_keys_that_lead_nowhere_give_the_place_as_far_as_they_go():
    node = compose("a:\n  b: [1, {c: 2}]\n")
    assert position(node, ()) == (1, 1)
    assert position(node, ("a", "x")) == (2, 3)
    assert position(node, ("a", "b", 7)) == (2, 6)
    assert position(node, ("a", "b", 1, "c", "d")) == (2, 14)
    assert position(node, ("x", "y"), at_key=True) == (1, 1)


@pytest.mark.parametrize(
    ("scalar", "places"),
    [("4.10", 2), ("-0.50", 2), ("4.1", 1), ("1e3", -3), (".5", 1), ("+4.", 0), ("41e-1", 1), ("4", 0), ("0x1e5", 0),
     ("1234567890123456789", 0), ("1.25e-2", 4), ("100000.0", 1), ("0.00001", 5)],
)  # fmt: skip
def test_a_mapping_knows_with_how_many_decimal_places_a_number_was_written(scalar, places):
    data = parse(f"a: {{b: {scalar}}}\n")[0]["a"]
    assert decimal_places(data, "b") == places
    assert data == {"b": float(int(scalar, 0)) if "x" in scalar else float(scalar)}
    # compiled code knows no numbers but these
    assert type(data["b"]) in (int, float)


def test_columns_count_characters_not_bytes(tmp_path):
    contents = files()
    contents[TEST]["specimen"] = {"type": "é漢😀", "notch": 5, "direction": "edgewise"}
    line = next(line for line in as_yaml(contents[TEST]).splitlines() if "é漢😀" in line)
    (finding,) = [each for each in opened(tmp_path, contents).findings if each.path == TEST]
    assert (finding.rule, finding.column) == ("value-type", line.index("5") + 1)
