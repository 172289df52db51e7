"""`notchbook finish` on sites of other builders."""

from pathlib import Path

import pytest
from click.testing import CliRunner

import small_handbook as small
from notchbook.cli import main

SITE = {"index.html": "<p>x", "assets/notchbook.css": "x", "records/2026-01-01.html": "x"}


def test_a_site_of_mkdocs_gets_both(tmp_path: Path) -> None:
    small.write(tmp_path, {**SITE, "search/search_index.json": '{"docs": []}'})
    done = CliRunner().invoke(main, ["finish", str(tmp_path)])
    assert done.exit_code == 0, done.output
    assert (tmp_path / "search/search_index.js").read_text("utf-8") == 'var __index = {"docs": []}'
    first = (tmp_path / "service-worker.js").read_text("utf-8").splitlines()[0]
    assert '"records/2026-01-01.html"' in first
    again = CliRunner().invoke(main, ["finish", str(tmp_path)])
    assert again.exit_code == 0
    assert (tmp_path / "service-worker.js").read_text("utf-8").splitlines()[0] == first


def test_a_site_with_another_search_gets_the_service_worker_and_is_told(tmp_path: Path) -> None:
    done = CliRunner().invoke(main, ["finish", str(small.write(tmp_path, {**SITE, "search.json": "{}"}))])
    assert done.exit_code == 0
    assert (tmp_path / "service-worker.js").is_file()
    assert "its search works only with a server" in done.output


@pytest.mark.parametrize("files", [{"index.html": "x"}, {"a.txt": "x"}, {**SITE, ".unfinished-site": ""}])
def test_what_is_no_whole_site_of_a_handbook_is_left_alone(tmp_path: Path, files: dict[str, str]) -> None:
    small.write(tmp_path, files)
    done = CliRunner().invoke(main, ["finish", str(tmp_path)])
    assert done.exit_code == 2
    assert "is no whole site of a handbook" in done.output
    assert not (tmp_path / "service-worker.js").exists()
