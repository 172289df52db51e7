"""Steps of an exercise ticked off in a browser: remembered on the device, cleared for the next class, never broken."""

import datetime as dt
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from browser import browser, resize, served, told_by
from selenium.webdriver import Chrome
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

from conftest import DemoSite

EXERCISE = "exercises/notched-charpy.html"
TICKED = "return [...document.querySelectorAll('.nb-tick')].flatMap((box, place) => box.checked ? [place] : []);"
REWRITE = """
const key = Object.keys(localStorage).find(each => each.includes('#steps-'));
localStorage.setItem(key, JSON.stringify({...JSON.parse(localStorage.getItem(key)), ...arguments[0]}));
"""
TOTAL = "return document.querySelectorAll('.nb-tick').length;"


@pytest.fixture(scope="module")
def chrome(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Chrome]:
    with browser(tmp_path_factory.mktemp("profile")) as found:
        resize(found, 360, 740)
        yield found


@pytest.fixture(scope="module")
def address(demo_site: DemoSite) -> Iterator[str]:
    with served(demo_site.folder) as found:
        yield found


@pytest.fixture(autouse=True)
def nothing_remembered(chrome: Chrome, address: str) -> None:
    chrome.get(f"{address}/about.html")
    chrome.execute_script("localStorage.clear();")
    told_by(chrome)


def _tick(chrome: Chrome, *places: int) -> None:
    """With a thumb on the words of the step, not on the box."""
    labels = chrome.find_elements(By.CSS_SELECTOR, ".nb-step > span")
    for place in places:
        labels[place].click()


def _said(chrome: Chrome) -> str:
    return chrome.find_element(By.CSS_SELECTOR, ".nb-progress [role=status]").text


def _button(chrome: Chrome) -> Any:
    return chrome.find_element(By.CSS_SELECTOR, ".nb-progress button")


@pytest.mark.parametrize("place", ["server", "disk"])
def test_ticks_stay_until_they_are_cleared(place: str, chrome: Chrome, address: str, demo_site: DemoSite) -> None:
    page = f"{address}/{EXERCISE}" if place == "server" else (demo_site.folder / EXERCISE).as_uri()
    chrome.get(page)
    chrome.execute_script("localStorage.clear();")
    chrome.get(page)
    total = chrome.execute_script(TOTAL)
    assert total > 10
    assert _said(chrome) == f"0 of {total} done"
    assert not _button(chrome).is_enabled()
    _tick(chrome, 0, 2, total - 1)
    assert _said(chrome) == f"3 of {total} done"
    chrome.get(page)
    assert chrome.execute_script(TICKED) == [0, 2, total - 1]
    assert _said(chrome) == f"3 of {total} done"
    _button(chrome).click()
    assert chrome.execute_script(TICKED) == []
    assert _said(chrome) == f"0 of {total} done"
    # pressed by mistake: the same button brings them back
    _button(chrome).click()
    assert chrome.execute_script(TICKED) == [0, 2, total - 1]
    _button(chrome).click()
    chrome.get(page)
    assert chrome.execute_script(TICKED) == []
    assert not told_by(chrome).severe


def test_ticks_belong_to_one_exercise_and_one_site(chrome: Chrome, demo_site: DemoSite, tmp_path: Path) -> None:
    # two handbooks of one address; the demo's own folder is read by others meanwhile
    for name in ("one", "other"):
        shutil.copytree(demo_site.folder, tmp_path / name)
    with served(tmp_path) as address:
        chrome.get(f"{address}/one/{EXERCISE}")
        _tick(chrome, 1)
        chrome.get(f"{address}/one/exercises/notched-izod.html")
        assert chrome.execute_script(TICKED) == []
        chrome.get(f"{address}/other/{EXERCISE}")
        assert chrome.execute_script(TICKED) == []
        chrome.get(f"{address}/one/{EXERCISE}")
        assert chrome.execute_script(TICKED) == [1]


def test_a_changed_procedure_begins_unticked_and_says_so(chrome: Chrome, address: str) -> None:
    chrome.get(f"{address}/{EXERCISE}")
    _tick(chrome, 0, 1)
    # as if the ticks had been set before the change
    chrome.execute_script(REWRITE, {"version": "of an earlier wording"})
    chrome.get(f"{address}/{EXERCISE}")
    assert chrome.execute_script(TICKED) == []
    assert "The procedure has changed" in _said(chrome)
    _tick(chrome, 0)
    assert "changed" not in _said(chrome)
    chrome.get(f"{address}/{EXERCISE}")
    assert chrome.execute_script(TICKED) == [0]


def test_ticks_of_another_day_say_when_they_were_set(chrome: Chrome, address: str) -> None:
    chrome.get(f"{address}/{EXERCISE}")
    _tick(chrome, 0)
    noon = dt.datetime(2026, 3, 5, 12, tzinfo=dt.UTC)
    chrome.execute_script(REWRITE, {"time_ms": noon.timestamp() * 1000})
    chrome.get(f"{address}/{EXERCISE}")
    assert chrome.execute_script(TICKED) == [0]
    assert _said(chrome).endswith("Ticked last on 5 March 2026.")


def test_a_step_is_ticked_by_keyboard(chrome: Chrome, address: str) -> None:
    chrome.get(f"{address}/{EXERCISE}")
    box = chrome.find_elements(By.CSS_SELECTOR, ".nb-tick")[3]
    box.send_keys(Keys.SPACE)
    assert chrome.execute_script(TICKED) == [3]
    # its name is what is to be done
    step = chrome.find_elements(By.CSS_SELECTOR, ".nb-step > span")[3].text
    assert box.accessible_name == step


@pytest.mark.parametrize("kept", ["not json", "null", "7", '{"ticked": 3}', '{"version": "x"}'])
def test_what_is_remembered_may_be_anything(kept: str, chrome: Chrome, address: str) -> None:
    chrome.get(f"{address}/{EXERCISE}")
    _tick(chrome, 0)
    chrome.execute_script("for (const key of Object.keys(localStorage)) localStorage.setItem(key, arguments[0]);", kept)
    chrome.get(f"{address}/{EXERCISE}")
    assert chrome.execute_script(TICKED) == []
    assert _said(chrome).startswith("0 of ")
    assert not [each for each in told_by(chrome).severe if "steps.js" in each]


def test_a_browser_that_keeps_nothing_says_so(chrome: Chrome, address: str) -> None:
    blocked = chrome.execute_cdp_cmd(
        "Page.addScriptToEvaluateOnNewDocument",
        {"source": "Object.defineProperty(window, 'localStorage', {get() { throw new DOMException('no'); }});"},
    )
    try:
        chrome.get(f"{address}/{EXERCISE}")
        _tick(chrome, 0)
        assert chrome.execute_script(TICKED) == [0]
        assert "This browser keeps nothing" in _said(chrome)
    finally:
        chrome.execute_cdp_cmd("Page.removeScriptToEvaluateOnNewDocument", blocked)


def test_without_a_script_there_are_steps_and_no_boxes(chrome: Chrome, address: str) -> None:
    chrome.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": True})
    try:
        chrome.get(f"{address}/{EXERCISE}")
        assert not [each for each in chrome.find_elements(By.CSS_SELECTOR, ".nb-tick") if each.is_displayed()]
        assert not chrome.find_element(By.CSS_SELECTOR, ".nb-progress").is_displayed()
        assert all(each.is_displayed() for each in chrome.find_elements(By.CSS_SELECTOR, ".nb-step"))
        assert all(each.is_displayed() for each in chrome.find_elements(By.CSS_SELECTOR, ".nb-hazard dl"))
    finally:
        chrome.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": False})
