"""The foot of the printed sheets of a site that was not told its address."""

from pathlib import Path

import pytest
from browser import browser, served
from printing import needs_programs, print_page, text_of
from site_building import built, copy_demo

pytestmark = [pytest.mark.repeats, needs_programs]
DAY = "2 November 2026"


@pytest.fixture(scope="module")
def published(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder in which the site is one of several."""
    root = copy_demo(tmp_path_factory.mktemp("addressless"))
    settings = root / "mkdocs.yml"
    text = settings.read_text(encoding="utf-8")
    assert "site_url: " in text
    kept = [line for line in text.splitlines(keepends=True) if not line.startswith("site_url: ")]
    settings.write_text("".join(kept), encoding="utf-8")
    folder = root / "published"
    folder.mkdir()
    built(root, "--strict").rename(folder / "lab & co")
    return folder


@pytest.mark.parametrize("page", ["index.html", "exercises/pendulum-losses.html"])
def test_address_is_the_one_that_the_page_was_opened_from(page: str, published: Path, tmp_path: Path) -> None:
    with browser(tmp_path / "profile") as chrome, served(published) as address:
        printed = print_page(chrome, f"{address}/lab%20&%20co/{page}", tmp_path / "printed.pdf")
        words = " ".join(text_of(printed).split())
        assert f"{address}/lab%20&%20co/ · state of {DAY}" in words


def test_folder_on_a_disk_prints_the_name_of_the_site(published: Path, tmp_path: Path) -> None:
    with browser(tmp_path / "profile") as chrome:
        printed = print_page(chrome, (published / "lab & co/index.html").as_uri(), tmp_path / "printed.pdf")
    words = " ".join(text_of(printed).split())
    assert f"Saltmere Impact Handbook · state of {DAY}" in words
    assert "file:" not in words
