"""The site that needs no builder in a browser: read, searched, printed, on a phone, from a disk, without a script."""

import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from browser import browser, missing, prefer, resize, served, told_by
from exported_demo import export
from page_types import EXERCISES, PAGES, RECORDS
from printing import needs_programs, print_page, sheets
from selenium.webdriver import Chrome
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.support.ui import WebDriverWait

from conftest import DemoSite
from repeating import repeated

AXE = Path(sys.prefix) / "axe/node_modules/axe-core/axe.min.js"
RUN = """
const done = arguments[0], options = {rules: {'target-size': {enabled: true}}, resultTypes: ['violations']};
axe.run(document, options).then(found => done(found.violations.flatMap(
  each => each.nodes.map(node => `${each.id}: ${node.target.join(' ')}: ${node.failureSummary}`))));
"""
PRINTED = (
    *EXERCISES, *RECORDS, "rigs/bench-2--wall-card.html", "lookup/bench-2--izod-1.html",
    "verifications/2026-09-08-bench-1-charpy-1.html", "checks.html",
)  # fmt: skip


@pytest.fixture(scope="module")
def chrome(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Chrome]:
    with browser(tmp_path_factory.mktemp("profile")) as found:
        found.set_script_timeout(60)
        yield found


@pytest.fixture(scope="module")
def folder(demo_site: DemoSite, tmp_path_factory: pytest.TempPathFactory) -> Path:
    # without an address, so that the page for what is not there can be shown here
    settings = demo_site.root / "mkdocs.yml"
    text = settings.read_text("utf-8")
    try:
        settings.write_text(text.replace("https://handbook.saltmere.example/", ""), encoding="utf-8")
        return export(demo_site.root, tmp_path_factory.mktemp("frame") / "site", "--html")
    finally:
        settings.write_text(text, encoding="utf-8")


@pytest.fixture(scope="module")
def address(folder: Path) -> Iterator[str]:
    with served(folder) as found:
        yield found


def _wait(chrome: Chrome, script: str) -> Any:
    return WebDriverWait(chrome, 20).until(lambda _: chrome.execute_script(script), script)


def _results(chrome: Chrome, query: str) -> list[str]:
    field = chrome.find_element(By.ID, "nb-query")
    field.clear()
    field.send_keys(query)
    _wait(chrome, "return document.getElementById('nb-found').textContent !== ''")
    # read at once: the list is made anew with every letter
    script = "return Array.from(document.querySelectorAll('.nb-results strong'), each => each.innerText)"
    found: list[str] = chrome.execute_script(script)
    return found


@pytest.mark.parametrize("width", repeated([360, 1280], but=[360]))
@pytest.mark.parametrize("name", repeated(PAGES, but=EXERCISES[:1]))
def test_a_page_fits_asks_nobody_else_and_has_no_barrier(name: str, width: int, chrome: Chrome, address: str) -> None:
    resize(chrome, width)
    prefer(chrome, "light")
    told_by(chrome)
    chrome.get(f"{address}/{name}")
    assert chrome.execute_script("return document.documentElement.scrollWidth") <= width
    visit = told_by(chrome)
    assert visit.severe == []
    assert not [each for each in visit.requests if not each.startswith((address, "data:"))]
    if not AXE.is_file():
        missing("axe-core is not at hand: `make test` fetches it where there is npm")
    chrome.execute_script(AXE.read_text("utf-8"))
    for scheme in ("light", "dark"):
        prefer(chrome, scheme)
        assert chrome.execute_async_script(RUN) == []


def test_the_search_works_from_a_disk(chrome: Chrome, folder: Path) -> None:
    resize(chrome, 1280)
    chrome.get((folder / "guide/commands.html").as_uri())
    assert _results(chrome, "hips izod")[0].startswith("PS-HI, Notched bars in a clamp (Izod)")
    # beginnings of words, in any case, and all of them
    assert any(each.startswith("Bench pendulum 2") for each in _results(chrome, "BENCH pend 2"))
    assert _results(chrome, "pendulum xylophone") == []
    assert "No page" in chrome.find_element(By.CSS_SELECTOR, ".nb-results").text


