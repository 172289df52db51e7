"""Slips that leave a file readable and that its schema refuses: each is told once, with what is to be typed."""

import pytest

from notchbook.reading.refusal import Refusal
from notchbook.reading.refusals import say
from small_handbook import EXERCISE, MATERIAL, RIG, TEST, as_yaml, files, opened


def told_of(tmp_path, path, old, new):
    """The only finding of a file of the small handbook in which a piece of text was replaced."""
    text = as_yaml(files()[path])
    assert old in text
    text = text.replace(old, new, 1)
    found = [each for each in opened(tmp_path, {**files(), path: text}).findings if each.path == path]
    (finding,) = [each for each in found if each.rule != "mixed-breaks"]
    return finding


# File, text, what stands in its place, rule, words of the message, words of the hint.
REFUSED = {
    "no space in braces": (
        TEST,
        '"thickness_mm": 4.01',
        "thickness_mm:4.01",
        "key-unknown",
        "no space behind the colon",
        "thickness_mm: 4.01",
    ),
    "equals in braces": (
        TEST,
        '"thickness_mm": 4.01',
        "thickness_mm = 4.01",
        "key-unknown",
        "has = behind",
        "thickness_mm: 4.01",
    ),
    "no colon in braces": (
        TEST,
        '"thickness_mm": 4.01',
        "thickness_mm 4.01",
        "key-unknown",
        "no colon behind",
        "thickness_mm: 4.01",
    ),
    "a letter of Cyrillic": (
        TEST,
        '"rig"',
        "r\u0456g",
        "key-unknown",
        "U+0456, Cyrillic small letter byelorussian-ukrainian i",
        "type it anew: rig",
    ),
    "a letter of Greek": (TEST, '"group"', "gr\u03bfup", "key-unknown", "U+03BF, Greek small letter omicron", "group"),
    "wide letters": (TEST, '"rig"', "ｒｉｇ", "key-unknown", "U+FF52", "type it anew: rig"),
    "soft hyphen": (TEST, '"hours"', "ho\u00adurs", "key-unknown", "U+00AD", "type it anew: hours"),
    "capital letter": (
        TEST,
        '"thickness_mm"',
        "Thickness_mm",
        "key-unknown",
        "small and capital letters",
        "thickness_mm",
    ),
    "capital letters": (TEST, '"rig"', "RIG", "key-unknown", "small and capital letters", "write rig"),
    "hyphen in a key": (
        TEST,
        '"test_atmosphere"',
        "test-atmosphere",
        "key-unknown",
        "not written as",
        "test_atmosphere",
    ),
    "without its unit": (
        TEST,
        '"thickness_mm"',
        "thickness",
        "key-unknown",
        "only with its unit",
        "write thickness_mm",
    ),
    "another unit": (
        TEST,
        '"thickness_mm"',
        "thickness_cm",
        "key-unknown",
        "another unit",
        "in mm behind thickness_mm",
    ),
    "remark in braces": (TEST, '"thickness_mm": 4.01', '// "thickness_mm": 4.01', "key-unknown", "begins with //", "#"),
    "on its parent's level": (
        TEST,
        '"conditioning": {"temperature_C": 23.0, "humidity_pct": 50, "hours": 48}',
        "conditioning:\ntemperature_C: 23.0\nhumidity_pct: 50\nhours: 48",
        "key-unknown",
        "'temperature_C' stands on the level of 'conditioning'",
        "two spaces further in",
    ),
    "hammers on their parent's level": (
        RIG,
        '"hammers": {',
        'hammers:\n"charpy-0": {',
        "key-unknown",
        "stands on the level of 'hammers'",
        "two spaces",
    ),
    "minus of a word processor": (
        TEST,
        "23.0",
        "−23.0",
        "value-type",
        "U+2212, Minus sign",
        "write temperature_C: -23.0",
    ),
    "letter for a digit": (TEST, "4.01", "4.O1", "value-type", "the letter O stands in it for a digit", "4.01"),
    "wide digits": (TEST, "4.01", "４.０１", "value-type", "U+FF14", "write thickness_mm: 4.01"),
    "comma behind a number": (RIG, "390.0", "390.0,", "value-type", "", "write striking_length_mm: 390.0, without ,"),
    "remark behind a number": (RIG, "390.0", "390.0 // new", "value-type", "", "390.0  # new: a remark begins with #"),
    "nothing below a key": (
        TEST,
        '{"type": "1", "notch": "A", "direction": "edgewise"}',
        "",
        "value-type",
        "",
        "lines below",
    ),
    "list of one mapping": (
        TEST,
        '"specimen": {"type": "1", "notch": "A", "direction": "edgewise"}',
        'specimen:\n  - {type: "1", notch: A, direction: edgewise}',
        "value-type",
        "a list",
        "delete the dash",
    ),
    "one text for a list": (EXERCISE, '["ten bars"]', "ten bars", "value-type", "a list", "write needs: [ten bars]"),
    "list without spaces": (
        EXERCISE,
        '["ten bars"]',
        "\n  -ten bars\n  -a rig",
        "value-type",
        "no space behind the dash",
        "- ten bars",
    ),
    "list without its bracket": (EXERCISE, '["ten bars"]', "ten bars]", "value-type", "the bracket [", "[ten bars]"),
    "entry with a colon": (
        EXERCISE,
        '["ten bars"]',
        "\n  - ten bars: dry",
        "value-type",
        "the colon in it",
        '"ten bars: dry"',
    ),
    "step without a space": (
        EXERCISE,
        '[{"do": "Measure the bars."}]',
        "\n  - do:Measure the bars.",
        "value-type",
        "no space behind the colon of 'do'",
        "write do: Measure the bars.",
    ),
    "date with points": (TEST, '"2026-10-06"', "6.10.2026", "value-form", "", "write 2026-10-06:"),
    "date with slashes": (TEST, '"2026-10-06"', "6/10/2026", "value-form", "", "write 2026-06-10 or 2026-10-06:"),
    "date with slashes that has one meaning": (
        TEST,
        '"2026-10-06"',
        "10/13/2026",
        "value-form",
        "",
        "write 2026-10-13:",
    ),
    "date with one digit": (TEST, '"2026-10-06"', "2026-10-6", "value-form", "", "write 2026-10-06:"),
    "date without hyphens": (TEST, '"2026-10-06"', "20261006", "value-type", "", "write 2026-10-06:"),
    "date in words": (TEST, '"2026-10-06"', "last week", "value-form", "", "write it like 2026-10-06"),
    "id with a capital": (TEST, '"bench-1"', "Bench_1", "value-form", "", "did you mean 'bench-1'?"),
    "id with a comma": (TEST, '"bench-1"', "bench-1,", "value-form", "", "did you mean 'bench-1'?"),
    "id with a remark": (TEST, '"bench-1"', "bench-1 // old", "value-form", "", "did you mean 'bench-1'?"),
    "id with half of its quotes": (TEST, '"bench-1"', 'bench-1"', "value-form", "", "did you mean 'bench-1'?"),
    "id with a letter of Cyrillic": (
        TEST,
        '"bench-1"',
        "b\u0435nch-1",
        "value-form",
        "U+0435",
        "did you mean 'bench-1'?",
    ),
    "ids without a comma": (
        EXERCISE,
        '"swinging-pendulum", "pinch-and-strike"',
        "swinging-pendulum pinch-and-strike",
        "value-form",
        "",
        "write a comma between them: swinging-pendulum, pinch-and-strike",
    ),
    "choice with a capital": (RIG, '"reads": "angle"', '"reads": "ANGLE"', "value-form", "", "did you mean 'angle'?"),
    "kind in capitals": (
        MATERIAL,
        '"kind": "material"',
        "kind: MATERIAL",
        "value-form",
        "",
        "did you mean 'material'?",
    ),
}


@pytest.mark.parametrize("case", REFUSED.values(), ids=REFUSED)
def test_a_slip_that_a_schema_refuses_is_told_once_with_its_mend(tmp_path, case):
    path, old, new, rule, message, hint = case
    finding = told_of(tmp_path, path, old, new)
    assert finding.rule == rule, finding
    assert message in finding.message
    assert hint in finding.hint


def test_yes_and_no_are_told_as_true_and_false():
    for word, meant in {"yes": "true", "No": "false", "on": "true", "off": "false", "true": "true"}.items():
        _, hint, rule = say(Refusal("type", "boolean", word, ("complete",), {}, {}, about_a_key=False))
        assert hint.startswith(f"write complete: {meant}")
        assert rule.id == "value-type"
