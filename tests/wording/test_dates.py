"""Days in words, held against the standard library."""

import datetime as dt

from hypothesis import given
from hypothesis import strategies as st

from notchbook.wording.dates import day_words


@given(st.dates())
def test_day(date: dt.date) -> None:
    words = day_words(date)
    number, month, year = words.split(" ")
    assert dt.datetime.strptime(f"{int(number):02} {month} {int(year):04}", "%d %B %Y").date() == date
    assert not number.startswith("0")
