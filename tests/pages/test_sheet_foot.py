"""The foot of printed sheets: whatever a site is called, its name is a string of CSS and nothing else."""

import datetime as dt
import re

from hypothesis import given
from hypothesis import strategies as st

from notchbook.pages.assets import STYLES
from notchbook.pages.sheets.foot import URI, css_string, sheet_foot

DAY = dt.date(2026, 11, 2)
# CSS Syntax Module Level 3, 4.3.5 and 4.3.7: what a string may hold, and an escape of one to six hexadecimal digits
STRING = re.compile(r'"(?:[^"\\\n\r\f<]|\\[0-9a-f]{1,6} )*"')


def _read(string: str) -> str:
    """A string of CSS as a browser takes it."""
    return re.sub(r"\\([0-9a-f]{1,6}) ", lambda each: chr(int(each[1], 16)), string[1:-1])


@given(st.text())
def test_any_text_is_one_string_and_comes_back(text: str) -> None:
    written = css_string(text)
    assert STRING.fullmatch(written)
    assert _read(written) == text


@given(st.text(), st.sampled_from(["", "https://handbook.example/"]))
def test_form_is_the_same_whatever_the_site_is_called(name: str, url: str) -> None:
    assert STRING.sub('""', sheet_foot(name, url, DAY)) == STRING.sub('""', sheet_foot("Handbook", url, DAY))


def test_address_comes_before_the_name_and_the_day_is_always_there() -> None:
    def left(name: str, url: str) -> str:
        return re.sub(r"\s+", " ", _read(STRING.findall(sheet_foot(name, url, DAY))[0]))

    assert left("Handbook", "https://x.example/") == "https://x.example/ · state of 2 November 2026"
    assert left("Handbook", "") == "Handbook · state of 2 November 2026"
    assert left("", "") == "State of 2 November 2026"
    assert len(left("name " * 200, "")) < 130


def test_every_page_has_it() -> None:
    assert URI in STYLES
    assert STYLES.index(URI) > STYLES.index("assets/print.css")
