"""What a phone loads of the built demo: as little as a first visit needs, and nothing that is not there."""

from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest
from browser import browser, served, told_by
from page_types import EXERCISES, PAGES
from selenium.webdriver import Chrome
from selenium.webdriver.support.ui import WebDriverWait

from bench.weights import INDEX, MOST_EXERCISE_kB, MOST_FIRST_VISIT_kB, kept, loaded, travelling_kB
from conftest import DemoSite
from html_tree import parse

FIRST_PAGES = ("index.html", *EXERCISES)
IN_BACKGROUND = ("assets/offline/keep.js", "service-worker.js")
"""After these a browser keeps the other files, which is no part of a visit."""


def _exercises(site: Path) -> list[str]:
    return sorted(each.relative_to(site).as_posix() for each in site.glob("exercises/*.html"))


def test_first_visit_is_light(demo_site: DemoSite) -> None:
    # the page of what is not there names all by the address of the site
    pages = [each for each in PAGES if each != "404.html"]
    weights = {each: travelling_kB(demo_site.folder, loaded(demo_site.folder, each)) for each in pages}
    assert set(FIRST_PAGES) < set(weights)
    assert {page: kB for page, kB in weights.items() if kB > MOST_FIRST_VISIT_kB} == {}
    # whoever searches at the first visit is within it as well
    assert weights["index.html"] + travelling_kB(demo_site.folder, [INDEX]) <= MOST_FIRST_VISIT_kB


def test_page_of_an_exercise_is_small(demo_site: DemoSite) -> None:
    sizes = {each: (demo_site.folder / each).stat().st_size / 1000.0 for each in _exercises(demo_site.folder)}
    assert len(sizes) > 5
    assert {page: kB for page, kB in sizes.items() if kB > MOST_EXERCISE_kB} == {}


@pytest.mark.repeats
@pytest.mark.parametrize("page", FIRST_PAGES)
def test_what_is_weighed_is_what_a_browser_loads(page: str, demo_site: DemoSite, tmp_path: Path) -> None:
    with browser(tmp_path / "profile") as chrome, served(demo_site.folder) as address:
        _without_keeping(chrome)
        chrome.get(f"{address}/{page}")
        _wait(chrome, "return document.readyState === 'complete'")
        visit = told_by(chrome)
    asked = {unquote(urlsplit(each).path).lstrip("/") for each in visit.requests if each.startswith(address)}
    assert asked - {*IN_BACKGROUND} == set(loaded(demo_site.folder, page)) - {*IN_BACKGROUND}
    assert visit.severe == []


@pytest.mark.repeats
def test_index_of_the_search_waits_for_a_search(demo_site: DemoSite, tmp_path: Path) -> None:
    with browser(tmp_path / "profile") as chrome, served(demo_site.folder) as address:
        _without_keeping(chrome)
        chrome.get(f"{address}/index.html")
        _wait(chrome, "return document.readyState === 'complete'")
        assert not [each for each in told_by(chrome).requests if each.endswith(INDEX)]
        # an address that brings its words has turned to the search already
        chrome.get(f"{address}/index.html?q=polycarbonate")
        _wait(chrome, "return document.querySelector('a.md-search-result__link')")
        visit = told_by(chrome)
    assert len([each for each in visit.requests if each.endswith(INDEX)]) == 1
    assert visit.severe == []


@pytest.mark.repeats
def test_what_is_left_out_of_the_search_holds_no_other_of_its_kind(demo_site: DemoSite) -> None:
    """The theme's search takes the end of an inner element for that of the outer one, and reads on."""
    pages = sorted(demo_site.folder.rglob("*.html"))
    assert len(pages) > 100
    for path in pages:
        for each in parse(path.read_text(encoding="utf-8")):
            if "data-search-exclude" in each.attributes:
                assert each.all(each.tag) == [], f"{path.name}: {each.tag} {each.classes}"


def test_dead_weight_of_the_theme_stays_out(demo_site: DemoSite) -> None:
    assert list(demo_site.folder.rglob("*.map")) == []
    assert list(demo_site.folder.glob("assets/javascripts/lunr/**/*")) == []


def test_phone_keeps_the_demo_whole_but_for_its_data(demo_site: DemoSite) -> None:
    background = kept(demo_site.folder)
    pages = len(list(demo_site.folder.rglob("*.html")))
    assert pages < background.files < background.all_files
    # common practice, no source: what a page with pictures weighs, for all of the handbook at once
    assert background.travels_kB < 4000.0


def _without_keeping(chrome: Chrome) -> None:
    """A browser that has no service workers, so that nothing but the page asks for files."""
    script = "delete Navigator.prototype.serviceWorker"
    chrome.execute_cdp_cmd("Page.addScriptToEvaluateOnNewDocument", {"source": script})


def _wait(chrome: Chrome, script: str) -> None:
    WebDriverWait(chrome, 20).until(lambda _: chrome.execute_script(script), script)
