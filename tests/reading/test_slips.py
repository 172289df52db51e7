"""The slips that beginners make, one by one: where each is told, in which words, and what is to be typed instead."""

import pytest

from notchbook.reading.strict_yaml import parse
from small_handbook import MATERIAL, as_yaml, files

# Text of a file, line and column of the slip, words of the message, words of the hint.
BROKEN = {
    "tab": ("a:\n\tb: 1\n", 2, 1, "tab", "write spaces"),
    "tab behind a dash": ("a:\n  -\tb: 1\n  - c: 2\n", 2, 4, "tab", "write spaces"),
    "tabs throughout": ("a:\n\tb: 1\n\tc: 2\n\td: 3\n", 2, 1, "tab", "2 more lines"),
    "no space behind a colon": ("a: 1\nb:2\nc: 3\n", 2, 2, "no space behind the colon of 'b'", "write b: 2"),
    "no space behind the first colon": ("a:1\nb: 2\n", 1, 2, "no space behind the colon of 'a'", "write a: 1"),
    "no space behind the last colon": ("a: 1\nb:2", 2, 2, "no space behind the colon of 'b'", "write b: 2"),
    "no space before a bracket": ("a: {b:[1]}\n", 1, 6, "no space behind the colon of 'b'", "write b: ["),
    "no space behind a dash": ("a:\n  - {b: 1}\n  -{b: 2}\n", 3, 3, "no space behind the dash", "write - {b: 2}"),
    "dash forgotten": ("a:\n  - x\n  y z\n  - w\n", 3, 3, "has no dash", "write - y z, or begin further in"),
    "colon in a title": ("a: Charpy: notched\nb: 1\n", 1, 10, "colon with a space", 'write a: "Charpy: notched"'),
    "colon in a title with a remark": ("a: Charpy: x # y\n", 1, 10, "colon with a space", 'write a: "Charpy: x"'),
    "colon and quotes in a title": ('a: Say "go": now\n', 1, 12, "colon with a space", "write a: 'Say \"go\": now'"),
    "colon between braces": ("a: {b: c: d}\n", 1, 9, "colon with a space", 'write "c: d"'),
    "open quote": ('a: "x\nb: 1\nc: "y"\nd: 1\n', 1, 4, "is not closed", 'close it behind the text: "x"'),
    "open quote to the end": ('a: 1\nb: "x\nc: 1\n', 2, 4, "is not closed", '"x"'),
    "open quote in a row": ('a:\n  - {b: "1, c: 2}\n  - {b: "2", c: 3}\n', 2, 9, "is not closed", '"1"'),
    "open quote before others in the row": ('a: {b: "1, c: "A", d: "e"}\n', 1, 8, "is not closed", '"1"'),
    "open quote of a key": ('a:\n  "01: {b: 1}\n  "02": {b: 1}\n', 2, 3, "is not closed", '"01"'),
    "apostrophe": ("a: 'the bar's end'\nb: 1\n", 1, 12, "an apostrophe ends the text", '"the bar\'s end"'),
    "quotes in quotes": ('a: "say "go" now"\n', 1, 9, "ends the text", "'say \"go\" now'"),
    "text behind quotes": ('a: "x" y\nb: 1\n', 1, 7, "goes on behind the quotation mark", "'\"x\" y'"),
    "open brace": ("a: {b: 1, c: 2\nd: 1\n", 1, 15, "brace { of column 4 is not closed", "write } at the end"),
    "open brace over lines": ("a: {b: 1,\n  c: 2\nd: 1\n", 2, 7, "brace { of line 1 is not closed", "write }"),
    "open brace at the end": ("a: {b: 1\n", 1, 9, "is not closed", "write }"),
    "open bracket": ("a: [b, c # d\ne: 1\n", 1, 9, "bracket [ of column 4", "write ]"),
    "open brace in a bracket": ("a: [{b: 1]\nc: 1\n", 1, 10, "lacks a } before this ]", "write }]"),
    "wrong closing": ("a: [1, 2}\nb: 1\n", 1, 9, "closes the bracket [", "write ]"),
    "brace not opened": ('a:\n  - b: "1", c: 2}\n', 2, 5, "ends in }, but no brace", 'write {b: "1"'),
    "brace too many": ("a: {b: 1}}\nc: 1\n", 1, 10, "brace } too many", "delete it"),
    "comma behind a row": ("a:\n  - {b: 1},\n  - {b: 2}\n", 2, 11, "a comma behind the entry", "delete it"),
    "no comma": ("a: {b: 10.02 c: 2}\n", 1, 13, "lacks a comma before 'c'", "write b: 10.02, c"),
    "no comma behind quotes": ('a: {b: "1" c: 2}\n', 1, 11, "lacks a comma before 'c'", 'write b: "1", c'),
    "no comma at the end of a line": ("a: {b: 1\n  c: 2}\n", 1, 9, "lacks a comma at its end", "write b: 1,"),
    "semicolon": ("a: {b: 1; c: 2}\n", 1, 9, "semicolon before 'c'", "write b: 1, c"),
    "hash in a row": ("a: {b: x #3, c: 1}\nd: 1\n", 1, 10, "begins a remark", "in quotes"),
    "merge": (
        "a: 1\n<<<<<<< HEAD\nb: 1\n=======\nb: 2\n>>>>>>> x\nc: 1\n", 2, 1, "two versions", "keep one of the two",
    ),
    "mark of a merge left": ("a: 1\n=======\nb: 2\n", 2, 1, "a merge left behind", "delete the line"),
    "fence": ("```yaml\na: 1\n```\n", 1, 1, "marks a block of text", "delete the lines 1 and 3"),
    "fence at the end": ("a: 1\n```\n", 2, 1, "marks a block of text", "delete line 2"),
    "key too far in": ("a: 1\n b: 2\nc: 3\n", 2, 2, "'b' begins behind 1 space", "with no space"),
    "key too far out": ("a:\n  b: 1\n c: 2\n", 3, 2, "'c' begins behind 1 space", "with 2 spaces"),
    "first key too far in": ("a:\n   b: 1\n  c: 2\n  d: 3\n", 2, 4, "'b' begins behind 3 spaces", "with 2 spaces"),
    "key out of its entry": ("s:\n  - do: x\n  look: y\n", 3, 3, "'look' begins behind 2 spaces", "with 4 spaces"),
    "entry out of line": ("s:\n  - {a: 1}\n   - {a: 2}\n", 3, 4, "begins behind 3 spaces", "with 2 spaces"),
    "curly quotes": ("a: “x: y”\n", 1, 4, "U+201C", 'write straight ones: a: "x: y"'),
    "dash of a word processor": ("s:\n  - a\n  – b\n", 3, 3, "U+2013", "- b"),
    "bullets": ("s:\n  * a b\n", 2, 3, "begins a list entry with the sign *", "- a b"),
    "wide colon": ("a: 1\nb：2\nc: 1\n", 2, 2, "U+FF1A", "b: 2"),
    "no-break space behind a colon": ("a: 1\nb:\u00a02\nc: 1\n", 2, 3, "U+00A0", "space bar"),
    "per cent": ("a: % of all\n", 1, 4, "cannot begin with %", 'write a: "% of all"'),
    "at": ("a: @home\n", 1, 4, "cannot begin with @", 'write a: "@home"'),
    "backtick": ("a: `x`\n", 1, 4, "cannot begin with `", 'write a: "`x`"'),
    "bold": ("a: **bold** x\n", 1, 4, "cannot begin with *", 'write a: "**bold** x"'),
    "ampersand": ("a: & x\n", 1, 4, "cannot begin with &", 'write a: "& x"'),
    "question mark": ("a: ? x\n", 1, 4, "cannot begin with ?", 'write a: "? x"'),
    "more than": ("a: > 5 bars\n", 1, 4, "cannot begin with >", 'write a: "> 5 bars"'),
    "per cent between braces": ("a: {b: % x, c: 1}\n", 1, 8, "cannot begin with %", 'write "% x"'),
    "backslash": ('a: "C:\\pendulum"\n', 1, 7, "backslash", "write 'C:\\pendulum'"),
    "equals": ("a: 1\nb = 2\nc: 3\n", 2, 3, "has = behind 'b'", "write b: 2"),
    "no colon": ("a: 1\nb 2\nc: 3\n", 2, 2, "no colon behind 'b'", "write b: 2"),
    "no colon above a mapping": ("a: 1\nb\n  c: 1\n  d: 3\n", 2, 2, "no colon behind 'b'", "write b:"),
    "remark": ("a: 1\n// x\nb: 1\n", 2, 1, "begins with //", "# x"),
    "two documents": ("a: 1\n---\nb: 1\n", 2, 1, "second document", "file of its own"),
}  # fmt: skip


