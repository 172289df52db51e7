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


def test_a_film_is_loaded_where_a_page_shows_it_and_not_by_everybody():
    film, picture = SiteFile("rigs/how.mp4", 40_000_000, "f"), SiteFile("rigs/bench-1.jpg", 300_000, "p")
    kept = kept_files([*files(), film, picture])
    assert "rigs/bench-1.jpg" in kept.first
    assert {"rigs/how.mp4"}.isdisjoint({*kept.first, *kept.later})
    assert kept.large == (film,)


def test_what_pages_need_is_kept_whatever_its_size_and_small_pictures_before_larger_ones(monkeypatch):
    monkeypatch.setattr(module, "MOST_BYTES", 10_000_000)
    large = [SiteFile(path, 2_000_000, "l") for path in ("long.html", "own.css", "own.js", "search/search_index.json")]
    pictures = [SiteFile(f"{size}.png", size, "p") for size in (900_000, 500_000, 800_000)]
    kept = kept_files([*large, *pictures])
    assert list(kept.first) == [*(each.path for each in large), "500000.png", "800000.png"]
    assert [each.path for each in kept.large] == ["900000.png"]


@given(
    sizes=st.lists(st.integers(0, 50_000_000), max_size=30),
    ends=st.sampled_from([".html", ".css", ".mp4", ".png", ".json"]),
)
def test_all_that_is_kept_without_a_visit_has_a_bound(sizes, ends):
    named = [SiteFile(f"{'records/' * (each % 2)}{each}{ends}", size, "x") for each, size in enumerate(sizes)]
    kept = kept_files(named)
    of = {each.path: each.size for each in named}
    assert sum(of[path] for path in (*kept.first, *kept.later)) <= module.MOST_BYTES


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
    assert finish(tmp_path) == []
    first = {each.path: each.contents for each in site_files(tmp_path)}
    assert set(first) == {"search/search_index.json", "search/search_index.js", "service-worker.js"}
    finish(tmp_path)
    assert {each.path: each.contents for each in site_files(tmp_path)} == first


def test_what_phones_do_not_keep_is_said(tmp_path):
    (tmp_path / "index.html").write_text("", encoding="utf-8")
    (tmp_path / "film.mp4").write_bytes(b"0" * 2_500_000)
    assert finish(tmp_path) == ["'film.mp4' has 2.5 MB: phones do not keep it, it needs a network"]
    assert "film.mp4" not in (tmp_path / "service-worker.js").read_text("utf-8")


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
