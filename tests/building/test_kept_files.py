"""What a phone keeps of a site, and the version of it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from notchbook.building import kept_files as module
from notchbook.building.finishing import finish, is_dead_weight
from notchbook.building.kept_files import SiteFile, kept_files, site_files

PATHS = [
    "404.html", "assets/print.css", "assets/bundle.js.map", "data/results.csv", "exercises/a.html", "index.html",
    "lookup/bench-1.html", "records/2025-01-01.html", "records/2026-01-01.html", "search/search_index.js",
    "search/search_index.json", "service-worker.js", "sitemap.xml", "sitemap.xml.gz", "verifications/2026-01-01.html",
]  # fmt: skip


def files(**contents):
    return [SiteFile(path, 10, contents.get(path, "a")) for path in sorted(PATHS)]


def test_what_is_needed_at_a_rig_is_kept_first_and_data_on_a_visit():
    kept = kept_files(files())
    assert sorted(kept.first) == [
        "404.html", "assets/print.css", "exercises/a.html", "index.html", "search/search_index.json",
    ]  # fmt: skip
    assert list(kept.later) == [
        "lookup/bench-1.html", "records/2026-01-01.html", "records/2025-01-01.html", "verifications/2026-01-01.html",
    ]  # fmt: skip


def test_where_there_is_no_room_the_oldest_records_are_left_out(monkeypatch):
    monkeypatch.setattr(module, "MOST_BYTES", 75)
    assert list(kept_files(files()).later) == ["lookup/bench-1.html", "records/2026-01-01.html"]


@given(path=st.sampled_from(PATHS))
def test_the_version_is_another_one_when_anything_that_is_read_changes(path):
    changed = kept_files([SiteFile(each.path, 10, "b" if each.path == path else "a") for each in files()]).version
    read = not path.endswith((".map", ".gz", "sitemap.xml", "service-worker.js", "search_index.js"))
    assert (changed != kept_files(files()).version) is read


def test_the_files_of_a_site(tmp_path):
    (tmp_path / "rigs").mkdir()
    (tmp_path / "rigs/a.html").write_text("a rig", encoding="utf-8")
    (tmp_path / "index.html").write_text("", encoding="utf-8")
    (tmp_path / ".git").write_text("hidden", encoding="utf-8")
    found = site_files(tmp_path)
    assert [(each.path, each.size) for each in found] == [("index.html", 0), ("rigs/a.html", 5)]
    # FIPS 180-4: SHA-256 of the empty message begins with e3b0c442 98fc1c14
    assert found[0].contents == "e3b0c44298fc1c14"


def test_finishing_twice_changes_nothing(tmp_path):
    (tmp_path / "search").mkdir()
    (tmp_path / "search/search_index.json").write_text('{"docs":[]}', encoding="utf-8")
    finish(tmp_path)
    first = {each.path: each.contents for each in site_files(tmp_path)}
    assert set(first) == {"search/search_index.json", "search/search_index.js", "service-worker.js"}
    finish(tmp_path)
    assert {each.path: each.contents for each in site_files(tmp_path)} == first


@pytest.mark.parametrize(
    ("path", "languages", "dead"),
    [
        ("assets/javascripts/bundle.min.js.map", ["en"], True),
        ("assets/javascripts/lunr/min/lunr.fr.min.js", ["en"], True),
        ("assets/javascripts/lunr/min/lunr.fr.min.js", ["en", "fr"], False),
        ("assets/javascripts/bundle.min.js", ["en"], False),
        ("data/treasure.map", ["en"], False),
    ],
)
def test_what_no_page_asks_for(path, languages, dead):
    assert is_dead_weight(path, languages) is dead
