"""Nothing may lie where a page or file is computed, by whatever name a system takes for the same."""

import unicodedata

import pytest
from mkdocs.structure.files import File

import small_handbook as small
from notchbook.handbook import open_handbook
from notchbook.pages.addresses import FOLDERS, REPLACEABLE, Addresses, computed_addresses
from notchbook.pages.site import build_site
from notchbook.pages.written.places import in_the_way

PRINT_STYLE = "assets/print.css"
ADDRESSES = Addresses.of(
    ("index.md", "exercises/index.md", "exercises/notched-charpy.md", "rigs/bench-1.md", "checks.md", PRINT_STYLE)
)


@pytest.mark.parametrize("directory_urls", [False, True])
def test_every_file_of_the_site_has_its_place_among_them(tmp_path, directory_urls):
    handbook = open_handbook(small.write(tmp_path, small.files() | {small.SWINGS: small.swings()}))
    site = build_site(handbook, directory_urls=directory_urls)
    uris = [*site.pages, *site.files]
    others = {uri for uri in uris if uri.partition("/")[0] not in FOLDERS or "/" not in uri}
    assert computed_addresses(handbook.library) == others
    assert {uri.partition("/")[0] for uri in uris} >= set(FOLDERS)
    # MkDocs itself says where a page goes
    addresses = Addresses.of(uris)
    for uri in uris:
        place = File(uri, None, "", directory_urls).dest_uri
        assert addresses.clash(place) or uri in REPLACEABLE, uri


@pytest.mark.parametrize(
    "uri",
    [
        "exercises/notched-charpy.md", "exercises/notched-charpy.markdown", "exercises/notched-charpy.html",
        "exercises/notched-charpy/index.md", "exercises/notched-charpy/README.md",
        "exercises/notched-charpy/index.html", "exercises/Notched-Charpy.md", "EXERCISES/notched-charpy.html",
        "exercises/notched-charpy.html/picture.png", "exercises/notched-charpy.html.", "exercises./notched-charpy.md",
        "exercises /notched-charpy.md", "exercises/index.md", "exercises/README.md", "exercises.md", "exercises",
        "rigs", "checks.md", "checks/index.md", "assets/print.css", "assets/Print.css", "assets/print.css/x",
        "assets", "records/any.md", "records/any/index.md", "records/photo.jpg", "records.md", "Records/x.md",
        "data/results.json", "data/mine.csv", "data", "lookup/x.html", "verifications/x.md", "service-worker.js",
        "Service-Worker.js", "search/search_index.json", "search/search_index.js", "search", "index.html", "Index.md",
        "INDEX.html", "index.html/x.png", "\u017fervice-worker.js", "chec\u212as.md",
    ],
)  # fmt: skip
def test_what_lies_in_the_way(uri):
    assert ADDRESSES.clash(uri)


@pytest.mark.parametrize(
    "uri",
    [
        "index.md", "README.md", "index.markdown", "about.md", "exercises/before-you-begin.md", "rigs/bench-1.jpg",
        "exercises/notched-charpy.png", "exercises/notched-charpy/photo.jpg", "assets/own.css", "my-records/x.md",
        "docs/records/x.md", "database.md", "search/words.md", "theory/index.md", "records-of-2020.md", "search.md",
    ],
)  # fmt: skip
def test_what_a_department_may_write_itself(uri):
    assert ADDRESSES.clash(uri) == ""


def test_names_in_either_form_of_unicode_are_the_same():
    # ids of today are plain letters; a name that is not would be told apart by no macOS
    addresses = Addresses.of([unicodedata.normalize("NFC", "exercises/prüfung.md")])
    assert addresses.clash(unicodedata.normalize("NFD", "exercises/Prüfung.md"))


def test_a_place_that_another_plugin_gives_a_page_counts():
    assert ADDRESSES.clash("somewhere.md", "rigs/bench-1.html")
    assert ADDRESSES.clash("somewhere.md", "elsewhere.html") == ""


def placed(root, settings="", **contents):
    small.write(root, small.files())
    for name, text in contents.items():
        path = root / name.replace("__", "/").replace("_dot_", ".")
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text)
    (root / "mkdocs.yml").write_text(settings + "plugins: [notchbook]\n")
    found = in_the_way(open_handbook(root))
    return [(each.rule, each.path, each.line) for each in found if each.severity == "error"]


def test_files_of_the_pages_and_of_the_theme_are_told_all_at_once(tmp_path):
    found = placed(
        tmp_path,
        "theme: {name: x, custom_dir: own}\n",
        docs__records__x_dot_md="# 99 kJ/m2",
        docs__index_dot_md="# Ours",
        docs__data__results_dot_json="{}",
        own__data__results_dot_json="{}",
        own__assets__due_dot_js="",
        own__main_dot_html="",
        own__records__x_dot_html="",
    )
    assert found == [
        ("computed-address", "docs/data/results.json", 1),
        ("computed-address", "docs/records/x.md", 1),
        ("computed-address", "own/assets/due.js", 1),
        ("computed-address", "own/data/results.json", 1),
    ]


def test_a_folder_that_is_linked_into_the_pages_counts(tmp_path):
    (tmp_path / "more").mkdir()
    (tmp_path / "docs").mkdir()
    (tmp_path / "more/x.md").write_text("# 99 kJ/m2")
    (tmp_path / "docs/records").symlink_to("../more")
    assert placed(tmp_path) == [("computed-address", "docs/records/x.md", 1)]


def test_a_thousand_files_in_the_way_are_told_by_the_first(tmp_path):
    found = placed(tmp_path, **{f"docs__records__{number}_dot_md": "x" for number in range(1_000)})
    assert len(found) == 100
