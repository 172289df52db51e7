"""`notchbook record import`: what it writes, what it finds in it, and how it refuses."""

import datetime as dt
import os
import re
from pathlib import Path

import pytest
from record_running import COMMON, DEFAULT, SETUP, handbook, run
from test_command_line import HOSTILE, run_process

import small_handbook as small
from notchbook.facts.facts import Facts
from notchbook.handbook import open_handbook
from notchbook.pages.data.files import data_files
from notchbook.reading.strict_yaml import parse
from notchbook.writing.fields import FIELDS
from workbooks import WRITERS

HEADS = "Bar;Width (mm);Thickness (mm);Width under the notch (mm);Angle of rise (°);Break\r\n"
GOOD = HEADS + "".join(f"{n:02};10,0{n % 3};4,01;8,02;86,{n % 5};C\r\n" for n in range(1, 11))
NOTHING = "0 errors, 0 warnings, 0 notes in 1 file"


@pytest.fixture(autouse=True)
def _day(monkeypatch: pytest.MonkeyPatch) -> None:
    """The dates of the records lie before the day of the test."""
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1798761600")  # 2027-01-01


@pytest.fixture
def root(tmp_path: Path) -> Path:
    return handbook(tmp_path / "handbook")


def table(tmp_path: Path, text: str | bytes = GOOD) -> Path:
    path = tmp_path / "readings.csv"
    path.write_bytes(text if isinstance(text, bytes) else text.encode("utf-8"))
    return path


def records(root: Path) -> list[str]:
    return sorted(path.name for path in (root / "results").rglob("*.yaml") if "tests" in path.parts)


def test_record_is_written_and_checked(root: Path, tmp_path: Path) -> None:
    status, said, error = run(root, "import", table(tmp_path), *COMMON)
    path = root / DEFAULT
    assert (status, said) == (0, "")
    assert error.splitlines() == [f"wrote {path}: 10 bars (UTF-8, separated by semicolons)", NOTHING]
    text = path.read_bytes().decode("utf-8")
    assert text.startswith("kind: test\ndate: 2026-10-13\n")
    assert "\r" not in text
    first = '{id: "01", width_mm: 10.01, thickness_mm: 4.01, remaining_width_mm: 8.02, rise_angle_deg: 86.1, break: C}'
    assert f"  - {first}\n" in text


def test_findings_of_the_new_record_are_printed_and_no_others(root: Path, tmp_path: Path) -> None:
    contents = small.files()
    contents[small.VERIFICATION]["checked_by"] = "nobody"
    small.write(root, {small.VERIFICATION: contents[small.VERIFICATION]})
    status, said, error = run(root, "import", table(tmp_path, GOOD.replace("10,01", "1,001", 1)), *COMMON)
    assert status == 1
    (line,) = said.splitlines()
    assert line.startswith(f"{DEFAULT}:12:26: error: 1.001 mm looks like centimetres; ")
    assert error.splitlines()[-1] == "1 error, 0 warnings, 0 notes in 1 file"
    assert records(root) == [DEFAULT.rpartition("/")[2]]


def test_line_of_the_schema_leads_to_it_or_is_left_out(tmp_path: Path) -> None:
    root = handbook(tmp_path / "with", with_schema=True)
    run(root, "import", table(tmp_path), *COMMON)
    run(root, "import", table(tmp_path), *COMMON, "--output", root / "deep.yaml")
    for name, leads in ((DEFAULT, "../../schema/test.schema.json"), ("deep.yaml", "schema/test.schema.json")):
        first = (root / name).read_text(encoding="utf-8").partition("\n")[0]
        assert first == f"# yaml-language-server: $schema={leads}"
        assert (root / name).parent.joinpath(leads).resolve() == (root / "schema/test.schema.json").resolve()
    run(root, "import", table(tmp_path), *COMMON, "--output", tmp_path / "outside.yaml")
    assert (tmp_path / "outside.yaml").read_text(encoding="utf-8").startswith("kind: test\n")


def test_file_that_is_there_is_kept_unless_forced(root: Path, tmp_path: Path) -> None:
    path = root / DEFAULT
    path.parent.mkdir(exist_ok=True, parents=True)
    path.write_text("kept", encoding="utf-8")
    status, said, error = run(root, "import", table(tmp_path), *COMMON)
    assert (status, said, path.read_text(encoding="utf-8")) == (2, "", "kept")
    assert error == (
        f"Error: '{path}' is there already; name another file with --output, or write over it with --force\n"
    )
    assert run(root, "import", table(tmp_path), *COMMON, "--force")[0] == 0
    assert path.read_text(encoding="utf-8").startswith("kind: test")


