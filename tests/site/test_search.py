"""The site's own search in a browser: what somebody at a rig looks for stands first."""

from collections.abc import Iterator

import pytest
import yaml
from browser import browser, served
from selenium.webdriver import Chrome
from selenium.webdriver.support.ui import WebDriverWait

from conftest import DemoSite

FOUND = """
const links = [...document.querySelectorAll('.md-search-result__item > a.md-search-result__link')];
return links.map(each => new URL(each.href).pathname.slice(1));
"""


@pytest.fixture(scope="module")
def searched(demo_site: DemoSite, tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Chrome, str]]:
    with browser(tmp_path_factory.mktemp("profile")) as chrome, served(demo_site.folder) as address:
        yield chrome, address


def _first(searched: tuple[Chrome, str], words: str) -> list[str]:
    """The pages that are found, the best first."""
    chrome, address = searched
    chrome.get(f"{address}/index.html?q={words.replace(' ', '+')}")
    WebDriverWait(chrome, 30).until(lambda _: chrome.execute_script(FOUND), words)
    found: list[str] = chrome.execute_script(FOUND)
    return found


def _records(demo_site: DemoSite) -> list[tuple[str, str, str, str]]:
    """Day, id, material and group of every record, the newest first."""
    read = {
        path.stem: yaml.safe_load(path.read_text("utf-8")) for path in (demo_site.root / "results/tests").glob("*.yaml")
    }
    lines = [(str(each["date"]), name, each["material"], each["group"]) for name, each in read.items()]
    return sorted(lines, reverse=True)


@pytest.mark.parametrize("word", ["PC", "polycarbonate"])
def test_material_leads_with_its_page(word: str, searched: tuple[Chrome, str]) -> None:
    assert _first(searched, word)[0] == "materials/pc.html"


def test_symbol_leads_with_the_newest_records_behind_the_page(
    searched: tuple[Chrome, str], demo_site: DemoSite
) -> None:
    newest = [name for _, name, material, _ in _records(demo_site) if material == "pc"][:3]
    assert _first(searched, "PC")[1:4] == [f"records/{each}.html" for each in newest]


def test_group_leads_with_its_newest_records(searched: tuple[Chrome, str], demo_site: DemoSite) -> None:
    newest = [name for _, name, _, group in _records(demo_site) if group == "G3"][:3]
    assert len(newest) == 3
    assert _first(searched, "G3")[:3] == [f"records/{each}.html" for each in newest]


def test_date_leads_with_its_records(searched: tuple[Chrome, str], demo_site: DemoSite) -> None:
    day, name, *_ = _records(demo_site)[2]
    year, month, number = day.split("-")
    assert month == "10"
    assert _first(searched, f"{int(number)} October {year}")[0] == f"records/{name}.html"
    assert _first(searched, f"October {year}")[0] == f"records/{_records(demo_site)[0][1]}.html"
