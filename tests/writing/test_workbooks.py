"""Workbooks of both kinds: what stands in their cells, where, and what no table of readings holds."""

import datetime as dt
import io
import random
import resource
import struct
import zipfile

import pytest
from table_reading import OPTIONS, read, told

from notchbook.writing.trouble import UnreadableError
from notchbook.writing.workbook_bounds import LARGEST_XML_BYTES
from notchbook.writing.workbook_readings import read_workbook
from workbooks import WRITERS, letters, ods, xlsx

HEADS = ["Bar", "Width (mm)", "Thickness (mm)", "Width under the notch (mm)", "Angle of rise (°)", "Break"]
BARS = [["01", 10.02, 4.01, 8.02, 128.0, "C"], ["02", 10.01, 4.0, 8.0, 128.6, "hinge"]]
both = pytest.mark.parametrize("write", WRITERS.values(), ids=WRITERS)


def many(texts):
    return len(texts)


@both
def test_table_of_a_sheet_gives_its_record(write, demo):
    above = [["date of test", dt.date(2026, 11, 4)], ["batch", "PP-26-01"], []]
    options = {key: value for key, value in OPTIONS.items() if key != ("date",)}
    raw = write({"Sheet1": [*above, HEADS, *BARS], "Sheet2": []})
    values = read(raw, demo, options=options).values
    assert (values["date"], values["batch"], values["group"]) == ("2026-11-04", "PP-26-01", "G2")
    assert [bar["id"] for bar in values["specimens"]] == ["01", "02"]
    assert [bar["break"] for bar in values["specimens"]] == ["C", "H"]
    assert values["specimens"][0]["width_mm"].written == "10.02"


@both
def test_what_a_number_was_made_of_is_not_shown(write):
    """Spreadsheets show 15 significant figures at most; 0.1 + 0.2 has 17 in binary (IEEE 754)."""
    (sheet,), _ = read_workbook(write({"S": [[0.1 + 0.2, 128.0, 1e-5, 3, True, -20.5]]}), many)
    assert [cell.text for cell in sheet.rows[0]] == ["0.3", "128", "1e-05", "3", "true", "-20.5"]


@both
def test_troubles_name_sheet_row_and_column(write, demo):
    bad = [["03", "10 cm", 4.0, 8.0, 128.6, "Q"]]
    found = told(write({"First": [HEADS, *BARS], "The second": [HEADS, *BARS, *bad]}), demo)
    assert [each.partition(": ")[0] for each in found] == [
        "sheet 'The second', row 4, column B 'Width (mm)'",
        "sheet 'The second', row 4, column F 'Break'",
    ]
    (alone,) = told(write({"First": [HEADS, *BARS, [*bad[0][:1], 10.0, *bad[0][2:]]]}), demo)
    assert alone.startswith("row 4, column F 'Break'")


@both
def test_sheet_called_by_its_group_is_the_record_of_it(write, demo):
    options = {key: value for key, value in OPTIONS.items() if key != ("group",)}
    found = told(write({"Cover": [["Charpy"]], "G1": [HEADS, *BARS], "LT-2": [HEADS, *BARS]}), demo, options=options)
    assert [record.splitlines()[2] for record in found.split("---\n")] == ["group: G1", "group: LT-2"]
    assert told(write({"Sheet1": [HEADS, *BARS]}), demo, options=options)[0].startswith("Group is missing")


def test_hidden_sheet_is_not_read(demo):
    raw = xlsx({"G1": [HEADS, *BARS], "old": [HEADS, *BARS, *BARS]}, hidden={"old"})
    assert len(read(raw, demo).values["specimens"]) == 2


def test_letters_are_those_of_a_spreadsheet():
    assert [letters(number) for number in (0, 25, 26, 51, 52)] == ["A", "Z", "AA", "AZ", "BA"]


_FAR = '<row r="1"><c r="A1"><v>1</v></c></row><row r="1048576"><c r="XFD1048576"><v>1</v></c></row>'
_ONE = 'office:value-type="float" office:value="1"'
_ROW = "<table:table-row{}><table:table-cell {}/></table:table-row>"


def _odd_rows(text):
    return ods({"S": []}, raw_rows={"S": text})


def _packed(name, content, method=zipfile.ZIP_DEFLATED):
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", method) as book:
        book.writestr(name, content)
    return packed.getvalue()


def _said_smaller(raw, size):
    """The same archive, whose directory says that its first part has so many bytes."""
    place = raw.index(b"PK\x01\x02")
    return raw[: place + 24] + struct.pack("<L", size) + raw[place + 28 :]