def test_output_elsewhere_is_written_and_not_checked(root: Path, tmp_path: Path) -> None:
    status, said, error = run(root, "import", table(tmp_path), *COMMON, "--output", tmp_path / "a/b.yaml")
    assert (status, said) == (0, "")
    assert error.splitlines()[-1] == "not checked: the file is not among the records of the handbook"
    assert (tmp_path / "a/b.yaml").is_file()
    assert records(root) == []


def test_output_to_the_screen_writes_no_file(root: Path, tmp_path: Path) -> None:
    status, said, error = run(root, "import", table(tmp_path), *COMMON, "--output", "-")
    assert (status, error, records(root)) == (0, "", [])
    assert len(parse(said)[0]["specimens"]) == 10


def test_name_of_the_file_is_an_id_whatever_was_given(root: Path, tmp_path: Path) -> None:
    options = [*COMMON]
    options[options.index("G2")] = "../../G 2/Ä"
    status, said, _ = run(root, "import", table(tmp_path), *options)
    assert status == 1
    assert "people-codes" in said
    assert records(root) == ["2026-10-13-g-2-pp-h-notched-charpy.yaml"]


def test_what_stands_above_the_table_needs_no_option(root: Path, tmp_path: Path) -> None:
    above = "".join(
        f"{name.removeprefix('--').replace('-', ' ')};{value}\r\n"
        for name, value in zip(COMMON[::2], COMMON[1::2], strict=True)
    )
    assert run(root, "import", table(tmp_path, above + GOOD))[0] == 0
    assert records(root) == [DEFAULT.rpartition("/")[2]]


def test_everything_in_the_way_is_told_at_once_and_nothing_is_written(root: Path, tmp_path: Path) -> None:
    raw = GOOD.replace("86,1", "1,5 rad", 1).replace("03;10,00", "03;1O,00")
    path = table(tmp_path, raw)
    options = [each for each in COMMON if each not in ("--date", "2026-10-13")]
    options[options.index("charpy-1")] = "charpy-3"
    status, said, error = run(root, "import", path, *options, "--conditioning-hours", "two days")
    assert (status, said, records(root)) == (2, "", [])
    *told, last = error.splitlines()
    assert last == f"not written: {len(told)} things to put right"
    assert [re.sub(r"[:;] .*", "", each.removeprefix(f"{path}: ")) for each in told] == [
        "--hammer",
        "--conditioning-hours",
        "Date of test is missing",
        "row 2, column E 'Angle of rise (°)'",
        "row 4, column B 'Width (mm)'",
    ]
    assert "rig 'bench-1' has no hammer 'charpy-3'; did you mean" in told[0]
    assert "convert it to degrees" in told[3]


def test_all_that_is_missing_is_named_with_its_option(root: Path, tmp_path: Path) -> None:
    status, _, error = run(root, "import", table(tmp_path))
    assert status == 2
    for field in FIELDS:
        assert (f"give {field.option} " in error) == field.is_required
    assert error.splitlines()[-1] == "not written: 11 things to put right"


@pytest.mark.parametrize(
    ("option", "value", "said"),
    [
        ("--exercise", "notched-charpi", "--exercise: there is no exercise 'notched-charpi'; did you mean"),
        ("--rig", "bench", "--rig: there is no rig 'bench'; did you mean 'bench-1'?"),
        ("--hammer", "izod", "--hammer: rig 'bench-1' has no hammer 'izod'; known are charpy-1, charpy-2"),
        ("--material", "pph", "--material: there is no material 'pph'; did you mean 'pp-h'?"),
        ("--date", "13/10/2026", "--date: '13/10/2026' is no date: which of its numbers is the month cannot be known"),
        ("--conditioning-humidity", "150", "--conditioning-humidity: 'humidity_pct' is 150; it must be at most 100"),
        ("--group", " ", "--group: nothing stands there"),
        ("--group", "x" * 41, "--group: 'group' has 41 characters; it must have at most 40"),
        ("--half-swings", "2.5", "--half-swings: 'half_swings' is '2.5', where a whole number is expected"),
        ("--notes", HOSTILE, "--notes: 'a\\n::error::b"),
    ],
)  # fmt: skip
def test_option_that_cannot_be_used(root: Path, tmp_path: Path, option: str, value: str, said: str) -> None:
    status, out, error = run(root, "import", table(tmp_path), *COMMON, option, value)
    assert (status, out, records(root)) == (2, "", [])
    assert said in error
    assert all(line.isprintable() for line in error.splitlines())


