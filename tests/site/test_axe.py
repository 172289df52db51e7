"""Barriers that axe-core finds in the built pages: WCAG 2.2 to level AA and its own list of good practice.

axe-core (Deque, MPL 2.0) is fetched by `make test` and is no part of this repository. Its rule for the size of targets
(WCAG 2.2, 2.5.8) is off by default and on here.
"""

import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from browser import browser, missing, prefer, resize, served
from page_types import FIRST_LOOKED_AT, PAGES
from selenium.webdriver import Chrome
from selenium.webdriver.common.by import By
from selenium.webdriver.support.ui import WebDriverWait

from conftest import DemoSite
from repeating import repeated

PROGRAM = Path(sys.prefix) / "axe/node_modules/axe-core/axe.min.js"
SCHEMES = (("light", "default"), ("dark", "slate"))
# Nothing but colours differs between the schemes, so that the second is looked at for these alone.
COLOURS = ["color-contrast", "link-in-text-block"]
RUN = """
const [only, done] = arguments, options = {rules: {'target-size': {enabled: true}}, resultTypes: ['violations']};
axe.run(document, only.length ? {...options, runOnly: only} : options).then(found => done(
  found.violations.flatMap(each => each.nodes.map(
    node => `${each.id}: ${node.target.join(' ')}: ${node.failureSummary}`))
));
"""


@pytest.fixture(scope="module")
def axe() -> str:
    """The program's text; skips the tests where it is missing, but fails them where CI=true."""
    if not PROGRAM.is_file():
        missing("axe-core is not at hand: `make test` fetches it where there is npm")
    return PROGRAM.read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def chrome(axe: str, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Chrome]:  # noqa: ARG001  # skips before
    with browser(tmp_path_factory.mktemp("profile")) as found:
        found.set_script_timeout(60)
        yield found


@pytest.fixture(scope="module")
def address(demo_site: DemoSite) -> Iterator[str]:
    with served(demo_site.folder) as found:
        yield found


def _open(chrome: Chrome, address: str, axe: str, width: int) -> None:
    resize(chrome, width, 740)
    prefer(chrome, "light")
    chrome.get(address)
    chrome.execute_script(axe)


def _barriers(chrome: Chrome) -> list[str]:
    """In light and in dark."""
    barriers = []
    for scheme, called in SCHEMES:
        prefer(chrome, scheme)
        _wait(chrome, f"return document.body.dataset.mdColorScheme === '{called}'")
        found: list[str] = chrome.execute_async_script(RUN, COLOURS if scheme == "dark" else [])
        barriers += [f"{scheme}: {each}" for each in found]
    return barriers


def _wait(chrome: Chrome, script: str) -> Any:
    return WebDriverWait(chrome, 20).until(lambda _: chrome.execute_script(script), script)


@pytest.mark.parametrize("width", repeated([360, 1280], but=[360]))
@pytest.mark.parametrize("name", repeated(PAGES, but=FIRST_LOOKED_AT[:1]))
def test_page_has_no_barrier(name: str, width: int, chrome: Chrome, address: str, axe: str) -> None:
    _open(chrome, f"{address}/{name}", axe, width)
    assert not _barriers(chrome)


def test_open_navigation_has_no_barrier(chrome: Chrome, address: str, axe: str) -> None:
    _open(chrome, f"{address}/exercises/notched-charpy.html", axe, 360)
    chrome.find_element(By.CSS_SELECTOR, "label.md-header__button[for=__drawer]").click()
    _wait(chrome, "return document.querySelector('.md-sidebar--primary').getBoundingClientRect().left === 0")
    assert not _barriers(chrome)


@pytest.mark.parametrize("width", repeated([360, 1280], but=[360]))
def test_search_with_results_has_no_barrier(width: int, chrome: Chrome, address: str, axe: str) -> None:
    _open(chrome, f"{address}/index.html", axe, width)
    if width == 360:
        chrome.find_element(By.CSS_SELECTOR, "label.md-header__button[for=__search]").click()
    query = chrome.find_element(By.CSS_SELECTOR, "[data-md-component=search-query]")
    WebDriverWait(chrome, 20).until(lambda _: query.is_displayed())
    query.send_keys("pendulum")
    _wait(chrome, "return document.querySelector('a.md-search-result__link')")
    assert not _barriers(chrome)


def test_opened_parts_of_an_exercise_have_no_barrier(chrome: Chrome, address: str, axe: str) -> None:
    _open(chrome, f"{address}/exercises/notched-charpy.html", axe, 360)
    chrome.execute_script("for (const each of document.querySelectorAll('article details')) each.open = true;")
    chrome.find_element(By.CSS_SELECTOR, ".nb-tick").click()
    assert not _barriers(chrome)


def test_a_barrier_would_be_found(chrome: Chrome, address: str, axe: str) -> None:
    _open(chrome, f"{address}/about.html", axe, 360)
    chrome.execute_script("""
      document.querySelector('article').insertAdjacentHTML('beforeend',
        '<button style="width: 10px; height: 10px"></button><button style="width: 10px; height: 10px">x</button>');
    """)
    found = {each.split(": ")[1] for each in _barriers(chrome)}
    assert found >= {"button-name", "target-size"}