def test_of_pages_that_fit_alike_the_newest_comes_first(chrome: Chrome, folder: Path) -> None:
    chrome.get((folder / "index.html").as_uri())
    _results(chrome, "PP-H notched bars supports")
    links = [each.get_attribute("href") for each in chrome.find_elements(By.CSS_SELECTOR, ".nb-results a")]
    days = [each.rpartition("/records/")[2][:10] for each in links if "/records/20" in each]
    assert len(days) > 3
    assert days == sorted(days, reverse=True)


def test_results_are_reached_by_keys(chrome: Chrome, folder: Path) -> None:
    chrome.get((folder / "about.html").as_uri())
    chrome.find_element(By.TAG_NAME, "body").send_keys("/")
    assert chrome.switch_to.active_element.get_attribute("id") == "nb-query"
    first = _results(chrome, "losses")[0]
    chrome.switch_to.active_element.send_keys(Keys.ARROW_DOWN)
    assert chrome.switch_to.active_element.find_element(By.TAG_NAME, "strong").text == first
    chrome.switch_to.active_element.send_keys(Keys.ESCAPE)
    assert chrome.switch_to.active_element.get_attribute("id") == "nb-query"
    chrome.switch_to.active_element.send_keys(Keys.ENTER)
    _wait(chrome, "return !location.pathname.endsWith('/about.html')")


def test_without_scripts_pages_are_read_and_reached(chrome: Chrome, address: str) -> None:
    chrome.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": True})
    try:
        resize(chrome, 360)
        chrome.get(f"{address}/index.html")
        assert not chrome.find_element(By.CSS_SELECTOR, ".nb-search").is_displayed()
        chrome.find_element(By.CSS_SELECTOR, ".nb-side summary").click()
        chrome.find_element(By.XPATH, "//nav[@aria-label='Pages']//summary[text()='Results']").click()
        chrome.find_element(By.XPATH, "//nav[@aria-label='Pages']//a[text()='Results: overview']").click()
        assert chrome.current_url.endswith("/records/index.html")
    finally:
        chrome.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": False})


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_a_caution_looks_like_one_where_there_is_nothing_but_the_handbooks_own_style(
    scheme: str, chrome: Chrome, folder: Path, tmp_path: Path
) -> None:
    style = (folder / "assets/notchbook.css").as_uri()
    bare = tmp_path / "bare.html"
    bare.write_text(
        f'<!doctype html><meta name="color-scheme" content="light dark"><link rel="stylesheet" href="{style}">'
        '<div class="nb-page"><p class="nb-caution">Stop</p><p class="nb-small">small</p></div>',
        encoding="utf-8",
    )
    prefer(chrome, scheme)
    chrome.get(bare.as_uri())
    script = "const s = getComputedStyle(document.querySelector(arguments[0])); return s[arguments[1]];"
    edge, ground, size = (
        chrome.execute_script(script, *each)
        for each in ((".nb-caution", "borderLeftColor"), (".nb-caution", "backgroundColor"), (".nb-small", "fontSize"))
    )
    expected = {"light": ("rgb(138, 59, 0)", "rgb(253, 241, 227)"), "dark": ("rgb(255, 184, 113)", "rgb(58, 44, 28)")}
    assert (edge, ground) == expected[scheme]
    assert float(size.removesuffix("px")) > 12


@needs_programs
@pytest.mark.parametrize("name", repeated(PRINTED, but=EXERCISES[:1]))
def test_sheets_are_those_of_the_plugins_site(
    name: str, chrome: Chrome, address: str, demo_site: DemoSite, tmp_path: Path
) -> None:
    own = sheets(print_page(chrome, f"{address}/{name}", tmp_path / "own.pdf"))
    with served(demo_site.folder) as other:
        theirs = sheets(print_page(chrome, f"{other}/{name}", tmp_path / "theirs.pdf"))
    assert len(own) == len(theirs)
    assert [each.size_pt for each in own] == [each.size_pt for each in theirs]
