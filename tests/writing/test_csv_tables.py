"""Tables as spreadsheets write them, byte for byte on disk, with the record each gives or what stands in its way.

Beside `good-*.csv` stands the record as `.yaml`, beside `bad-*.csv` a line for each trouble as `.txt`. The forms are
those of RFC 4180 and of common practice: separators by locale, a first line `sep=;`, UTF-16 as "Unicode text".
"""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from table_reading import OPTIONS, read, told

from notchbook.reading import acceptance, strict_yaml
from notchbook.writing.csv_readings import LARGEST_BYTES
from notchbook.writing.fields import FIELDS
from notchbook.writing.table_columns import COLUMNS
from notchbook.writing.trouble import MOST_TROUBLES

EXAMPLES = sorted((Path(__file__).parent / "examples").glob("*.csv"))
LEFT_OUT = {
    "good-rows-above": OPTIONS,
    "bad-rows-above": OPTIONS,
    "good-decimal-comma-between-commas": {("conditioning", "temperature_C")},
    "good-several-groups": {("group",), ("material",), ("conditioning", "humidity_pct")},
    "bad-several-groups": {("group",), ("conditioning", "humidity_pct")},
}
"""Options that are not given, because the table holds what they give."""
HEADS = "bar;width;thickness;remaining width;rise;break"
ROW = "01;10.02;4.01;8.02;128.0;C"


def table(*rows, heads=HEADS):
    return "\n".join((heads, *rows)).encode()


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_example(path, demo):
    options = {keys: value for keys, value in OPTIONS.items() if keys not in LEFT_OUT.get(path.stem, ())}
    found = told(path.read_bytes(), demo, options=options)
    if path.stem.startswith("good-"):
        assert found == path.with_suffix(".yaml").read_text(encoding="utf-8")
        for record in found.split("---\n"):
            data, flaws = strict_yaml.parse(record)
            assert (flaws, acceptance.flaws("test", data)) == ([], [])
    else:
        assert found == path.with_suffix(".txt").read_text(encoding="utf-8").splitlines()


def test_examples_of_both_kinds_are_on_disk():
    kinds = [path.stem.partition("-")[0] for path in EXAMPLES]
    assert kinds.count("good") >= 14
    assert kinds.count("bad") >= 15


def test_digits_stay_as_they_stood_in_the_cells(demo):
    raw = table("1;10,0;4,000;8,00;128;C").replace(b",", b",")
    (bar,) = read(raw, demo).values["specimens"]
    assert [bar[key].written for key in bar if key not in ("id", "break")] == ["10.0", "4.000", "8.00", "128"]


def test_options_win_over_rows(demo):
    above = "group;G9\ndate;1.2.2025\nnotes;from the table\ndeviation;support-span;old;LT-1\n"
    options = OPTIONS | {("notes",): "from the option"}
    draft = read(above.encode() + table(ROW), demo, options=options, deviations=[("conditioning", "short", "LT-2")])
    values = draft.values
    assert draft.troubles == []
    assert (values["group"], values["date"], values["notes"]) == ("G2", "2026-11-03", "from the option")
    assert [each["rule"] for each in values["deviations"]] == ["conditioning"]


def test_bad_option_is_told_beside_bad_rows(demo):
    options = OPTIONS | {("conditioning", "hours"): "two days", ("date",): "2026-02-30", ("notes",): "\ud800"}
    found = told(table(ROW.replace("C", "Q")), demo, options=options)
    assert [each.partition(":")[0] for each in found] == [
        "--date",
        "--conditioning-hours",
        "--notes",
        "row 2, column F 'break'",
    ]


def test_column_is_left_out_by_head_or_letter(demo):
    raw = table(f"{ROW};LT-1;x", heads=f"{HEADS};Operator;")
    assert len(told(raw, demo)) == 2
    assert isinstance(told(raw.replace(b";x", b""), demo, skipped=["operator"]), str)
    assert isinstance(told(raw.replace(b";x", b""), demo, skipped=["G"]), str)


def test_empty_column_of_any_head_does_no_harm(demo):
    draft = read(table(ROW, heads=f"{HEADS};Operator;width"), demo)
    assert draft.troubles == []


def test_energy_scale_takes_either_reading(demo):
    heads = "bar;width;thickness;remaining width;{};break"
    for head, key in (("indicated energy (J)", "indicated_energy_J"), ("rise", "rise_angle_deg")):
        draft = read(table(ROW, heads=heads.format(head)), demo, rig="bench-2")
        assert draft.troubles == []
        assert key in draft.values["specimens"][0]


def test_notch_decides_what_remains(demo):
    unnotched = "bar;width;thickness;rise;break"
    draft = read(table("01;10.02;4.01;128.0;C", heads=unnotched), demo, exercise="unnotched-charpy")
    assert draft.troubles == []
    (trouble,) = told(table(ROW), demo, exercise="unnotched-charpy")
    assert trouble.startswith("row 1, column D 'remaining width': the bars of this exercise have no notch")
    (trouble,) = told(table("01;10.02;4.01;128.0;C", heads=unnotched), demo)
    assert trouble.startswith("there is no column for the width under the notch")


