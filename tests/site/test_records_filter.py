"""The table of all records filtered in a browser: from a server, from a disk, by address and without a script."""

from collections.abc import Iterator

import pytest
from browser import browser, resize, served, told_by
from selenium.webdriver import Chrome
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.support.ui import Select, WebDriverWait

from conftest import DemoSite

SHOWN = """
return [...document.querySelectorAll('table.nb-records tbody tr')].filter(row => row.getClientRects().length)
  .map(row => ({...row.dataset}));
"""
ALL = "return document.querySelectorAll('table.nb-records tbody tr').length;"


@pytest.fixture(scope="module")
def chrome(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Chrome]:
    with browser(tmp_path_factory.mktemp("profile")) as found:
        yield found


@pytest.fixture(scope="module")
def address(demo_site: DemoSite) -> Iterator[str]:
    with served(demo_site.folder) as found:
        yield f"{found}/records/index.html"


def _opened(chrome: Chrome, address: str) -> None:
    chrome.get("about:blank")  # so that the same page with another part behind # is loaded anew
    chrome.get(address)
    WebDriverWait(chrome, 20).until(lambda found: found.find_element(By.CSS_SELECTOR, ".nb-filters").is_displayed())


def _choose(chrome: Chrome, key: str, value: str) -> None:
    Select(chrome.find_element(By.ID, f"nb-filter-{key}")).select_by_value(value)


def _count(chrome: Chrome) -> str:
    return chrome.find_element(By.CSS_SELECTOR, ".nb-filters .nb-count").text


@pytest.mark.parametrize("place", ["server", "disk"])
def test_rows_that_fit_all_choices_are_left(place: str, chrome: Chrome, address: str, demo_site: DemoSite) -> None:
    told_by(chrome)
    start = address if place == "server" else (demo_site.folder / "records/index.html").as_uri()
    _opened(chrome, start)
    total = chrome.execute_script(ALL)
    assert _count(chrome) == f"{total} of {total} records"
    before = [row for row in chrome.execute_script(SHOWN) if (row["material"], row["year"]) == ("pp-h", "2026")]
    _choose(chrome, "material", "pp-h")
    _choose(chrome, "year", "2026")
    rows = chrome.execute_script(SHOWN)
    assert rows == before
    assert 0 < len(rows) < total
    assert _count(chrome) == f"{len(rows)} of {total} records"
    assert chrome.current_url == f"{start}#material=pp-h&year=2026"
    # the address leads to the same rows
    _opened(chrome, chrome.current_url)
    assert chrome.execute_script(SHOWN) == rows
    chrome.find_element(By.CSS_SELECTOR, "[data-filter-reset]").click()
    assert len(chrome.execute_script(SHOWN)) == total
    assert chrome.current_url.partition("#")[2] == ""
    assert not told_by(chrome).severe


def test_choices_that_no_record_fits_are_said(chrome: Chrome, address: str) -> None:
    _opened(chrome, address)
    rows = chrome.execute_script(SHOWN)
    pairs = {(row["material"], row["group"]) for row in rows}
    material, group = next(
        (one["material"], other["group"]) for one in rows for other in rows
        if (one["material"], other["group"]) not in pairs
    )  # fmt: skip
    _choose(chrome, "material", material)
    _choose(chrome, "group", group)
    assert chrome.execute_script(SHOWN) == []
    assert _count(chrome) == f"0 of {len(rows)} records: none fits all choices"


@pytest.mark.parametrize("part", ["material=nothing-of-the-kind", "other=1&&=", "%E0%A4%A", "material"])
def test_address_that_names_no_choice_shows_all(part: str, chrome: Chrome, address: str) -> None:
    _opened(chrome, f"{address}#{part}")
    assert len(chrome.execute_script(SHOWN)) == chrome.execute_script(ALL)
    told_by(chrome)


def test_address_that_changes_changes_the_rows(chrome: Chrome, address: str) -> None:
    _opened(chrome, address)
    chrome.execute_script("location.hash = 'group=G1';")
    WebDriverWait(chrome, 20).until(lambda found: {row["group"] for row in found.execute_script(SHOWN)} == {"G1"})
    assert Select(chrome.find_element(By.ID, "nb-filter-group")).first_selected_option.text == "G1"


@pytest.mark.parametrize("width", [360, 1280])
def test_controls_are_large_enough_and_reached_by_keyboard(width: int, chrome: Chrome, address: str) -> None:
    resize(chrome, width)
    _opened(chrome, address)
    controls = chrome.find_elements(By.CSS_SELECTOR, ".nb-filters select, .nb-filters button")
    assert len(controls) == 6
    for control in controls:
        # WCAG 2.1, 2.5.5: 44 by 44 pixels
        assert control.size["height"] >= 44
        assert control.size["width"] >= 44
    controls[0].send_keys(Keys.TAB)
    assert chrome.switch_to.active_element == controls[1]
    assert chrome.execute_script("return document.documentElement.scrollWidth;") <= width


def test_without_a_script_all_rows_and_no_controls(chrome: Chrome, address: str) -> None:
    chrome.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": True})
    try:
        chrome.get("about:blank")
        chrome.get(f"{address}#material=pp-h")
        assert not chrome.find_element(By.CSS_SELECTOR, ".nb-filters").is_displayed()
        rows = chrome.find_elements(By.CSS_SELECTOR, "table.nb-records tbody tr")
        assert rows
        assert all(row.is_displayed() for row in rows)
    finally:
        chrome.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": False})
