"""Text of any kind in a drawing stays text, and the same values give the same drawing."""

import re
from dataclasses import replace

import pytest
from drawing_reading import Drawing, assert_fit_for_a_page, assert_readable
from hypothesis import given, settings
from hypothesis import strategies as st
from test_pendulum_drawing import LONG
from test_specimen_drawing import SPECIMEN
from test_support_drawing import CHARPY, IZOD

from notchbook.charts.drawings.pendulum import pendulum_drawing
from notchbook.charts.drawings.specimen import specimen_drawing
from notchbook.charts.drawings.support import support_drawing
from notchbook.charts.drawings.values import BarShape, Dimension, NotchShape
from notchbook.charts.words import identifier

HOSTILE = [
    "<script>alert(1)</script>",
    "</title></desc></svg><img src=x onerror=alert(1)>",
    "\"'&amp;]]><!--",
    "\u202eabc\u2066",
    "a\x00b\x02c\x1b\x7f\x9f",
    "line\nbreak\r\n\n\ttab\u2028",
    "\ud800\ufffe\uffff",
    "{{ page }} {% raw %} *a* _b_",
    "a very long name of a notch that nobody has room for, whatever the width of the page may be",
]


def of_text(text):
    bar = BarShape(Dimension(80.0, text), Dimension(10.0, text), Dimension(4.0, text))
    notch = NotchShape(text, Dimension(0.25, text), Dimension(45.0, text), Dimension(8.0, text))
    return bar, notch


@pytest.mark.parametrize("text", HOSTILE)
def test_text_of_any_kind_is_only_text(text):
    bar, notch = of_text(text)
    drawings = [
        specimen_drawing(replace(SPECIMEN, title=text, bar=bar, notch=notch)),
        support_drawing(replace(CHARPY, id_prefix="bar", title=text, bar=bar, notch=notch)),
        support_drawing(replace(IZOD, id_prefix="bar", title=text, bar=bar, notch=notch)),
        pendulum_drawing(replace(LONG, id_prefix="bar", title=text)),
    ]
    for each in drawings:
        drawing = Drawing(each, "bar")
        assert_fit_for_a_page(drawing)
        assert_readable(drawing)
        everything = "".join(drawing.root.itertext())
        assert not re.search(
            "[\x00-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069\ud800-\udfff\ufffe\uffff]", everything
        )


@given(prefix=st.text(max_size=20), text=st.text(max_size=30))
@settings(max_examples=40)
def test_any_prefix_and_text_give_a_drawing(prefix, text):
    bar, notch = of_text(text)
    drawing = Drawing(specimen_drawing(replace(SPECIMEN, id_prefix=prefix, bar=bar, notch=notch)), identifier(prefix))
    assert_fit_for_a_page(drawing)


def test_the_same_values_give_the_same_drawing():
    assert specimen_drawing(SPECIMEN) == specimen_drawing(replace(SPECIMEN))
    assert support_drawing(CHARPY) == support_drawing(replace(CHARPY))
    assert support_drawing(IZOD) == support_drawing(replace(IZOD))
    assert pendulum_drawing(LONG) == pendulum_drawing(replace(LONG))