def test_excluded_bar_may_lack_its_reading(demo):
    raw = table("01;10.02;4.01;8.02;-;C;not struck", "02;10.02;4.01;8.02;;C;", heads=f"{HEADS};excluded")
    (trouble,) = told(raw, demo)
    assert trouble.startswith("row 3, column E 'rise': the angle of rise is missing")


def test_number_of_bars_is_compared_with_the_exercise(demo):
    assert read(table(ROW), demo).remarks == ["1 bar; the exercise asks for 10"]
    rows = [f"{number:02};10.02;4.01;8.02;128.0;C" for number in range(10)]
    assert read(table(*rows), demo).remarks == []


def test_remarks_on_bars_become_notes(demo):
    raw = table(f"{ROW};slight void", "02;10;4;8;128;C;Hit the stop!", heads=f"{HEADS};Comments")
    draft = read(raw, demo, options=OPTIONS | {("notes",): "Warm day."})
    assert draft.values["notes"] == "Warm day. Bar 01: slight void. Bar 02: Hit the stop!"


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        (b"a" * (LARGEST_BYTES + 1), "the file has more than 1,048,576 bytes"),
        (b"," * 1_000_000, "row 1: the row has 1,000,001 columns"),
        (b"a," * 500_000, "row 1: the row has 500,001 columns"),
        (HEADS.encode() + b";" * 1_000_000, "row 1: the row has 1,000,006 columns"),
        (b"a;b\n" * 200_000, "row 2001: the table has more than 2,000 rows"),
        (b'"' * 1_000_000, "row 1: "),
        (b'"' + b"a" * 1_000_000, "row 1: the row cannot be split into cells"),
        (b"\n" * 1_000_000, "the file holds no cells"),
        (b"\x00" * 1_000_000, "line 1: the file holds a NUL"),
        (b"\xff\xfe" + b"\x00" * 1_000_000, "line 1: the file holds a NUL"),
        (b"\xff" * 1_000_000, "row 1: the row cannot be split into cells"),
        (b"\xff" * 1000, "no row was found that holds the heads"),
        (b"\xd0\xcf\x11\xe0" + b"\x00" * 1000, "the file is an old workbook"),
        (b"", "the file holds no cells"),
        (table(*[f"{number};10;4;8;128;C" for number in range(1500)]), "the table has 1,500 bars"),
    ],
    ids=["bytes", "commas", "columns", "wide", "rows", "quotes", "open quote", "lines", "nul", "nul in utf-16", "ff",
         "few ff", "old workbook", "empty", "bars"],
)  # fmt: skip
def test_hostile_file_is_refused(raw, said, demo):
    found = told(raw, demo)
    assert found[0].startswith(said)
    assert all(each.isprintable() for each in found)


def test_no_more_is_told_than_anybody_mends(demo):
    found = told(table(*["x;y;z;a;b;c"] * 500), demo)
    assert len(found) == MOST_TROUBLES + 1
    assert found[-1].endswith(" more of this kind; mend the ones named first")


def test_what_is_told_steers_no_terminal(demo):
    hostile = "a\x1b[31m\u202eb"
    raw = f"{hostile};1\n{hostile}\n{HEADS};{hostile}\n{hostile};{hostile};4;8;128;{hostile};{hostile}".encode()
    draft = read(raw, demo)
    assert draft.troubles
    assert all(str(each).isprintable() for each in draft.troubles)


_NAMES = st.sampled_from([
    *(name for column in COLUMNS for name in (column.key, column.title)),
    *(field.option.removeprefix("--") for field in FIELDS), "deviation", "Width (cm)", "operator",
])  # fmt: skip
_CELLS = st.text(st.characters(exclude_categories=["Cs"]), max_size=6) | st.sampled_from(
    ["01", "10.02", "4,01", "8.02", "128", "C", "hinge", "x", "-1", "0", "1e9", "-", "2026-11-03", "nan", "=A1", '"']
)


@given(st.lists(st.lists(_NAMES | _CELLS, max_size=9), max_size=6), st.sampled_from(";,\t"))
def test_any_table_gives_a_sound_record_or_reasons(demo, rows, delimiter):
    heads = ["id", "width_mm", "thickness_mm", "remaining_width_mm", "rise_angle_deg", "break"]
    sound = ["00", "10.02", "4.01", "8.02", "128", "C"]
    for table_rows in (rows, [heads, sound, *rows], [*rows, heads, sound]):
        raw = "\n".join(delimiter.join(each) for each in table_rows).encode("utf-8")
        found = told(raw, demo)
        if isinstance(found, str):
            data, flaws = strict_yaml.parse(found)
            assert (flaws, acceptance.flaws("test", data)) == ([], [])
        else:
            assert found
            assert all(each.isprintable() for each in found)