def test_exercise_without_bars_and_hammer_of_another_method(root: Path, tmp_path: Path) -> None:
    contents = small.files()
    for key in ("specimen", "number_of_specimens"):
        del contents[small.EXERCISE][key]
    other = "procedures/exercises/swings.yaml"
    small.write(root, {other: contents[small.EXERCISE]})
    options = [*COMMON]
    options[options.index("notched-charpy")] = "swings"
    _, _, error = run(root, "import", table(tmp_path), *options)
    assert "--material: a record of free swings has no material; leave it out" in error
    assert "row 1: a series of swings needs a column for the half swing and one for what was read" in error
    contents = small.files()
    contents[small.RIG]["hammers"]["izod-1"] = {**contents[small.RIG]["hammers"]["charpy-1"], "method": "iso-180"}
    small.write(root, {small.RIG: contents[small.RIG]})
    _, _, error = run(root, "import", table(tmp_path), *COMMON, "--hammer", "izod-1")
    assert "hammer 'izod-1' is not one of ISO 179-1, which the exercise follows; rig 'bench-1' has charpy-1" in error


def test_file_that_cannot_be_read_is_told_before_the_handbook_is_opened(tmp_path: Path) -> None:
    path = table(tmp_path, b"PK\x03\x04")
    status, _, error = run(tmp_path, "import", path)
    assert status == 2
    assert error.splitlines() == [
        f"{path}: the workbook is damaged and cannot be read; open it in the spreadsheet and save it again",
        "not written: 1 thing to put right",
    ]
    status, _, error = run(tmp_path, "import", tmp_path / "nothing.csv")
    assert status == 2
    assert "nothing.csv' does not exist" in error


def test_folder_that_is_no_handbook(tmp_path: Path) -> None:
    (tmp_path / "empty").mkdir()
    status, said, error = run(tmp_path / "empty", "import", table(tmp_path), *COMMON)
    assert (status, said) == (2, "")
    assert "holds neither procedures/ nor results/" in error


@pytest.mark.skipif(os.name == "nt" or os.geteuid() == 0, reason="the user may write anywhere")
def test_folder_that_may_not_be_written_to(root: Path, tmp_path: Path) -> None:
    folder = tmp_path / "locked"
    folder.mkdir(mode=0o500)
    status, _, error = run(root, "import", table(tmp_path), *COMMON, "--output", folder / "a.yaml")
    assert status == 2
    assert "cannot be written: Permission denied" in error


def test_parent_that_is_a_file(root: Path, tmp_path: Path) -> None:
    status, _, error = run(root, "import", table(tmp_path), *COMMON, "--output", tmp_path / "readings.csv/a.yaml")
    assert status == 2
    assert "cannot be written: " in error


def test_digits_and_texts_come_through_a_process_of_its_own(root: Path, tmp_path: Path) -> None:
    raw = GOOD.replace("Break\r\n", "Break;Remark\r\n").replace("86,1;C", "86,10;c;漢 😀", 1)
    raw = raw.replace("01;10,01;", "π;10,010;")
    path = table(tmp_path, b"\xff\xfe" + raw.encode("utf-16-le"))
    done = run_process("record", "import", path, *COMMON, folder=root, PYTHONIOENCODING="ascii", PYTHONUTF8="0")
    assert (done.status, done.stdout) == (0, b"")
    assert b"UTF-16, separated by semicolons" in done.stderr
    text = (root / DEFAULT).read_text(encoding="utf-8")
    assert '{id: "π", width_mm: 10.010, thickness_mm: 4.01, ' in text
    assert "rise_angle_deg: 86.10, break: C}" in text
    assert parse(text)[0]["notes"] == "Bar π: 漢 😀."


def test_table_of_the_site_is_read_back(tmp_path: Path) -> None:
    contents = small.files()
    texts = {"02": ("-02", "=slipped;-5 mm"), "03": ("@3", "'+ a\n- b;\"=c"), "04": ("=4", '"quoted"; =d')}
    for bar in contents[small.TEST]["specimens"]:
        if bar["id"] in texts:
            bar["id"], bar["excluded"] = texts[bar["id"]]
    data = data_files(Facts(small.opened(tmp_path / "handbook", contents)), [])
    path = table(tmp_path, data[f"data/records/{small.TEST_ID}.csv"])
    status, said, _ = run(tmp_path / "handbook", "import", path, *COMMON, "--output", "-")
    assert status == 0
    assert "reported" not in said
    bars = parse(said)[0]["specimens"]
    assert [(bar["id"], bar["excluded"]) for bar in bars[1:4]] == list(texts.values())
    assert [bar["width_mm"] for bar in bars] == [bar["width_mm"] for bar in contents[small.TEST]["specimens"]]


