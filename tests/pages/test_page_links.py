"""Links between pages, held against MkDocs' own addresses; the navigation; one page for every id."""

import itertools
import posixpath
from urllib.parse import unquote, urldefrag, urljoin

import pytest
from hypothesis import given
from hypothesis import strategies as st
from mkdocs.structure.files import File

from notchbook.pages.page import Links, page_name, page_uri
from notchbook.pages.site import merged_navigation

IDS = st.from_regex(r"[a-z0-9][a-z0-9.-]{0,12}", fullmatch=True)
FOLDERS = st.sampled_from(["records", "rigs", "materials"])
URIS = [
    "index.md", "checks.md", "records/index.md", "records/index_.md", "records/a.b.md", "records/readme.md",
    "rigs/index.md", "rigs/index.html_.md", "rigs/bench-1.md", "data/results.json", "assets/notchbook.css",
]  # fmt: skip


def _mkdocs_url(uri: str, *, directory_urls: bool) -> str:
    return File(uri, "docs", "site", directory_urls).url


def _resolved(here: str, link: str, *, directory_urls: bool) -> str:
    """The address that a browser goes to."""
    url = _mkdocs_url(here, directory_urls=directory_urls)
    return urljoin(f"https://site.example/{'' if url == './' else url}", link)


def _address(uri: str, *, directory_urls: bool) -> str:
    url = _mkdocs_url(uri, directory_urls=directory_urls)
    return f"https://site.example/{'' if url == './' else unquote(url)}"


@pytest.mark.parametrize("directory_urls", [False, True], ids=["html", "directories"])
@pytest.mark.parametrize(("here", "there"), list(itertools.product([u for u in URIS if u.endswith(".md")], URIS)))
def test_link_leads_where_mkdocs_puts_the_page(here: str, there: str, directory_urls: bool) -> None:
    link = Links(here, directory_urls).to(there, "part")
    target, fragment = urldefrag(_resolved(here, link, directory_urls=directory_urls))
    assert (target, fragment) == (_address(there, directory_urls=directory_urls), "part")


@given(FOLDERS, IDS, FOLDERS, IDS, st.booleans())
def test_link_to_any_object(from_folder: str, from_id: str, folder: str, object_id: str, directory_urls: bool) -> None:
    here = page_uri(from_folder, from_id)
    link = Links(here, directory_urls).of(folder, object_id)
    assert _resolved(here, link, directory_urls=directory_urls) == _address(
        page_uri(folder, object_id), directory_urls=directory_urls
    )


@given(st.sets(IDS | st.sampled_from(["index", "index.html"]), min_size=2), st.booleans())
def test_different_ids_have_different_pages_none_of_them_the_index(ids: set[str], directory_urls: bool) -> None:
    uris = [*(page_uri("rigs", each) for each in ids), "rigs/index.md"]
    destinations = [File(uri, "docs", "site", directory_urls).dest_uri for uri in uris]
    assert len(set(destinations)) == len(uris)


@pytest.mark.parametrize("object_id", ["index", "index.html", "readme", "a.b", "404", "search"])
def test_page_name(object_id: str) -> None:
    assert posixpath.basename(page_uri("rigs", object_id)) == f"{page_name(object_id)}.md"
    assert page_uri("rigs", object_id) != "rigs/index.md"


NAVIGATION = [{"Home": "index.md"}, {"Rigs": ["rigs/index.md", "rigs/bench-1.md"]}]


@pytest.mark.parametrize(
    ("written", "pages", "expected"),
    [
        (None, [], NAVIGATION),
        (None, ["about.md", "rules/local.md"], [*NAVIGATION, {"More": ["about.md", "rules/local.md"]}]),
        ([{"About": "about.md"}], ["about.md"], [*NAVIGATION, {"About": "about.md"}]),
        ([{"Here": [{"Rig": "rigs/bench-1.md"}]}], ["about.md"], [{"Here": [{"Rig": "rigs/bench-1.md"}]}]),
        (["index.md"], [], ["index.md"]),
        ([], ["about.md"], NAVIGATION),
    ],
    ids=["none", "more", "appended", "replaced", "replaced-by-path", "empty"],
)
def test_navigation_with_that_of_the_settings(written: list, pages: list[str], expected: list) -> None:
    assert merged_navigation(NAVIGATION, written, pages, {}) == expected


def test_navigation_names_the_pages_that_were_written_by_hand() -> None:
    by_hand = {"index.md": "README.md", "rigs/bench-1.md": "rigs/bench-1.md"}
    pages = ["README.md", "about.md", "rigs/bench-1.md"]
    own = [{"Home": "README.md"}, {"Rigs": ["rigs/index.md", "rigs/bench-1.md"]}]
    assert merged_navigation(NAVIGATION, None, pages, by_hand) == [*own, {"More": ["about.md"]}]
    assert merged_navigation(NAVIGATION, [{"About": "about.md"}], pages, by_hand) == [*own, {"About": "about.md"}]
    assert merged_navigation(NAVIGATION, [{"Start": "README.md"}], pages, by_hand) == [{"Start": "README.md"}]
