"""Bytes to cells: encodings, separators, and places as a spreadsheet counts them."""

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from notchbook.writing.csv_readings import decoded, read_sheet
from notchbook.writing.sheets import column_letters
from notchbook.writing.table_columns import known_heads
from notchbook.writing.trouble import UnreadableError

CELLS = st.text(st.characters(exclude_categories=["Cs", "Cc"]), max_size=8) | st.sampled_from(
    ['"', ",", ";", "\t", "a\nb", "a\r\nb", 'a"b', "10,02", "'", " "]
)


@pytest.mark.parametrize(
    ("number", "letters"), [(1, "A"), (26, "Z"), (27, "AA"), (52, "AZ"), (53, "BA"), (702, "ZZ"), (703, "AAA")]
)
def test_letters_of_a_column(number, letters):
    """Bijective base 26, as every spreadsheet counts; XFD = 16384 is the last of the widest sheets."""
    assert column_letters(number) == letters
    assert column_letters(16_384) == "XFD"


@given(st.lists(st.lists(CELLS, min_size=3, max_size=5), max_size=6), st.sampled_from(",;\t"),
       st.sampled_from(["utf-8", "utf-8-sig", "utf-16"]), st.sampled_from(["\n", "\r\n"]))  # fmt: skip
def test_cells_of_any_writer_are_read_back(rows, delimiter, encoding, end):
    """The standard library's writer stands for a spreadsheet; the heads decide on the separator."""
    heads = ["bar", "width", "thickness", "break", "rise"]
    text = io.StringIO(newline="")
    csv.writer(text, delimiter=delimiter, lineterminator=end).writerows([heads, *rows])
    sheet = read_sheet(text.getvalue().encode(encoding), known_heads)
    found = {(cell.row, cell.column): cell.text for row in sheet.rows for cell in row}
    wanted = {
        (row, column): cell.strip()
        for row, cells in enumerate([heads, *rows], start=1)
        for column, cell in enumerate(cells, start=1)
        if cell.strip()
    }
    assert found == wanted
    assert (sheet.delimiter, sheet.head) == (delimiter, 0)


@given(st.binary(max_size=60) | st.text(max_size=40).map(lambda text: text.encode("utf-16-le", "surrogatepass")))
def test_any_bytes_are_cells_or_refused_with_a_reason(raw):
    said = ""
    try:
        sheet = read_sheet(raw, known_heads)
    except UnreadableError as error:
        said = str(error)
    assert said.isprintable()
    if not said:
        assert all(cell.text == cell.text.strip() != "" for row in sheet.rows for cell in row)


@pytest.mark.parametrize(
    ("raw", "text", "encoding"),
    [
        ("23 °C".encode(), "23 °C", "UTF-8"),
        (b"\xef\xbb\xbf23 \xc2\xb0C", "23 °C", "UTF-8"),
        (b"23 \xb0C", "23 °C", "Windows-1252"),
        (b"\x93old\x94 \x80", "“old” €", "Windows-1252"),
        ("\ufeff23 °C".encode("utf-16-le"), "23 °C", "UTF-16"),
        ("\ufeff23 °C".encode("utf-16-be"), "23 °C", "UTF-16"),
        ("width of bar".encode("utf-16-le"), "width of bar", "UTF-16"),
        ("width of bar".encode("utf-16-be"), "width of bar", "UTF-16"),
    ],
)
def test_encoding(raw, text, encoding):
    assert decoded(raw) == (text, encoding)


def test_rows_and_columns_are_those_of_the_spreadsheet():
    """A line break inside a cell begins no row, an empty line is one, and `sep=;` is none."""
    sheet = read_sheet(b'sep=;\r\n"two\r\nlines";;x\r\n\r\nbar;width;break\r\n', known_heads)
    assert [(cell.row, cell.column) for row in sheet.rows for cell in row] == [(1, 1), (1, 3), (3, 1), (3, 2), (3, 3)]
    assert sheet.rows[0][1].place == "row 1, column C"
    assert sheet.head == 1


def test_separator_line_may_name_another_separator():
    sheet = read_sheet(b'"sep=|"\nbar|width|break\n', known_heads)
    assert (sheet.delimiter, len(sheet.rows[0])) == ("|", 3)
    assert sheet.described == "UTF-8, separated by '|'"


@pytest.mark.parametrize("text", ["bar,width,break\n1,2,C", "Sheet; of; G2; and; more\nbar,width,break\n1,2,C"])
def test_separator_is_the_one_that_makes_heads_known(text):
    sheet = read_sheet(text.encode(), known_heads)
    assert sheet.delimiter == ","
    assert not sheet.comma_is_decimal
