"""Text of any kind in a chart stays text."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from svg_reading import Chart, assert_fit_for_a_page

from notchbook.charts.kinds import BreakKind
from notchbook.charts.shown import SetMark, SpecimenMark, SpecimensChart
from notchbook.charts.specimens import specimens_chart


def drawn(chart):
    return Chart(specimens_chart(chart), chart.id_prefix)


HOSTILE = [
    "<script>alert(1)</script>",
    "</title></desc></svg><img src=x onerror=alert(1)>",
    "$x_1^2$ \\frac{1}{2}",
    "\"'&amp;]]><!--",
    "\u202eabc\u2066",
    "a\x00b\x02c\x1b\x7f\x9f",
    "line\nbreak\r\n\n\ttab\u2028",
    "\ud800\ufffe\uffff",
    "试样一 🧪 مرحبا",
    "{{ page }} {% raw %} *a* _b_",
]


@pytest.mark.parametrize("text", HOSTILE)
def test_text_of_any_kind_is_only_text(text):
    specimens = (
        SpecimenMark(text, "C", 5.0),
        SpecimenMark("2", text, 6.0),
        SpecimenMark("3", text, None, excluded=True),
    )
    chart = drawn(
        SpecimensChart(
            "hostile",
            text,
            specimens,
            (SetMark((text, "C"), 2, 5.5, None),),
            kinds={text: BreakKind(text, "partial")},
        )
    )
    assert_fit_for_a_page(chart)
    everything = "".join(chart.root.itertext())
    assert not re.search(
        "[\x00-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069\ud800-\udfff\ufffe\uffff]", everything
    )


def test_what_looks_like_mathematics_stands_as_written():
    chart = drawn(SpecimensChart("maths", "$t_1^2$", (SpecimenMark("$x_1$", "C", 5.0),), ()))
    assert "$x_1$" in chart.texts()
    assert chart.named("title").text == "$t_1^2$"


def test_a_character_that_cannot_stand_is_shown_as_replaced():
    chart = drawn(SpecimensChart("odd", "a\x00b\u202ec", (SpecimenMark("1\x07", "C", 5.0),), ()))
    assert chart.named("title").text == "a\ufffdb\ufffdc"
    assert "1\ufffd" in chart.texts()


@given(text=st.text(max_size=30), value=st.one_of(st.none(), st.floats(-1e6, 1e6)), excluded=st.booleans())
@settings(max_examples=60)
def test_any_text_and_value_give_a_chart(text, value, excluded):
    specimens = (SpecimenMark(text, text, value, excluded=excluded), SpecimenMark("2", "C", 1.0))
    assert_fit_for_a_page(drawn(SpecimensChart("any", text, specimens, ())))
