"""Data as JSON: every reader gets it back, and a terminal shows it as it is."""

import json
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from notchbook.wording.json_text import json_text

TEXTS = st.text(st.sampled_from('#:[]a"\\ \n\r\t\x00\x1b\x7f\x85\u2028\u202e\ud800é漢😀\U000e0001'))


@given(st.dictionaries(TEXTS, TEXTS | st.lists(TEXTS) | st.floats(allow_nan=False, allow_infinity=False)))
def test_data_come_back_and_every_line_is_shown(data):
    text = json_text(data)
    assert json.loads(text) == data
    assert all(line.isprintable() for line in text.split("\n"))
    assert "##" not in text
    assert not any(line.lstrip().startswith("::") for line in text.split("\n"))
    text.encode("utf-8")


def test_what_can_be_read_is_not_escaped():
    assert json_text({"é": "漢 😀 #1"}) == '{\n "é": "漢 😀 #1"\n}\n'


@pytest.mark.parametrize("number", [math.nan, math.inf, -math.inf])
def test_number_that_json_does_not_have_is_refused(number):
    # RFC 8259, 6: numeric values such as Infinity and NaN are not permitted
    with pytest.raises(ValueError, match="JSON compliant"):
        json_text([number])
