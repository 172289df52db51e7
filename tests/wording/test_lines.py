"""Text as a line: what steers a terminal is shown, and what a runner of pipelines would obey is disarmed."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from notchbook.wording.lines import cells, printable

# How the open-source runner of a forge's pipelines finds a command in a printed line (from memory of its source): the
# line without spaces before it begins with two colons, or `##[`, a name and a closing bracket stand anywhere in it.
# Another kind of runner looks for `##vso[`.
COMMAND = re.compile(r"^\s*::|##\w*\[")


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("a\x1b[31m\tb\r\nc", "a\\x1b[31m\\tb\\r\\nc"),
        ("\u202eevil\u2066\u2028\x85\x0c", "\\u202eevil\\u2066\\u2028\\x85\\x0c"),
        ("\udcff", "\\udcff"),
        ("::error::x", "\\x3a:error::x"),
        ("  ::error::x", "  \\x3a:error::x"),
        ("##[group]x", "\\x23#[group]x"),
        ("x ##[group]x", "x \\x23#[group]x"),
        ("###[group]", "#\\x23#[group]"),
        ("##vso[task.setvariable variable=x]y", "\\x23#vso[task.setvariable variable=x]y"),
    ],
)
def test_what_steers_is_shown(text, shown):
    assert printable(text) == shown


@pytest.mark.parametrize("text", ["", "23 °C, 漢字, é, 😀", "a::b ::", ": a", "## Heading", "# [x]", "a #1", "C:\\new"])
def test_what_can_be_read_stays(text):
    assert printable(text) == text


@given(st.text(st.sampled_from("#:[]a \n\r\t\x0b\x0c\x1c\x85\u2028\u202e\ud800x=%")))
def test_no_text_makes_a_second_line_or_a_command(text):
    line = printable(text)
    assert line.isprintable()
    assert not COMMAND.search(line)


@pytest.mark.parametrize(("text", "number"), [("", 0), ("abc", 3), ("漢字", 4), ("e\u0301", 1)])
def test_cells_of_a_terminal(text, number):
    # Unicode Standard Annex 11: wide and full-width characters take two
    assert cells(text) == number
