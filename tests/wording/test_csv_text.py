"""Tables as CSV: numbers with every digit, texts that no spreadsheet runs, and the same texts read back."""

import csv
import io
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from notchbook.wording.csv_text import csv_table, guarded, unguarded

# First characters after the advice of OWASP on CSV injection, with what readers pass over before them.
RUN = re.compile(r"""[\s"]*[=+@\-＝＋＠－]""")
TEXTS = st.text(st.sampled_from("=+-@;'\" ,\n\r\tab\x1b\u202e＝:#["))


def read(text, separator=",", quoting=csv.QUOTE_MINIMAL):
    return list(csv.reader(io.StringIO(text, newline=""), delimiter=separator, quoting=quoting))


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("=1", "'=1"),
        (' "=1', "' \"=1"),
        ("'=1", "''=1"),
        ("abc;=cmd|' /C calc'!A0;x", "abc;'=cmd|' /C calc'!A0;x"),
        ("a;+1;-1; @x", "a;'+1;'-1;' @x"),
        ("a\n=1", "a\n'=1"),
        ("a\r\n=1", "a\r\n'=1"),
        ("a\r=1\t=2", "a\\r=1\\t=2"),
        ("＋1", "'＋1"),
        ("\x1b[31m\u202e", "\\x1b[31m\\u202e"),
    ],
)
def test_text_that_would_be_run_or_steers(text, written):
    assert guarded(text) == written


@pytest.mark.parametrize("text", ["a=b", "2-3", "x@y", "a; b", "23\xa0°C", "'quoted'", "two\nlines", "a\r\nb", ""])
def test_other_text_stays(text):
    assert guarded(text) == text


@given(TEXTS)
def test_no_cell_of_any_spreadsheet_is_run(text):
    table = csv_table(["a", "b", "c"], [{"a": text, "b": text, "c": -0.5}])
    for separator in ",;\t":
        # whether or not it knows the quotation marks of fields that begin within its cells
        for quoting in (csv.QUOTE_MINIMAL, csv.QUOTE_NONE):
            if separator == "," and quoting == csv.QUOTE_NONE:
                continue  # such a reader cannot read CSV
            for cell in (cell for row in read(table, separator, quoting) for cell in row):
                assert cell == "-0.5" or not RUN.match(cell), (separator, cell)


@given(st.text(st.sampled_from("=+-@;'\" ,\nab＝")))
def test_text_comes_back(text):
    assert unguarded(guarded(text)) == text


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_number_keeps_every_digit(number):
    (_, (written,)) = read(csv_table(["x"], [{"x": number}]))
    assert float(written) == number


def test_what_is_neither_text_nor_number():
    assert csv_table(["a", "b", "c"], [{"a": None, "b": True, "c": 3}]) == "a,b,c\r\n,true,3\r\n"
