"""What the reader refuses in a YAML file, where, and that nothing makes it stumble."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from notchbook.handbook import open_handbook
from notchbook.reading.document import MOST_FINDINGS
from notchbook.reading.files import LARGEST_BYTES
from notchbook.reading.nodes import MOST_NODES
from notchbook.reading.plain_data import DEEPEST
from notchbook.reading.strict_yaml import parse
from small_handbook import TEST, files, opened, told, write

# Words of the grammar of YAML and of libyaml, which say nothing to somebody who fills in a record.
PARSER_WORDS = re.compile(
    r"scalar|\btoken|\bnode\b|block mapping|block collection|flow (?:mapping|sequence)|mapping values|"
    r"simple key|block end|indicator|could not find|did not find|while (?:parsing|scanning)"
)


def flaws_in(text):
    """Rule, line and column of each flaw."""
    return [(flaw.rule.id, flaw.line, flaw.column) for flaw in parse(text)[1]]


def test_duplicate_keys_are_refused_where_they_stand_again():
    data, flaws = parse("a: 1\nb: {c: 1, d: 2, c: 3}\na: 2\n")
    assert [(flaw.rule.id, flaw.line, flaw.column) for flaw in flaws] == [
        ("duplicate-key", 2, 17),
        ("duplicate-key", 3, 1),
    ]
    assert data == {"a": 1, "b": {"c": 1, "d": 2}}


def test_a_key_is_the_same_with_and_without_quotes():
    # YAML 1.2.2, 3.2.1.3: keys are compared by their content, and every key is text here
    assert flaws_in("a: 1\n'a': 2\n\"a\": 3\n") == [("duplicate-key", 2, 1), ("duplicate-key", 3, 1)]


@pytest.mark.parametrize(
    ("text", "line", "column"),
    [
        ("a: &x 1\n", 1, 4),
        ("a:\n  - &x {b: 1}\n", 2, 5),
        ("a: [&x 1]\n", 1, 5),
        ("a: {b: 1,&x c: 1}\n", 1, 10),
        ("{?&x b: 1}\n", 1, 3),
        ("&x a: 1\n", 1, 1),
        ("\ufeff&x a: 1\n", 1, 1),
        ("a: !!str 12\n", 1, 4),
        ("a: !own {b: 1}\n", 1, 4),
        ("a: !<tag:example.org,2026:x> [1]\n", 1, 4),
        ("a: ! 12\n", 1, 4),
        ("a: ! [1]\n", 1, 4),
        ("!!str a: 1\n", 1, 1),
        ("--- !!map\na: 1\n", 2, 1),
        ("%TAG !e! tag:example.org,2026:\n---\na: !e!x 1\n", 3, 4),
    ],
)
def test_anchors_and_tags_are_refused_where_they_stand(text, line, column):
    found = flaws_in(text)
    assert [rule for rule, _, _ in found] == ["yaml-feature"]
    # a tag on a whole block mapping is reported where the mapping begins
    assert found[0][1:] in ((line, column), (1, 5))


def test_an_alias_is_refused_beside_its_anchor():
    assert flaws_in("a: &x [1]\nb: *x\n") == [("yaml-feature", 1, 4), ("yaml-feature", 2, 4)]


def test_aliases_are_not_expanded():
    # ten levels of ten aliases would be ten thousand million values
    text = "a0: &a0 [x]\n" + "".join(f"a{i}: &a{i} [{', '.join([f'*a{i - 1}'] * 10)}]\n" for i in range(1, 11))
    data, flaws = parse(text)
    assert data is None
    assert {flaw.rule.id for flaw in flaws} == {"yaml-feature"}


def test_a_merge_key_is_refused_by_name(tmp_path):
    contents = files()
    contents[TEST] = {**contents[TEST], "<<": {"notes": "x"}}
    (finding,) = [each for each in opened(tmp_path, contents).findings if each.path == TEST]
    assert (finding.rule, finding.hint) == ("key-unknown", "merge keys are not used; write the values out")


@pytest.mark.parametrize("text", ["a: x&y\n", "a: b *c\n", "a: '&x'\n", 'a: "*x"\n', "a: Stop!\n", "a: wow ! yes\n"])
def test_text_with_the_signs_of_anchors_and_tags_is_text(text):
    assert parse(text)[1] == []


def test_several_documents_are_refused_at_the_second():
    assert flaws_in("a: 1\n---\nb: 1\n") == [("yaml-syntax", 2, 1)]


@pytest.mark.parametrize("text", ["", "\n\n", "# only a remark\n", "\ufeff"])
def test_a_file_without_data_is_called_empty(text):
    data, (flaw,) = parse(text)
    assert data is None
    assert (flaw.rule.id, flaw.message) == ("yaml-syntax", "is empty")


@pytest.mark.parametrize("text", ["- a\n- b\n", "[1, 2]\n", "just text\n", "12\n", "---\n", "~\n"])
def test_a_file_that_is_no_mapping_is_refused(text):
    data, (flaw,) = parse(text)
    assert data is None
    assert flaw.message == "holds no mapping of keys to values"


def test_a_key_that_is_a_collection_is_refused():
    assert flaws_in("? [a]\n: 1\nb: 2\n") == [("yaml-syntax", 1, 3)]


@pytest.mark.parametrize(
    ("text", "line"), [("a:\n\tb: 1\n", 2), ("a: [1, 2\nb: 3\n", 1), ('a: "x\n', 1), ("a: b: c\n", 1), ("a: @x\n", 1)]
)
def test_broken_syntax_is_refused_near_where_it_breaks(text, line):
    data, (flaw,) = parse(text)
    assert data is None
    assert (flaw.rule.id, flaw.line) == ("yaml-syntax", line)
    assert flaw.column >= 1


def test_a_tab_between_key_and_value_is_allowed():
    assert parse("a:\t1\n") == ({"a": 1}, [])


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_line_ends_of_every_system_are_read_alike(end):
    assert parse(f"a: 1{end}b: 2{end}") == ({"a": 1, "b": 2}, [])
    assert flaws_in(f"a: 1{end}b: 2{end}b: 3{end}") == [("duplicate-key", 3, 1)]


@pytest.mark.parametrize("code", [0x00, 0x07, 0x1B, 0x7F, 0x80, 0x9F, 0xFFFE, 0xFFFF])
def test_control_characters_are_refused_where_they_stand(code):
    # YAML 1.2.2, 5.1: these are outside c-printable, whatever they are quoted with
    data, (flaw,) = parse(f"a: 1\nb: 'é{chr(code)}'\n")
    assert data is None
    assert (flaw.rule.id, flaw.line, flaw.column) == ("file-text", 2, 6)
    assert f"U+{code:04X}" in flaw.message


def test_an_escaped_control_character_in_quotes_is_text():
    assert parse('a: "\\0\\x1b"\n') == ({"a": "\0\x1b"}, [])


def test_nesting_is_allowed_to_its_limit_and_refused_beyond():
    def nested(levels):
        # the top-level mapping is the first level
        return "a: " + "[" * (levels - 1) + "]" * (levels - 1) + "\n"

    assert parse(nested(DEEPEST))[1] == []
    data, (flaw,) = parse(nested(DEEPEST + 1))
    assert (flaw.rule.id, flaw.line, flaw.column) == ("nesting", 1, 4 + DEEPEST - 1)
    assert data is not None


@pytest.mark.parametrize("text", ["a: " + "[" * 5000, "a: " + "[" * 5000 + "]" * 5000, "- " * 5000, "{a: " * 5000])
def test_thousands_of_brackets_are_refused_without_being_followed(text):
    data, flaws = parse(text)
    assert data is None
    assert [flaw.rule.id for flaw in flaws] in (["yaml-syntax"], ["nesting"])


@pytest.mark.parametrize(
    "entries",
    ["".join(f"{number:x}," for number in range(45_000)), "a," * 45_000, "a: [{}]," * 30_000],
    ids=["unknown keys", "the same key", "the same key with lists"],
)
def test_a_file_full_of_flaws_is_told_in_a_hundred_findings(tmp_path, entries):
    text = "kind: test\nspecimen: {" + entries + "}\n"
    assert len(text) < LARGEST_BYTES
    handbook = opened(tmp_path, {TEST: text})
    assert len(handbook.findings) == MOST_FINDINGS + 1
    assert "more flaws" in handbook.findings[0].message


def test_a_file_of_more_keys_and_values_than_any_record_has_is_refused(tmp_path):
    # a record of a thousand bars with everything that a bar can have: 1000 * (1 + 2 * 8) nodes and a few
    keys = ("id", "width_mm", "thickness_mm", "remaining_width_mm", "rise_angle_deg", "indicated_energy_J", "break")
    bar = "{" + "".join(f"{key}: 1, " for key in (*keys, "excluded")) + "},"
    assert parse("specimens: [" + bar * 1000 + "]\n")[1] == []
    handbook = opened(tmp_path, {TEST: "kind: test\nspecimens: [" + "a," * (MOST_NODES + 1) + "]\n"})
    assert told(handbook, TEST) == [("file-size", 2, len("specimens: ["))]


def test_a_list_of_thousands_of_empty_specimens_is_told_in_a_hundred_findings(tmp_path):
    handbook = opened(tmp_path, {TEST: "kind: test\nspecimens: [" + "{}," * 20_000 + "]\n"})
    assert len(handbook.findings) == MOST_FINDINGS + 1


FRAGMENTS = st.lists(
    st.sampled_from(
        ["a", "b: ", "- ", "? ", ": ", "\n", "\n  ", "\n    ", "{", "}", "[", "]", ", ", "'", '"', "|", ">", "&x ",
         "*x", "!", "!!str ", "---\n", "...\n", "%YAML 1.2\n", "#", "\t", "\\", "0x", "1e9", ".inf", "~", "<<: ",
         "\ufeff", "\x85", "\u2028", "é", "😀", "\0"]
    )
).map("".join)  # fmt: skip


@given(st.one_of(st.text(), FRAGMENTS))
def test_no_text_makes_the_parser_raise(text):
    data, flaws = parse(text)
    assert data is not None or flaws
    lines = len(text.splitlines()) + 2
    for flaw in flaws:
        assert 1 <= flaw.line <= lines
        assert flaw.column >= 1
        assert not PARSER_WORDS.search(f"{flaw.message} {flaw.hint}"), flaw


@given(raw=st.one_of(st.binary(), FRAGMENTS.map(str.encode), st.text().map(lambda text: text.encode("utf-16"))))
def test_no_bytes_in_a_file_make_the_handbook_raise(tmp_path_factory, raw):
    root = tmp_path_factory.mktemp("bytes")
    handbook = open_handbook(write(root, {TEST: raw}))
    # random bytes are never a whole record
    assert told(handbook, TEST)
