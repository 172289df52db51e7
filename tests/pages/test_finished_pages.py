"""What a builder gets for each page: held against the page's own HTML, read by a strict parser."""

import posixpath
import re
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest
from hypothesis import given
from hypothesis import strategies as st
from markdown.extensions.toc import slugify

import hostile_handbook as hostile
import small_handbook as small
from html_tree import Element, parse
from notchbook.handbook import Handbook, open_handbook
from notchbook.pages.article import anchor, with_own_ids
from notchbook.pages.contents import contents
from notchbook.pages.finished import FinishedSite
from notchbook.pages.site import build_site

NO_TEXT = {"script", "style", "svg", "math", "template"}
IN_A_LINE = {"a", "abbr", "b", "code", "em", "i", "label", "small", "span", "strong", "sub", "sup", "time"}


ADDRESSES = [False, pytest.param(True, marks=pytest.mark.repeats)]


@pytest.fixture(scope="module", params=ADDRESSES, ids=["html", "directories"])
def site(demo: Handbook, request: pytest.FixtureRequest) -> FinishedSite:
    return build_site(demo, directory_urls=request.param)


def _found(element: Element) -> Iterator[str]:
    """What a search may find in an element, with a break between blocks."""
    for child in element.children:
        if isinstance(child, str):
            yield child
        elif child.tag not in NO_TEXT and "data-search-exclude" not in child.attributes:
            inner = "".join(_found(child))
            yield inner if child.tag in IN_A_LINE else f" {inner} " if child.tag in ("td", "th") else f"\n\n{inner}\n\n"
    return


def test_headings_are_those_of_the_page(site: FinishedSite) -> None:
    for uri, page in site.pages.items():
        tree = parse(page.body)
        found = [each for each in tree.all("h1", "h2", "h3", "h4", "h5", "h6") if "id" in each.attributes]
        own, *others = [(int(each.tag[1]), each.attributes["id"], each.text) for each in found]
        assert page.heading is not None
        assert (page.heading.level, page.heading.anchor, page.heading.title) == own, uri
        assert [(each.level, each.anchor, each.title) for each in page.headings] == others, uri
        assert all(level > 1 for level, _, _ in others), uri


def test_search_finds_the_words_of_the_page_once_and_in_their_order(site: FinishedSite) -> None:
    searched = 0
    for uri, page in site.pages.items():
        if not page.search:
            assert "wall-card" in uri
            continue
        assert [each.anchor for each in page.search] == ["", *(each.anchor for each in page.headings)], uri
        words = " ".join([page.search[0].text, *(f"{each.title} {each.text}" for each in page.search[1:])]).split()
        expected = "".join(_found(parse(page.body))).split()
        for word in parse(page.body).one("h1").text.split():  # stands in the title of the first part
            expected.remove(word)
        assert words == expected, uri
        searched += len(words)
    assert searched > 10_000


def test_body_has_notice_heading_and_day_in_their_order(site: FinishedSite, demo: Handbook) -> None:
    for uri, page in site.pages.items():
        (article,) = [each for each in parse(page.body).children if isinstance(each, Element)]
        assert article.classes == {"nb-page"}, uri
        parts = [each for each in article.children if isinstance(each, Element)]
        assert "nb-notice" in parts[0].classes, uri
        assert parts[1].tag == "h1", uri
        assert "nb-build" in parts[-1].classes, uri
        assert demo.day.isoformat() in page.body, uri


def test_links_of_computed_pages_lead_to_pages_files_and_parts_that_are_there(
    site: FinishedSite, request: pytest.FixtureRequest
) -> None:
    directories = "directories" in request.node.name
    places = {}
    for uri in site.pages:
        stem = uri.removesuffix(".md")
        index = posixpath.basename(stem) == "index"
        places[f"{stem}/index.html" if directories and not index else f"{stem}.html"] = uri
    ids = {uri: {*re.findall(r'\sid="([^"]*)"', page.body)} for uri, page in site.pages.items()}
    followed = 0
    for place, uri in places.items():
        for element in parse(site.pages[uri].body):
            for name in ("href", "src"):
                if name not in element.attributes or element.tag == "use":
                    continue
                parts = urlsplit(element.attributes[name])
                assert not parts.netloc, uri
                path = unquote(parts.path)
                target = posixpath.normpath(posixpath.join(posixpath.dirname(place), path)) if path else place
                if path.endswith("/"):
                    target = posixpath.normpath(posixpath.join(target, "index.html"))
                assert target in places or target in site.files, f"{uri}: {element.attributes[name]}"
                # what has an equals sign chooses rows of a table
                if parts.fragment and "=" not in parts.fragment:
                    assert unquote(parts.fragment) in ids[places[target]], f"{uri}: {element.attributes[name]}"
                followed += 1
    assert followed > 1000


