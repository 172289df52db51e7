"""Foreign text as text and nothing else."""

import html
import re

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from markupsafe import Markup

from html_tree import parse
from notchbook.pages import text
from notchbook.pages.article import notice

ACTIVE = "<>&\"'`{}[]()#*_-+!|:=~^\\\n\t 1a"
TEXTS = st.text(st.characters(exclude_categories=["Cs"]) | st.sampled_from(ACTIVE), max_size=40)
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


@pytest.mark.parametrize(
    ("symbol", "markup"),
    [
        ("a_cN", "<i>a</i><sub>cN</sub>"),
        ("a", "<i>a</i>"),
        ("a_<b>", "<i>a</i><sub>&lt;b&gt;</sub>"),
        ("<b>_x", "<i>&lt;b&gt;</i><sub>x</sub>"),
    ],
)
def test_symbol(symbol: str, markup: str) -> None:
    assert text.symbol(symbol) == markup


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
    paragraph = parse(f"<p>{shown}</p>").one("p")
    assert paragraph.raw_text == _expected(value)
    assert paragraph.children == [paragraph.raw_text] or not value


@_examples
@given(TEXTS)
def test_shown_text_stays_in_an_attribute(value: str) -> None:
    division = parse(f'<div aria-label="{text.shown(value)}">\n<p>x</p>\n</div>\n').one("div")
    assert division.attributes == {"aria-label": _expected(value)}
    assert division.text == "x"


def test_markup_and_numbers_are_left_alone() -> None:
    markup = Markup("<b>x</b>")
    assert text.shown(markup) == markup
    assert text.finalized(markup) is markup
    assert text.finalized(4.0) == 4.0


def test_notice() -> None:
    words = '<script>"x"</script> & {{ y }}'
    block = parse(notice(words)).one("p")
    assert block.attributes == {"class": "nb-notice", "role": "note", "data-search-exclude": ""}
    assert block.children == [words]
    assert notice("") == ""
