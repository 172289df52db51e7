"""One commit gives one site, byte for byte, wherever and whenever it is built."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from site_building import contents, environment, small_demo

from history import git, kept

pytestmark = pytest.mark.repeats

WHEN = "2026-11-05T23:30:00+05:00"
PLACES = {
    "first": {"TZ": "Pacific/Auckland", "LC_ALL": "C", "PYTHONHASHSEED": "1", "PYTHONUTF8": "0"},
    "a second place/with spaces": {"TZ": "America/Anchorage", "LC_ALL": "C.UTF-8", "PYTHONHASHSEED": "2"},
}


@pytest.fixture(scope="module")
def sites(tmp_path_factory: pytest.TempPathFactory) -> list[dict[str, bytes]]:
    """The site of one commit, built from two copies of it without a fixed day."""
    top = tmp_path_factory.mktemp("same")
    kept(small_demo(top / "origin"), when=WHEN)
    found = []
    for name, variables in PLACES.items():
        git(top, "clone", "-q", str(top / "origin"), str(top / name))
        settings = {key: value for key, value in environment(**variables).items() if key != "SOURCE_DATE_EPOCH"}
        site = top / f"out-{len(found)}"
        command = [sys.executable, "-m", "mkdocs", "build", "-q", "-d", str(site)]
        done = subprocess.run(command, cwd=top / name, env=settings, capture_output=True, check=False)
        assert done.returncode == 0, done.stderr
        found.append(contents(site))
    return found


def test_two_builds_of_a_commit_are_the_same(sites: list[dict[str, bytes]]) -> None:
    first, second = sites
    assert sorted(first) == sorted(second)
    assert [path for path in first if first[path] != second[path]] == []


def test_every_date_is_that_of_the_commit(sites: list[dict[str, bytes]]) -> None:
    site = sites[0]
    assert b'<time datetime="2026-11-05">5 November 2026</time>' in site["index.html"]
    # the sitemap has days of coordinated universal time
    assert set(site["sitemap.xml"].split(b"<lastmod>")[1:][0].split(b"<")[:1]) == {b"2026-11-05"}


def test_no_path_of_the_machine_is_in_the_site(sites: list[dict[str, bytes]], tmp_path: Path) -> None:
    here = os.fsencode(tmp_path.parent)
    assert [path for path, content in sites[0].items() if here in content] == []