@pytest.mark.parametrize("case", BROKEN.values(), ids=BROKEN)
def test_a_slip_is_told_where_it_is_with_its_mend(case):
    text, line, column, message, hint = case
    data, (flaw, *others) = parse(text)
    assert data is None
    assert not others
    assert (flaw.rule.id, flaw.line, flaw.column) == ("yaml-syntax", line, column), flaw
    assert message in flaw.message
    assert hint in flaw.hint


@pytest.mark.parametrize("end", ["\r\n", "\r"])
def test_places_are_the_same_with_the_line_ends_of_every_system(end):
    for text, line, column, *_ in BROKEN.values():
        flaw = parse(text.replace("\n", end))[1][0]
        assert (flaw.line, flaw.column) == (line, column), text


def test_several_slips_of_a_file_are_told_at_once():
    text = as_yaml(files()[MATERIAL]).replace('"title": "Polypropylene', '"title":"Polypropylene')
    text += "notes: Dry: as delivered\nform:Injection-moulded bars\n"
    assert [flaw.line for flaw in parse(text)[1]] == [2, 4, 5]
    text = text.replace('"symbol": "PP-H"', '"symbol": "PP-H')
    assert [flaw.line for flaw in parse(text)[1]] == [2, 3, 4, 5]


def test_slips_that_may_follow_from_a_wrong_mend_are_not_told():
    text = "kind: material\ntitle:x\nsymbol: a: b\nsymbols: x\n"
    assert [flaw.line for flaw in parse(text)[1]] == [2]


@pytest.mark.parametrize(("text", "line"), [("a: [}\n", 1), ("a: 1\n]b\n", 2), ("%YAML x\na: 1\n", 1)])
def test_what_no_slip_explains_is_told_in_plain_words(text, line):
    flaw = parse(text)[1][0]
    assert flaw.line == line
    assert flaw.message
    assert flaw.hint