HOSTILE = {
    "nothing": (lambda: b"PK\x03\x04", "damaged"),
    "no parts": (lambda: b"PK\x03\x04" + bytes(200), "damaged"),
    "cut": (lambda: xlsx({"S": BARS})[:700], "damaged"),
    "no workbook": (lambda: _packed("notes.xml", "<a/>"), "no workbook that can be read"),
    "no xml": (lambda: _packed("content.xml", "<a><b></a>"), "damaged"),
    "bomb": (lambda: _packed("xl/a.xml", bytes(LARGEST_XML_BYTES + 1)), "unpacks to more than"),
    "bomb that lies": (lambda: _said_smaller(_packed("xl/a.xml", bytes(LARGEST_XML_BYTES * 8)), 100), "damaged"),
    "bomb of lzma": (
        lambda: _packed("xl/a.xml", bytes(LARGEST_XML_BYTES * 8), zipfile.ZIP_LZMA), "unpacks to more than",
    ),
    "entities": (
        lambda: _packed("content.xml", '<!DOCTYPE a [<!ENTITY b "' + "x" * 1000 + '">]><a>' + "&b;" * 9999 + "</a>"),
        "damaged",
    ),
    "many parts": (
        lambda: xlsx({f"S{number}": [] for number in range(500)}), "more than 400 parts",
    ),
    "many sheets": (lambda: xlsx({f"S{number}": [["x"]] for number in range(99)}), "has 99 sheets; at most 60"),
    "last cell": (lambda: xlsx({"S": []}, raw_rows={"S": _FAR}), "reaches to row 1,048,576, column XFD"),
    "wide": (
        lambda: _odd_rows(_ROW.format("", f'{_ONE} table:number-columns-repeated="999"')), "row 1, column ALK",
    ),
    "long": (
        lambda: _odd_rows(_ROW.format(' table:number-rows-repeated="999999"', _ONE)), "row 999,999, column A",
    ),
    "far below": (
        lambda: _odd_rows(_ROW.format(' table:number-rows-repeated="4000000000"', "") + _ROW.format("", _ONE)),
        "reaches to row 4,000,000,001",
    ),
    "less than none": (
        lambda: _odd_rows(_ROW.format(' table:number-rows-repeated="-9"', "")), "no workbook that can be read",
    ),
    "much in all": (
        lambda: xlsx({f"S{n}": [] for n in range(9)}, raw_rows={
            f"S{n}": '<row r="1"><c r="A1"><v>1</v></c></row><row r="1999"><c r="IV1999"><v>1</v></c></row>'
            for n in range(9)
        }),
        "span more than 1,000,000 cells",
    ),
    "empty": (lambda: xlsx({"S": []}), "holds no cells"),
    "old": (lambda: b"\xd0\xcf\x11\xe0" + bytes(999), "an old workbook (.xls), or has a password"),
}  # fmt: skip


@pytest.mark.parametrize(("make", "said"), HOSTILE.values(), ids=HOSTILE)
def test_hostile_workbook_is_refused_and_costs_little(make, said):
    """Memory grows by less than the 200 MB and time by less than the 2 s that hostile files may cost."""
    raw = make()
    before = resource.getrusage(resource.RUSAGE_SELF)
    with pytest.raises(UnreadableError) as caught:
        read_workbook(raw, many)
    after = resource.getrusage(resource.RUSAGE_SELF)
    assert said in str(caught.value)
    assert caught.value.trouble.hint
    assert after.ru_utime - before.ru_utime < 2
    assert after.ru_maxrss - before.ru_maxrss < 200_000


def test_changed_bytes_give_cells_or_a_reason():
    """Of the XML as it stands in the parts, as changes of packed bytes would be refused as damage."""
    chance = random.Random(7)  # noqa: S311  # picks places, hides nothing
    for write in WRITERS.values():
        with zipfile.ZipFile(io.BytesIO(write({"S": [HEADS, *BARS]}))) as book:
            parts = {each: book.read(each) for each in book.namelist()}
        for _ in range(150):
            name = chance.choice(list(parts))
            text = bytearray(parts[name])
            for _ in range(chance.randint(1, 3)):
                text[chance.randrange(len(text))] = chance.choice(b'<>/"=&;0123456789 azAZ:-\x00\xff')
            packed = io.BytesIO()
            with zipfile.ZipFile(packed, "w") as book:
                for each, content in (parts | {name: bytes(text)}).items():
                    book.writestr(each, content)
            try:
                sheets, _ = read_workbook(packed.getvalue(), many)
            except UnreadableError as error:
                assert str(error).isprintable()  # noqa: PT017  # either is right
            else:
                assert all(cell.text for sheet in sheets for row in sheet.rows for cell in row)