def test_two_exercises_of_a_day_are_two_files(root: Path, tmp_path: Path) -> None:
    contents = small.files()
    small.write(root, {"procedures/exercises/blunt.yaml": contents[small.EXERCISE]})
    assert run(root, "import", table(tmp_path), *COMMON)[0] == 0
    assert run(root, "import", table(tmp_path), *COMMON, "--exercise", "blunt")[0] == 0
    assert run(root, "new", *COMMON, "--exercise", "blunt", "--date", "2026-10-14")[0] == 0
    assert records(root) == [
        f"2026-10-{name}.yaml"
        for name in ("13-g2-pp-h-blunt", "13-g2-pp-h-notched-charpy", "14-g2-pp-h-blunt")
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("option", "called"),
    [("material", "PP-H"), ("material", "polypropylene homopolymer"), ("rig", "BENCH 1"), ("hammer", "Charpy-1")],
)
def test_symbol_or_title_stands_for_the_id(root: Path, tmp_path: Path, option: str, called: str) -> None:
    options = [*COMMON]
    options[options.index(f"--{option}") + 1] = called
    assert run(root, "import", table(tmp_path), *options)[0] == 0
    assert parse((root / DEFAULT).read_text(encoding="utf-8"))[0][option] == COMMON[COMMON.index(f"--{option}") + 1]


def test_titles_of_exercise_rig_and_hammer_stand_for_their_ids(root: Path, tmp_path: Path) -> None:
    facts = Facts(open_handbook(root))
    titles = {
        "exercise": facts.exercises["notched-charpy"].exercise.title,
        "rig": facts.rigs["bench-1"].rig.title,
        "hammer": facts.hammers["bench-1", "charpy-1"].hammer.title,
    }
    options = [*COMMON]
    for option, title in titles.items():
        options[options.index(f"--{option}") + 1] = title.upper()
    assert run(root, "import", table(tmp_path), *options)[0] == 0
    assert records(root) == [DEFAULT.rpartition("/")[2]]


def test_symbol_of_two_materials_is_asked_about(root: Path, tmp_path: Path) -> None:
    contents = small.files()
    for name in ("pp-x", "pp-y"):
        small.write(root, {f"procedures/materials/{name}.yaml": contents[small.MATERIAL] | {"symbol": "PP"}})
    _, _, error = run(root, "import", table(tmp_path), *COMMON, "--material", "PP")
    assert "--material: material 'PP' may be pp-x or pp-y; write the one that is meant" in error


def test_several_groups_of_a_table_get_a_file_each(root: Path, tmp_path: Path) -> None:
    lines = GOOD.splitlines()
    group = lambda name, rows: [f"{each};{name}" for each in rows]  # noqa: E731
    raw = "\n".join([f"{lines[0]};Group", *group("G2", lines[1:6]), *group("G3", lines[6:])])
    options = [each for each in COMMON if each not in ("--group", "G2")]
    status, _, error = run(root, "import", table(tmp_path, raw), *options)
    assert status == 0
    assert records(root) == [f"2026-10-13-{name}-pp-h-notched-charpy.yaml" for name in ("g2", "g3")]
    assert error.count("wrote ") == 2
    status, _, error = run(root, "import", table(tmp_path, raw), *options)
    assert (status, error.count("is there already")) == (2, 2)
    status, _, error = run(root, "import", table(tmp_path, raw), *options, "--output", "-")
    assert (status, error) == (2, "Error: the table is of 2 records, each a file of its own; leave out --output\n")
    assert run(root, "import", table(tmp_path, raw), *COMMON, "--force")[2].count("wrote ") == 1


@pytest.mark.parametrize("ending", WRITERS)
def test_sheets_of_a_workbook_called_by_their_groups_get_a_file_each(root: Path, tmp_path: Path, ending: str) -> None:
    rows = [["Date", dt.date(2026, 10, 13)], ["Bar", "Width", "Thickness", "b_N (mm)", "Angle of rise (°)", "Break"]]
    rows += [[number, 10.02, 4.01, 8.02, 86.4, "C"] for number in range(1, 11)]
    raw = WRITERS[ending]({"Cover": [["Notched bars"]], "G2": rows, "G3": rows})
    options = [each for each in COMMON if each not in ("--group", "G2", "--date", "2026-10-13")]
    status, _, error = run(root, "import", table(tmp_path, raw), *options)
    assert status == 0
    assert "sheet 'Cover' holds no heads of a table and is not read" in error
    assert records(root) == [f"2026-10-13-{name}-pp-h-notched-charpy.yaml" for name in ("g2", "g3")]
    assert "10 bars (workbook, sheet 'G3')" in error


