"""What the schemas refuse: where it is told, in which words, and that all of it is told at once."""

import pytest

from small_handbook import EXERCISE, MATERIAL, RIG, TEST, VERIFICATION, as_yaml, files, opened, told


def refused(tmp_path, path, old, new):
    """The findings of a file of the small handbook in which a piece of text was replaced, and its text."""
    text = as_yaml(files()[path])
    assert text.count(old) >= 1
    text = text.replace(old, new, 1)
    return [each for each in opened(tmp_path, {**files(), path: text}).findings if each.path == path], text


def place_of(text, piece):
    """Line and column, from 1, of the first occurrence; of what follows the bar where there is one in the piece."""
    leading, bar, _ = piece.partition("|")
    before = text[: text.index(piece.replace("|", "")) + len(leading if bar else "")]
    return before.count("\n") + 1, len(before) - before.rfind("\n")


CASES = {
    "misspelt key": (
        TEST,
        '"thickness_mm"',
        '"thicknes_mm"',
        '"thicknes_mm"',
        "key-unknown",
        "did you mean 'thickness_mm'?",
    ),
    "misspelt top-level key": (
        TEST,
        '"group": "G2"',
        '"groop": "G2"',
        '"groop"',
        "key-unknown",
        "did you mean 'group'?",
    ),
    "unknown key": (
        MATERIAL,
        '"title"',
        '"zzz": 1\n"title"',
        '"zzz"',
        "key-unknown",
        "the keys here are kind, title, symbol",
    ),
    "missing key in a list": (TEST, '"width_mm": 9.96, ', "", '{"id": "01"', "key-missing", "add 'width_mm': Width b"),
    "missing top-level key": (
        TEST,
        '"material": "pp-h"\n',
        "",
        '"kind"',
        "key-missing",
        "add 'material': Id of the material",
    ),
    "text for a number": (
        TEST,
        "4.01",
        '"4.01"',
        '"4.01"',
        "value-type",
        "write thickness_mm: 4.01, without quotation marks",
    ),
    "unit behind the number": (
        TEST,
        "4.01",
        "4.01 mm",
        "4.01 mm",
        "value-type",
        "write thickness_mm: 4.01, without the unit",
    ),
    "decimal comma": (
        RIG,
        '"striking_length_mm": 390.0',
        '"striking_length_mm": 390,5',
        "390,5",
        "value-type",
        "write striking_length_mm: 390.5, with a point",
    ),
    "decimal comma between braces": (
        TEST,
        "4.01",
        "4,01",
        "4,|01",
        "key-unknown",
        "with a point, as in thickness_mm: 4.01",
    ),
    "number for text": (TEST, '"id": "01"', '"id": 1', '"id": |1', "value-type", "put it in quotes"),
    "nothing for a number": (TEST, '"hours": 48', '"hours": ~', "~", "value-type", "write a number"),
    "list for a mapping": (
        TEST,
        '{"type": "1", "notch": "A", "direction": "edgewise"}',
        "[1]",
        "[1]",
        "value-type",
        "delete the dash",
    ),
    "mapping for a list": (VERIFICATION, "[62.65, 62.61, 62.67]", "{a: 1}", "{a: 1}", "value-type", "begin each entry"),
    "broken number for a whole one": (
        VERIFICATION,
        '"swings": 50',
        '"swings": 50.5',
        "50.5",
        "value-type",
        "a whole number",
    ),
    "choice": (RIG, '"reads": "angle"', '"reads": "angel"', '"angel"', "value-form", "did you mean 'angle'?"),
    "pattern": (TEST, '"rig": "bench-1"', '"rig": "Bench 1"', '"Bench 1"', "value-form", "did you mean 'bench-1'?"),
    "date in another order": (
        TEST,
        '"2026-10-06"',
        '"06.10.2026"',
        '"06.10.2026"',
        "value-form",
        "write 2026-10-06: year, month and day",
    ),
    "below the range": (
        TEST,
        '"remaining_width_mm": 8.02',
        '"remaining_width_mm": 0',
        '"remaining_width_mm": |0',
        "value-range",
        "Width b_N in",
    ),
    "above the range": (TEST, '"humidity_pct": 50', '"humidity_pct": 101', "101", "value-range", "percent"),
    "negative": (TEST, '"rise_angle_deg": 86.4', '"rise_angle_deg": -86.4', "-86.4", "value-range", "Angle of rise"),
    "empty text": (TEST, '"group": "G2"', '"group": ""', '""', "value-form", "Code of the group"),
    "empty list": (EXERCISE, '[{"do": "Release the pendulum."}]', "[]", "[]", "value-form", ""),
    "needed beside another": (RIG, '{"base": "charpy-1", ', "{", '"charpy-2"', "key-missing", "add the key"),
    "needed by a choice": (
        RIG,
        '"reads": "angle", "division_deg"',
        '"reads": "energy", "division_deg"',
        '"indicator"',
        "key-missing",
        "add 'division_J'",
    ),
    "name of a key": (RIG, '"charpy-2"', '"Charpy 2"', '"Charpy 2"', "value-form", ""),
}


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_a_refusal_says_what_to_type_at_its_place(tmp_path, case):
    path, old, new, piece, rule, hint = case
    findings, text = refused(tmp_path, path, old, new)
    at_place = [each for each in findings if (each.rule, each.line, each.column) == (rule, *place_of(text, piece))]
    assert at_place, findings
    assert any(hint in each.hint for each in at_place)


