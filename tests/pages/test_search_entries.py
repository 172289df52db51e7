"""Entries of finished pages in the indices of both searches: as their own parsers keep a page, without parsing it."""

import html
import json
import re
from types import SimpleNamespace
from typing import Any

import pytest
from material.plugins.search.plugin import SearchIndex as ThemeIndex
from mkdocs.contrib.search.search_index import SearchIndex as PlainIndex
from mkdocs.structure.toc import get_toc

from notchbook.handbook import Handbook
from notchbook.pages.finished import FinishedPage, SearchPart
from notchbook.pages.search_entries import fed, search_languages
from notchbook.pages.toc import toc_tokens

PAGE = FinishedPage(
    "a.md", "A & <b>", "<p>never parsed</p>", (),
    (SearchPart("", "A & <b>", "one < two\nthree"), SearchPart("x", "X", "four")), 1.5, None, True,
)  # fmt: skip
FIELDS: dict[str, Any] = {"lang": ["en"], "separator": "x", "pipeline": [], "fields": {}}


def _of(page: FinishedPage) -> Any:
    toc = get_toc(toc_tokens(page))  # type: ignore[arg-type]
    return SimpleNamespace(url="a.html", content=page.body, title=html.escape(page.title), meta={}, toc=toc)


def _docs(index: Any, *previous: None) -> list[dict[str, Any]]:
    docs: list[dict[str, Any]] = json.loads(index.generate_search_index(*previous))["docs"]
    return docs


def test_theme_gets_html_and_the_boost() -> None:
    index = ThemeIndex(**FIELDS)
    fed(index, lambda _: PAGE)
    index.add_entry_from_context(_of(PAGE))
    assert _docs(index, None) == [
        {"location": "a.html", "title": "A &amp; &lt;b&gt;", "text": "<p>one &lt; two</p> <p>three</p>", "boost": 1.5},
        {"location": "a.html#x", "title": "X", "text": "<p>four</p>", "boost": 1.5},
    ]


@pytest.mark.parametrize(
    ("indexing", "texts"),
    [("full", ["A & <b> one < two three X four", "four"]), ("sections", ["", ""]), ("titles", [""])],
)
def test_plain_search_gets_text(indexing: str, texts: list[str]) -> None:
    index = PlainIndex(indexing=indexing, prebuild_index=False)
    fed(index, lambda _: PAGE)
    index.add_entry_from_context(_of(PAGE))
    assert [each["text"] for each in _docs(index)] == texts
    assert [each["location"] for each in _docs(index)] == ["a.html", "a.html#x"][: len(texts)]


@pytest.mark.parametrize("index", [ThemeIndex(**FIELDS), PlainIndex(indexing="full", prebuild_index=False)])
def test_other_pages_are_parsed(index: Any) -> None:
    fed(index, lambda _: None)
    index.add_entry_from_context(SimpleNamespace(url="b.html", content="<p>mine</p>", title="B", meta={}, toc=[]))
    (entry,) = _docs(index, *([None] if isinstance(index, ThemeIndex) else []))
    assert (entry["location"], entry["title"]) == ("b.html", "B")
    assert "mine" in entry["text"]


def test_page_that_no_search_finds_has_no_entry() -> None:
    nothing = FinishedPage("a.md", "A", "<p>x</p>", (), (), 0.0, None, False)
    for index in (ThemeIndex(**FIELDS), PlainIndex(indexing="full", prebuild_index=False)):
        fed(index, lambda _: nothing)
        index.add_entry_from_context(_of(nothing))
        assert _docs(index, *([None] if isinstance(index, ThemeIndex) else [])) == []


def test_index_of_another_form_is_left_alone() -> None:
    other = SimpleNamespace(add_entry_from_context=list.append)
    for index in (None, SimpleNamespace(), other):
        fed(index, lambda _: PAGE)
    assert other.add_entry_from_context is list.append


def test_entries_are_those_that_the_theme_would_parse_but_for_spaces_and_titles(demo: Handbook) -> None:
    """Same places and same letters; the theme's parser puts the words of neighbouring cells together."""
    from notchbook.pages.site import build_site

    def letters(text: str) -> str:
        return re.sub(r"\s", "", html.unescape(re.sub("<[^>]*>", "", text)))

    compared = 0
    for page in build_site(demo).pages.values():
        if not page.search:
            continue
        parsed, ours = ThemeIndex(**FIELDS), ThemeIndex(**FIELDS)
        fed(ours, lambda _, page=page: page)
        for index in (parsed, ours):
            index.add_entry_from_context(_of(page))
        # to the theme's parser the notice above the heading is the page, and the heading a part of it
        before, own, *parts = _docs(parsed, None)
        whole, *others = _docs(ours, None)
        assert (before["location"], before["text"].strip()) == (whole["location"], "")
        assert [each["location"] for each in parts] == [each["location"] for each in others], page.src_uri
        # what stands below a part inside a block belongs to the part around it there, and to the part here
        texts = ["".join(each["text"] for each in docs) for docs in ([own, *parts], [whole, *others])]
        assert sorted(letters(texts[0])) == sorted(letters(texts[1])), page.src_uri
        compared += len(parts)
    assert compared > 500


@pytest.mark.parametrize(("lang", "found"), [(None, ["en"]), ("de", ["de"]), (["en", "fr"], ["en", "fr"])])
def test_languages(lang: object, found: list[str]) -> None:
    assert search_languages(SimpleNamespace(config={"lang": lang})) == found
    assert search_languages(None) == ["en"]
