"""Numbers as they are shown, and foreign text as text and nothing else."""

from __future__ import annotations

import datetime as dt
import html
import math
import re
from decimal import ROUND_HALF_EVEN, Decimal

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from markupsafe import Markup
from page_html import front_matter_and_html

from html_tree import parse
from notchbook.pages import text

ACTIVE = "<>&\"'`{}[]()#*_-+!|:=~^\\\n\t 1a"
TEXTS = st.text(st.characters(exclude_categories=["Cs"]) | st.sampled_from(ACTIVE), max_size=40)
NUMBERS = st.floats(min_value=1e-6, max_value=1e9) | st.floats(min_value=-1e9, max_value=-1e-6)
# Unicode Bidirectional Algorithm (UAX 9), 2.1 to 2.6: embeddings, overrides, isolates and the implicit marks.
DIRECTION = "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\u200e\u200f\u061c"
HOSTILE = (
    "<script>alert(1)</script>",
    "</p></div></td></table><h2>x</h2>",
    '"><img src=x onerror=alert(1)>',
    "' onmouseover='alert(1)",
    "{{ 7*7 }} {% raw %} {# x #}",
    "{: #id .class onclick=alert(1) } { .x }",
    "**b** _i_ `code` ~~s~~ ^^u^^ ==m== $x$ [a](javascript:alert(1)) ![i](x) [^1] <https://example.org>",
    "```\n# heading\n\n- item\n\n| a | b |\n|---|---|\n```",
    "---\ntitle: other\n---",
    "&lt;b&gt; &amp; &#60; &copy",
    "--8<-- \"x.md\" :smile: !!! note\n    in a box",
    "- \u202egnirts\u202c \x00 \x1b[31m \x7f \ufffe",
    "# x #",
    "1. one\n2. two",
    "\U0001f600 \u0e01\u0e33 e\u0301 \ud7ff",
    "x" * 200,
)  # fmt: skip


def _expected(value: str) -> str:
    """The text as a reader should see it: on one line, with U+FFFD for what cannot or must not be shown."""
    control = {chr(code) for code in (*range(32), *range(0x7F, 0xA0))} - set("\t\n\r")
    # Unicode, 23.7: 66 code points that are no characters
    none = {chr(plane + last) for plane in range(0, 0x110000, 0x10000) for last in (0xFFFE, 0xFFFF)}
    hidden = control | set(DIRECTION) | none | {chr(code) for code in range(0xFDD0, 0xFDF0)}
    visible = "".join("\ufffd" if character in hidden else character for character in value)
    return re.sub(r"\s+", " ", visible)


def _value(shown: str) -> Decimal:
    return Decimal(shown.replace("−", "-"))


@given(NUMBERS, st.integers(1, 6))
@example(9.995, 3)
@example(0.0999996, 3)
@example(99.95, 3)
@example(12345.0, 2)
def test_significant_figures(value: float, figures: int) -> None:
    shown = text.significant(value, figures)
    exact = Decimal(value)
    unit = Decimal(1).scaleb(exact.adjusted() - figures + 1)
    # reference: decimal arithmetic on the binary fraction as it is
    rounded = exact.quantize(unit, ROUND_HALF_EVEN)
    assert _value(shown) == rounded
    assert re.fullmatch(r"−?[0-9]+(\.[0-9]+)?", shown), "fixed notation with a real minus"
    if "." in shown:
        assert len(shown.lstrip("−0.").replace(".", "")) == figures, "trailing zeros are kept"


@pytest.mark.parametrize(
    ("value", "figures", "shown"),
    [
        (4.04, 2, "4.0"), (66.7, 2, "67"), (123.4, 2, "120"), (0.12345, 3, "0.123"), (0.0996, 2, "0.10"),
        (-2.5, 3, "−2.50"), (0.0, 3, "0.00"), (None, 3, "–"), (math.nan, 3, "–"), (math.inf, 3, "–"),
    ],
)  # fmt: skip
def test_significant_figures_of(value: float | None, figures: int, shown: str) -> None:
    assert text.significant(value, figures) == shown


@given(NUMBERS | st.just(0.0), st.integers(0, 6))
def test_decimals(value: float, decimals: int) -> None:
    shown = text.number(value, decimals)
    assert _value(shown) == Decimal(value).quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_EVEN)
    assert len(shown.partition(".")[2]) == decimals


@pytest.mark.parametrize("value", [None, math.nan, math.inf, -math.inf])
def test_no_number_is_a_dash(value: float | None) -> None:
    assert text.number(value, 2) == text.significant(value, 2) == "–"