def test_a_misspelt_key_explains_the_missing_one(tmp_path):
    findings, _ = refused(tmp_path, TEST, '"thickness_mm"', '"thicknes_mm"')
    assert [each.rule for each in findings] == ["key-unknown"]


def test_a_misspelt_key_explains_no_other_missing_one(tmp_path):
    findings, _ = refused(tmp_path, TEST, '"width_mm": 9.96, "thickness_mm"', '"thicknes_mm"')
    assert sorted(each.rule for each in findings) == ["key-missing", "key-unknown"]


def test_a_hammer_without_base_is_told_everything_that_it_lacks(tmp_path):
    findings, _ = refused(tmp_path, RIG, '{"base": "charpy-1", ', "{")
    missing = {each.message.split("'")[1] for each in findings if "is missing" in each.message}
    assert missing == {"method", "release_angle_deg", "moment_Nm", "striking_edge"}


def test_a_missing_key_in_a_list_names_the_entry_as_people_count(tmp_path):
    findings, _ = refused(tmp_path, TEST, '"width_mm": 9.96, ', "")
    assert [each.message for each in findings] == ["'width_mm' is missing in 'specimens' number 1"]


def test_everything_wrong_is_told_at_once(tmp_path):
    contents = files()
    contents[TEST]["groop"] = contents[TEST].pop("group")
    contents[TEST]["rig"] = 5
    contents[TEST]["specimens"][3]["width_mm"] = "10 mm"
    contents[TEST]["specimens"][4]["rise_angle_deg"] = 181
    contents[TEST]["conditioning"].pop("hours")
    found = told(opened(tmp_path, contents), TEST)
    assert sorted(rule for rule, _, _ in found) == [
        "key-missing", "key-unknown", "value-range", "value-type", "value-type",
    ]  # fmt: skip


def test_broken_files_do_not_hide_each_other(tmp_path):
    contents = files()
    contents[RIG]["striking_length_mm"] = "long"
    contents[VERIFICATION]["date"] = "14.9.2026"
    contents[TEST] = "kind: test\n  date: 1\n"
    contents["results/tests/another.yaml"] = {**files()[TEST], "group": 7}
    handbook = opened(tmp_path, contents)
    assert [rule for rule, _, _ in told(handbook, RIG)] == ["value-type"]
    assert [rule for rule, _, _ in told(handbook, VERIFICATION)] == ["value-form"]
    assert [rule for rule, _, _ in told(handbook, TEST)] == ["yaml-syntax"]
    assert [rule for rule, _, _ in told(handbook, "results/tests/another.yaml")] == ["value-type"]


def test_a_reference_to_a_broken_file_is_not_called_a_reference_to_nothing(tmp_path):
    contents = files()
    contents[RIG]["striking_length_mm"] = "long"
    handbook = opened(tmp_path, contents)
    assert told(handbook, TEST) == []
    assert told(handbook, VERIFICATION) == []


@pytest.mark.parametrize("date", ["2026-02-29", "2026-13-01", "2026-00-10", "0000-01-01"])
def test_a_day_that_does_not_exist_is_refused_at_its_value(tmp_path, date):
    findings, text = refused(tmp_path, TEST, "2026-10-06", date)
    assert [(each.rule, each.line, each.column) for each in findings] == [("date-real", *place_of(text, f'"{date}"'))]


def test_a_leap_day_is_a_day(tmp_path):
    findings, _ = refused(tmp_path, VERIFICATION, '"valid_until": "2027-09-14"', '"valid_until": "2028-02-29"')
    assert "date-real" not in {each.rule for each in findings}


def test_the_kind_must_be_that_of_the_folder(tmp_path):
    handbook = opened(tmp_path, {TEST: files()[VERIFICATION]})
    assert told(handbook, TEST) == [("file-place", 1, 9)]


def test_an_e_mail_address_is_told_at_its_place(tmp_path):
    # the domain is one reserved for examples by RFC 2606
    contents = files()
    contents[TEST]["notes"] = "ask lab@bench.example about it"
    place = place_of(as_yaml(contents[TEST]), "lab@")
    assert ("email-address", *place) in told(opened(tmp_path, contents), TEST)
