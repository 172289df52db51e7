"""The guide as a part of every handbook."""

from pathlib import Path

import small_handbook as small
from notchbook.pages.addresses import Addresses
from notchbook.pages.reference.guide_texts import NAMES, TEXTS, URIS
from notchbook.pages.site import build_site


def test_every_text_of_the_package_is_a_page_and_stands_in_the_navigation() -> None:
    assert sorted(path.stem for path in TEXTS.glob("*.md")) == sorted(NAMES)


def test_a_handbook_of_ones_own_has_the_guide(tmp_path: Path) -> None:
    site = build_site(small.opened(tmp_path), directory_urls=True)
    assert {"Guide": list(URIS)} in site.nav
    page = site.pages["guide/exercise.md"]
    assert page.title == "A new exercise"
    assert 'href="../../methods/"' in page.body


def test_a_page_of_the_guide_gives_way_to_one_by_hand_and_to_nothing_else() -> None:
    addresses = Addresses.of(URIS)
    assert addresses.clash("guide/exercise.md") == ""
    assert addresses.clash("guide/our-own.md") == ""
    assert "computed" in addresses.clash("guide/exercise.html")