def test_navigation_names_the_pages_that_are_listed(site: FinishedSite) -> None:
    def named(nav: object) -> set[str]:
        if isinstance(nav, str):
            return {nav}
        assert isinstance(nav, dict | list)
        return {uri for each in (nav.values() if isinstance(nav, dict) else nav) for uri in named(each)}

    assert {uri for uri, page in site.pages.items() if page.listed} == named(site.nav)


def test_title_and_found_text_are_plain_text(tmp_path: Path) -> None:
    title = "<b>PP</b> & \u202eother   kinds"
    files = small.files()
    files[small.MATERIAL]["title"] = title
    page = build_site(small.opened(tmp_path, files)).pages["materials/pp-h.md"]
    shown = "<b>PP</b> & \ufffdother kinds"
    assert page.title == shown
    assert page.search[0].title == f"{files[small.MATERIAL]['symbol']}: {shown}"
    assert page.heading is not None
    assert page.heading.title == shown


def test_hostile_texts_leave_the_parts_of_a_page_alone(tmp_path: Path) -> None:
    def parts(text: str) -> dict[str, list[str]]:
        files, _ = hostile.handbook_of(lambda _: text, lambda word: f"x{word}")
        files["mkdocs.yml"] = "plugins: [{notchbook: {deviations: label}}]"
        root = small.write(tmp_path / str(len(text)), files)
        pages = build_site(open_handbook(root, day=small.DAY)).pages
        return {uri: [each.anchor for each in page.search[1:]] for uri, page in pages.items()}

    plain = parts("plain")
    assert parts('</p><h2 id="x">x</h2><p data-search-exclude>') == plain


@pytest.mark.parametrize("title", ["What the checks say", "Größe  (J/m²)", "ISO 179-1", " - x_y - ", "<b>&"])
@given(st.text(max_size=12))
def test_anchor_is_that_of_markdown(title: str, more: str) -> None:
    """Addresses of parts of pages were made by its extension `toc`, and others rely on them."""
    for each in (title, more, title + more):
        assert anchor(each) == (slugify(each, "-") or "_1")


def test_page_gives_way_to_its_parts_where_both_have_one_id() -> None:
    page = '<h1 id="do">Do</h1><h2 id="do">Do</h2><h2 id="x">X</h2><h3 id="x">X</h3>'
    expected = '<h1 id="do_1">Do</h1><h2 id="do">Do</h2><h2 id="x">X</h2><h3 id="x_1">X</h3>'
    assert with_own_ids(page) == expected
    assert with_own_ids(expected) == expected


@pytest.mark.parametrize(
    ("page", "text"),
    [
        ("<p>a <b>b</b><sub>c</sub></p><p>d</p>", "a bc\nd"),
        ('<p title="1 > 0" class="x">a</p>', "a"),
        ("<table><tr><th>a</th><td>b</td></tr></table>", "a b"),
        ("<div data-search-exclude><div>a</div></div>b", "b"),
        ('<figure class="x" data-search-exclude>a</figure><p title="data-search-exclude">b</p>', "b"),
        ("<svg><title>a</title></svg><script>a<b></script><p>b &lt;i&gt;</p>", "b <i>"),
        ('<img src="x" alt="" data-search-exclude><p>a</p>', "a"),
        ("<h3>No part</h3><p>a</p>", "No part\na"),
    ],
)
def test_what_a_search_finds(page: str, text: str) -> None:
    (found,) = contents(page, "T").search
    assert (found.anchor, found.title, found.text) == ("", "T", text)