SWINGS = """exercise;swings
rig;bench-1
hammer;Charpy-1
date;7.10.2026
group;G2
first rise;94,6°
second rise;95,0
half swings;10
later rise;89,0
"""
SERIES = "Half swing;Angle of rise (°)\n1;95,0\n3;93,8\n5;92,6\n"


@pytest.fixture
def without_bars(root: Path) -> Path:
    contents = small.files()
    for key in ("specimen", "number_of_specimens"):
        del contents[small.EXERCISE][key]
    return small.write(root, {"procedures/exercises/swings.yaml": contents[small.EXERCISE]})


def test_table_of_free_swings_is_a_record_of_them(without_bars: Path, tmp_path: Path) -> None:
    status, said, _ = run(without_bars, "import", table(tmp_path, SWINGS + SERIES))
    assert (status, said) == (0, "")
    found, _ = parse((without_bars / "results/swings/2026-10-07-g2-swings-bench-1-charpy-1.yaml").read_text("utf-8"))
    assert found == small.swings() | {"exercise": "swings"}
    status, said, _ = run(without_bars, "import", table(tmp_path, SWINGS), "--output", "-")
    assert (status, parse(said)[0]) == (0, {key: found[key] for key in found if key != "series"})


@pytest.mark.parametrize(
    ("raw", "told"),
    [
        (SWINGS.replace("first rise", "first ryse"), "row 6: 'first ryse' is no name of a value that"),
        (SWINGS + SERIES.replace("\n3;", "\n4;"), "the half swings are 1, 4, 5; they begin with 1"),
        (SWINGS + SERIES.replace("93,8", "9x"), "row 12, column B 'Angle of rise (°)': '9x' is not a number"),
        (SWINGS + SERIES.replace("\n3;", "\nb;"), "row 12, column A 'Half swing': 'b' is no half swing; count them"),
        (SWINGS + SERIES.replace("93,8", ""), "row 12: the row holds no half swing with its reading"),
        (SWINGS + SERIES.replace("Half swing", "Bar"), "row 10: a series of swings needs a column for the half swing"),
        (SWINGS + SERIES.replace("93,8", "193,8"), "row 12, column B 'Angle of rise (°)': "),
        (SWINGS.partition("first")[0], "the free swings are missing; give --first-rise and --second-rise"),
        (SWINGS.replace("date;7.10.2026\n", ""), "Date of test is missing; give --date YYYY-MM-DD"),
        (SWINGS + "batch;A 1\n", "row 10, column B 'batch': a record of free swings has no batch; leave it out"),
    ],
    ids=["name", "uneven", "reading", "half swing", "empty", "heads", "range", "no swings", "no date", "batch"],
)  # fmt: skip
def test_table_of_free_swings_that_cannot_be_used(without_bars: Path, tmp_path: Path, raw: str, told: str) -> None:
    status, said, error = run(without_bars, "import", table(tmp_path, raw))
    assert (status, said) == (2, "")
    assert told in error
    assert error.count("\n") <= 3
    assert not (without_bars / "results/swings").exists()


def test_batches_of_one_group_are_told_apart_by_their_names(root: Path, tmp_path: Path) -> None:
    lines = GOOD.splitlines()
    rows = [f"{each};{'A 1' if place < 5 else 'A 2'}" for place, each in enumerate(lines[1:])]
    run(root, "import", table(tmp_path, "\n".join([f"{lines[0]};Batch", *rows])), *COMMON)
    assert records(root) == [f"2026-10-13-g2-pp-h-notched-charpy-a-{number}.yaml" for number in (1, 2)]


def test_hammer_and_rig_may_come_from_options_and_the_rest_from_rows(root: Path, tmp_path: Path) -> None:
    above = "hammer;charpy-2\r\nA title of the sheet\r\n"
    status, _, error = run(root, "import", table(tmp_path, above + GOOD), *COMMON)
    assert status == 0
    assert "readings.csv: row 2 'A title of the sheet' is not used\n" in error
    assert SETUP[-1] == parse((root / DEFAULT).read_text(encoding="utf-8"))[0]["hammer"]
