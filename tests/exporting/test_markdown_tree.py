"""Pages as one block of HTML: what CommonMark and what the Markdown of MkDocs make of them is the page itself.

CommonMark 0.31.2, 4.6; markdown-it-py follows it and passes its tests.
"""

import json
import re
import tomllib

import markdown
import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from html_tree import parse
from notchbook.exporting.markdown_tree import markdown_page, one_block, quoted
from notchbook.pages.finished import FinishedPage, SearchPart

HARD = [
    "<p>one</p>\n\n<p>two</p>",
    "<p>one</p>\n    <p>as far in as code</p>\n\n\n    \n\t<p>two</p>",
    "<pre><code>a\n\n\n    b\n\t\n  \nc\td</code></pre>\n\n<p>after</p>",
    "<textarea>\n\na\n\n</textarea>",
    '<script type="application/json">{"a": [1,\n\n2]}</script>\n\n<p># no heading, *no* emphasis, `no` code</p>',
    "<ul>\n<li>- no list</li>\n\n<li>1. none</li>\n</ul>\n***\n===\n[no]: link\n&amp; &lt;b&gt; &#42;",
    "<h2 id='x'>Two</h2>\n\n<details open><summary>s</summary>\n\n<table><tr><td>|a|</td></tr></table>\n\n</details>",
    "<math><mi>x</mi>\n\n<mo>*</mo></math><svg viewBox='0 0 1 1'>\n\n<text>_t_</text></svg>",
    "<p>::: note\n!!! warning\n[[x]] $y$ {: .z } ~~s~~ ^[n]</p>",
]


def _page(body: str, **others: object) -> FinishedPage:
    values = {"title": "T", "headings": (), "search": (SearchPart("", "T", "x"),), "boost": 1.0, "source": None}
    return FinishedPage(src_uri="a.md", body=body, listed=True, **{**values, **others})


def _text(html: str) -> list[str]:
    """The words outside code, and code character by character."""
    tree = parse(f"<div>{html}</div>")
    kept = [each.raw_text for each in tree.all("pre", "textarea")]
    return [tree.text, *kept]


def _wrapped(inner: str) -> str:
    return f'<div class="nb-page">\n{inner}\n</div>'


@pytest.mark.parametrize("inner", HARD)
def test_commonmark_leaves_a_page_as_it_is(inner: str) -> None:
    block = one_block(_wrapped(inner))
    made = MarkdownIt("commonmark").render(block + "\n")
    assert made == block + "\n"
    assert _text(made) == _text(_wrapped(inner))


@pytest.mark.parametrize("inner", HARD)
def test_the_markdown_of_mkdocs_leaves_a_page_as_it_is(inner: str) -> None:
    extensions = ["toc", "tables", "fenced_code", "attr_list", "admonition", "footnotes", "def_list", "abbr"]
    made = markdown.markdown(one_block(_wrapped(inner)), extensions=extensions)
    assert _text(made) == _text(_wrapped(inner))


@given(lines=st.lists(st.sampled_from(["", " ", "\t", "    x", "# x", "- x", "> x", "```", "<b>x</b>"]), max_size=9))
def test_no_text_of_a_page_means_anything_to_markdown(lines: list[str]) -> None:
    inner = "\n".join(lines)
    both = _wrapped(f"<p>{inner}</p>\n<pre>{inner}</pre>")
    made = MarkdownIt("commonmark").render(one_block(both) + "\n")
    assert _text(made) == _text(both)


def test_without_care_a_page_would_be_another() -> None:
    assert MarkdownIt("commonmark").render(_wrapped(HARD[1])) != _wrapped(HARD[1])


@pytest.mark.parametrize("title", ["A", 'a: "b" # c', "\\ \u2028 \x85 \ufeff é 😀", "<b> & {{ x }}", "- x", "yes"])
def test_the_head_of_a_page_says_its_title(title: str) -> None:
    page = markdown_page(_page(_wrapped("x"), title=title, hidden=frozenset({"toc", "navigation"}), boost=2.5))
    head = yaml.safe_load(re.match(r"---\n(.*?\n)---\n\n", page, re.DOTALL)[1])
    assert head["title"] == title.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;").replace('"', "&quot;")
    assert head["hide"] == ["navigation", "toc"]
    assert head["search"] == {"boost": 2.5}


def test_a_page_that_no_search_finds_says_so() -> None:
    assert "search:\n  exclude: true\n" in markdown_page(_page("x", search=()))


@given(st.text(st.characters(exclude_categories=["Cs"])))
def test_a_quoted_text_is_the_same_in_three_languages(text: str) -> None:
    assert json.loads(quoted(text)) == text
    assert yaml.safe_load(quoted(text)) == text
    assert tomllib.loads(f"a = {quoted(text)}")["a"] == text
