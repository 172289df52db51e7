"""The site that needs no builder: one article a page, links that lead somewhere, navigation, search, offline, 404."""

import json
import posixpath
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest
from exported import SETTINGS, contents, export, handbook

import small_handbook as small
from html_tree import parse
from notchbook.exporting.navigation import entries
from notchbook.exporting.search_index import search_index
from notchbook.pages.finished import FinishedPage, FinishedSite, SearchPart

NAV = "nav:\n  - Rules: [more/index.md, more/one.md]\n  - Elsewhere: https://bench.example/\n"
PAGES = {"more/index.md": "# Rules & aims\n", "more/one.md": "# One\n\n## Part\n", "own.css": "b{}", "own.js": ""}
OWN = "site_url: https://bench.example/lab/\nextra_css: [own.css]\nextra_javascript: [own.js]\ncopyright: <b>Ours</b>\n"
RECORD = f"records/{small.TEST_ID}.html"


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = handbook(tmp_path_factory.mktemp("site") / "lab", SETTINGS + NAV + OWN, PAGES)
    done = export(root, root.parent / "out", "--html")
    assert done.exit_code == 0, done.output
    return root.parent / "out"


def _pages(site: Path) -> list[str]:
    return sorted(path for path in contents(site) if path.endswith(".html"))


def test_every_page_has_one_article_and_one_heading_of_the_first_level(site: Path) -> None:
    for path in _pages(site):
        tree = parse((site / path).read_text("utf-8"))
        assert len(tree.all("article")) == len(tree.all("main")) == 1, path
        assert len(tree.all("h1")) == 1, path
        ids = [each.attributes["id"] for each in tree if "id" in each.attributes]
        assert len(ids) == len(set(ids)), path


def test_every_address_of_a_page_is_there_and_none_is_asked_of_elsewhere(site: Path) -> None:
    there = set(contents(site))
    for path in _pages(site):
        tree = parse((site / path).read_text("utf-8"))
        for each in tree:
            for key in ("href", "src"):
                address = each.attributes.get(key, "#")
                scheme, host, target, _, anchor = urlsplit(address)
                if scheme or host:
                    assert each.tag == "a" or each.attributes.get("rel") == "canonical", address
                    continue
                if path == "404.html" and target:
                    assert target.startswith("/lab/")
                    place = target.removeprefix("/lab/")
                else:
                    place = posixpath.normpath(posixpath.join(posixpath.dirname(path), unquote(target)))
                if target:
                    assert place in there, (path, address)
                elif anchor:
                    assert f'id="{unquote(anchor)}"' in (site / path).read_text("utf-8"), (path, address)


def test_the_navigation_names_the_pages_and_marks_where_one_is(site: Path) -> None:
    tree = parse((site / "more/one.html").read_text("utf-8"))
    nav = next(each for each in tree.all("nav") if each.attributes["aria-label"] == "Pages")
    here = [each for each in nav.all("a") if "aria-current" in each.attributes]
    assert [(each.text, each.attributes["aria-current"]) for each in here] == [("One", "page")]
    opened = [each for each in nav.all("details") if "open" in each.attributes]
    assert [each.one("summary").text for each in opened] == ["Rules"]
    assert "https://bench.example/" in [each.attributes["href"] for each in nav.all("a")]
    toc = next(each for each in tree.all("nav") if each.attributes["aria-label"] == "Contents")
    assert [each.attributes["href"] for each in toc.all("a")] == ["#part"]


def test_a_page_that_the_navigation_leaves_out_belongs_to_the_index_of_its_folder(site: Path) -> None:
    tree = parse((site / RECORD).read_text("utf-8"))
    here = [each for each in tree.all("a") if "aria-current" in each.attributes]
    assert [(each.attributes["href"], each.attributes["aria-current"]) for each in here] == [("index.html", "true")]


def test_titles_are_text_and_the_copyright_is_the_line_of_html_that_it_is_elsewhere(site: Path) -> None:
    text = (site / "more/index.html").read_text("utf-8")
    assert "<title>Rules &amp; aims - Bench</title>" in text
    assert "<p><b>Ours</b></p>" in text
    assert '<link rel="canonical" href="https://bench.example/lab/more/index.html">' in text


def test_own_styles_come_after_those_of_the_handbook(site: Path) -> None:
    tree = parse((site / "index.html").read_text("utf-8"))
    styles = [each.attributes["href"] for each in tree.all("link") if each.attributes["rel"] == "stylesheet"]
    assert (styles[0], styles[-1]) == ("frame/frame.css", "own.css")
    assert not [each for each in styles if "theme" in each]


def test_the_page_for_what_is_not_there_says_what_other_builders_say(site: Path) -> None:
    assert parse((site / "404.html").read_text("utf-8")).one("article").text == "404 - Not found"


def test_it_is_kept_by_phones_and_known_to_robots(site: Path) -> None:
    worker = (site / "service-worker.js").read_text("utf-8")
    kept = json.loads(worker.partition("const SITE = ")[2].partition(";\n")[0])
    assert {"index.html", "404.html", "frame/frame.css", "frame/search.js", "search/pages.js"} <= set(kept["first"])
    assert RECORD in kept["later"]
    assert "pages.json" not in kept["first"]
    assert f"<loc>https://bench.example/lab/{RECORD}</loc>" in (site / "sitemap.xml").read_text("utf-8")


def test_two_exports_are_the_same(site: Path, tmp_path: Path) -> None:
    root = handbook(tmp_path / "other", SETTINGS + NAV + OWN, PAGES)
    export(root, tmp_path / "out", "--html")
    assert contents(tmp_path / "out") == contents(site)


def _page(place: str, title: str = "T", *parts: tuple[str, str, str], listed: bool = True) -> FinishedPage:
    return FinishedPage(place, title, "", (), tuple(SearchPart(*each) for each in parts), 1.0, None, listed)


def test_the_index_of_the_search_is_a_script_of_plain_data() -> None:
    pages = [
        _page("records/2026-10-06-g2.md", "A </script> \u2028", ("", "A", "one\n two"), ("b", "B", "three")),
        _page("hidden.md"),
    ]
    text = search_index(pages)
    found = json.loads(text.removeprefix("self.notchbookPages = ").removesuffix(";\n"))
    assert found == [
        [
            "records/2026-10-06-g2.html", "A </script> \u2028", 1.0, "2026-10-06",
            [["", "A", "one two"], ["b", "B", "three"]],
        ]
    ]  # fmt: skip


def test_a_navigation_of_any_form_is_a_tree() -> None:
    pages = {each: _page(each, each.title()) for each in ("a.md", "b/index.md", "b/c.md", "b/d.md")}
    nav = [{"A": "a.md"}, {"B": ["b/index.md", {"Deep": [{"C": "b/c.md"}]}]}, "b/d.md", {"None": None}]
    found = entries(FinishedSite(pages, {}, nav), "b/c.md")
    assert [each.title for each in found] == ["A", "B", "B/D.Md", "None"]
    assert (found[1].place, found[1].is_open, found[1].is_here) == ("b/index.md", True, False)
    assert found[1].below[0].below[0].is_here
    assert not found[3].below