@pytest.mark.parametrize("value", [-0.0, -0.004, -1e-12])
def test_zero_has_no_sign(value: float) -> None:
    assert text.number(value, 2) == "0.00"


@pytest.mark.parametrize(
    ("value", "shown"),
    [(10.0, "10"), (390, "390"), (0.2, "0.2"), (9.8137, "9.8137"), (-1.5, "−1.5"), (0.1 + 0.2, "0.3"), (None, "–")],
)
def test_number_as_written(value: float | None, shown: str) -> None:
    assert text.plain(value) == shown


@given(st.decimals(min_value=-9999, max_value=9999, places=4))
def test_number_of_a_file_comes_back(written: Decimal) -> None:
    assert _value(text.plain(float(written))) == written


@pytest.mark.parametrize(
    ("values", "shown"),
    [
        ((48.1, 48.12, 48.08), ["48.10", "48.12", "48.08"]),
        ((48.0, 49.0), ["48", "49"]),
        ((-0.5, 12.0), ["−0.5", "12.0"]),
        ((), []),
    ],
)
def test_numbers_side_by_side_have_as_many_decimals(values: tuple[float, ...], shown: list[str]) -> None:
    assert text.alike(values) == shown


@given(st.dates())
def test_day(date: dt.date) -> None:
    words = text.day(date)
    number, month, year = words.split(" ")
    assert dt.datetime.strptime(f"{int(number):02} {month} {int(year):04}", "%d %B %Y").date() == date
    assert not number.startswith("0")


@pytest.mark.parametrize(
    ("symbol", "markup"),
    [
        ("a_cN", "<i>a</i><sub>cN</sub>"),
        ("a", "<i>a</i>"),
        ("a_<b>", "<i>a</i><sub>&#60;b&#62;</sub>"),
        ("<b>_x", "<i>&#60;b&#62;</i><sub>x</sub>"),
    ],
)
def test_symbol(symbol: str, markup: str) -> None:
    assert text.symbol(symbol) == markup


@pytest.mark.parametrize(("count", "shown"), [(0, "0 bars"), (1, "1 bar"), (10, "10 bars")])
def test_count(count: int, shown: str) -> None:
    assert text.counted(count, "bar") == shown


def test_irregular_count() -> None:
    assert (text.counted(1, "series", "series"), text.counted(2, "mass", "masses")) == ("1 series", "2 masses")


def _examples(test: object) -> object:
    for value in HOSTILE:
        test = example(value)(test)  # type: ignore[arg-type]
    return test


@_examples
@given(TEXTS)
def test_shown_text_is_text(value: str) -> None:
    shown = text.shown(value)
    assert isinstance(shown, Markup)
    assert html.unescape(shown) == _expected(value)
    _, page = front_matter_and_html(f"<p>{shown}</p>\n")
    paragraph = parse(page).one("p")
    assert paragraph.raw_text == _expected(value)
    assert paragraph.children == [paragraph.raw_text] or not value


@_examples
@given(TEXTS)
def test_shown_text_stays_in_an_attribute(value: str) -> None:
    _, page = front_matter_and_html(f'<div aria-label="{text.shown(value)}">\n<p>x</p>\n</div>\n')
    division = parse(page).one("div")
    assert division.attributes == {"aria-label": _expected(value)}
    assert division.text == "x"


def test_markup_and_numbers_are_left_alone() -> None:
    markup = Markup("<b>x</b>")
    assert text.shown(markup) is markup
    assert text.shown(4.0) == 4.0


@_examples
@given(TEXTS)
def test_heading_is_one_heading(value: str) -> None:
    _, page = front_matter_and_html(f"# a {text.in_heading(value)}\n\n<p>x</p>\n")
    tree = parse(page)
    assert [each.tag for each in tree if each is not tree] == ["h1", "p"]
    assert set(tree.one("h1").attributes) == {"id"}
    assert tree.one("h1").text == re.sub(" +", " ", f"a {_expected(value)}").strip()


@_examples
@given(TEXTS)
def test_title_in_front_matter_is_one_escaped_title(value: str) -> None:
    front_matter, page = front_matter_and_html(f"---\ntitle: {text.in_front_matter(value)}\n---\n\ntext\n")
    assert list(front_matter) == ["title"]
    assert parse(page).text == "text"
    title = front_matter["title"]
    assert html.unescape(title) == _expected(value)
    assert not set("<>\"'") & set(title)
    title.encode("utf-8")


def test_notice() -> None:
    words = '<script>"x"</script> & {{ y }}'
    notice = parse(text.notice(words)).one("p")
    assert notice.attributes == {"class": "nb-notice", "role": "note", "data-search-exclude": ""}
    assert notice.children == [words]
    assert text.notice("") == ""
