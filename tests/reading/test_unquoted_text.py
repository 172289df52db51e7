"""Texts that a file in order holds otherwise than they were meant, and texts that are left alone."""

import pytest

from notchbook.reading.unquoted_text import findings

TOLD = {
    "number of a bar": ("notes: bar #3 slipped\n", 1, 12, "warning", "'#3 slipped' is left out"),
    "number of a bar in a list": ("s:\n  - bar #3\n", 2, 9, "warning", "'#3' is left out"),
    "word behind the sign": ("notes: bar #three slipped\n", 1, 12, "note", "'#three slipped' is left out"),
    "entry too far in": ("s:\n  - a\n   - b\n  - c\n", 3, 4, "warning", "goes on with the text of the entry above"),
    "first entry too far out": ("s:\n - a\n  - b\n  - c\n", 2, 2, "warning", "further out than the entries below"),
    "curly quotes": ("s: {id: “01”, b: 1}\n", 1, 9, "warning", "word processor"),
    "low and high quotes": ("- „01“\n", 1, 3, "warning", "word processor"),
}


@pytest.mark.parametrize("case", TOLD.values(), ids=TOLD)
def test_text_that_was_not_meant_is_told(case):
    text, line, column, severity, message = case
    (found,) = findings("a.yaml", text)
    assert (found.rule, found.line, found.column, found.severity) == ("unquoted-text", line, column, severity)
    assert message in found.message
    assert found.hint


@pytest.mark.parametrize(
    "text",
    [
        "a: b # a remark\n",
        "a: 5 #measured twice\n",
        'a: "b" #3\n',
        "a: {b: c} #3\n",
        "a: [b,  #3\n  c]\n",
        "a: b#3\n",
        "# bar #3\na: b\n",
        "a: b # see bar #3\n",
        "a: >-\n  bar #3\n",
        "a: |\n  - b\n    - c #4\n",
        "a:\n  - b: # c\n    - d\n",
        "a:\n  - b:\n      - c\n",
        "a:\n  - b\n    goes on\n",
        "a: “Ready” is what is said\n",
        'a: "“01”"\n',
        "a: “two words”\n",
    ],
)
def test_remarks_and_texts_that_were_meant_are_left_alone(text):
    assert findings("a.yaml", text) == []


def test_a_file_full_of_such_texts_is_told_in_a_hundred_findings():
    assert len(findings("a.yaml", "a: b #3\n" * 20_000)) == 100
