"""The worksheet in use: typed on a phone, kept on the device, cleared for the next group, taken away as a file."""

import datetime as dt
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from browser import browser, prefer, resize, served, told_by
from selenium.webdriver import Chrome
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.support.ui import Select, WebDriverWait
from site_building import copy_demo
from worksheet_form import PAGE, SESSION, click, enter, field, of_bar, opened, press, started, values
from worksheet_sessions import typed_in

from conftest import DemoSite
from notchbook.handbook import open_handbook
from repeating import repeated


@pytest.fixture(scope="module")
def chrome(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Chrome]:
    with browser(tmp_path_factory.mktemp("profile")) as found:
        yield found


@pytest.fixture(scope="module")
def address(demo_site: DemoSite) -> Iterator[str]:
    with served(demo_site.folder) as found:
        yield f"{found}/{PAGE}"


@pytest.fixture
def sheet(chrome: Chrome, address: str) -> Chrome:
    return opened(chrome, address)


@pytest.fixture
def downloads(chrome: Chrome, tmp_path: Path) -> Path:
    folder = tmp_path / "downloads"
    folder.mkdir()
    chrome.execute_cdp_cmd("Browser.setDownloadBehavior", {"behavior": "allow", "downloadPath": str(folder)})
    return folder


def _downloaded(chrome: Chrome, folder: Path, pattern: str) -> Path:
    found: list[Path] = WebDriverWait(chrome, 20).until(lambda _: list(folder.glob(pattern)))
    return found[0]


def test_session_typed_on_a_phone(sheet: Chrome, downloads: Path, tmp_path: Path) -> None:
    """Every field by keys, from one to the next with the key that ends an entry; the file opens in the handbook."""
    resize(sheet, 360, 740)
    fields = dict(SESSION.fields)
    # how a date is typed depends on the language of the browser
    enter(sheet, field(sheet, "date"), fields.pop("date"))
    for key, text in fields.items():
        control = field(sheet, key)
        if control.tag_name == "select":
            Select(control).select_by_value(text)
        else:
            control.send_keys(text)
    for row, bar in enumerate(SESSION.bars):
        click(sheet, of_bar(sheet, row, "width_mm"))
        for name in ("width_mm", "thickness_mm", "remaining_width_mm", "reading"):
            assert sheet.switch_to.active_element == of_bar(sheet, row, name)
            sheet.switch_to.active_element.send_keys(bar[name], Keys.ENTER)
        Select(of_bar(sheet, row, "break")).select_by_value(bar["break"])
    result = sheet.find_element(By.CSS_SELECTOR, ".nb-ws-result")
    line = r"^C complete: mean 3\.\d kJ/m², s 0\.\d+ kJ/m², n 10, 95 % interval of the mean 3\."
    assert re.search(line, result.text, re.M)
    assert "0 errors, 0 warnings; complete." in result.text
    press(sheet, "yaml")
    path = _downloaded(sheet, downloads, "*.yaml")
    assert path.name == "2026-10-20-g3-pp-h-notched-charpy.yaml"
    assert path.name in sheet.find_element(By.CSS_SELECTOR, ".nb-ws-file").text
    root = copy_demo(tmp_path / "handbook")
    target = root / "results/tests" / path.name
    target.write_bytes(path.read_bytes())
    today = dt.date.fromisoformat(sheet.execute_script("return notchbookWorksheet.checksDay.today()"))
    handbook = open_handbook(root, day=today)
    assert not handbook.findings_in("test", path.stem)
    record = handbook.library.records[path.stem]
    assert [each.rise_angle_deg for each in record.specimens] == [float(bar["reading"]) for bar in SESSION.bars]
    press(sheet, "csv")
    assert _downloaded(sheet, downloads, "*.csv").read_bytes().count(b"\r\n") == 11
    visit = told_by(sheet)
    assert not visit.severe
    # nothing of it left the device
    assert not [each for each in visit.requests if not each.startswith("blob:")]


@pytest.mark.parametrize("place", repeated(["server", "disk"], but=["disk"]))
def test_entries_survive_until_they_are_cleared(place: str, chrome: Chrome, address: str, demo_site: DemoSite) -> None:
    page = address if place == "server" else (demo_site.folder / PAGE).as_uri()
    chrome.get(page)
    chrome.execute_script("localStorage.clear()")
    chrome.get(page)
    started(chrome)
    empty = values(chrome)
    assert empty["fields"]["date"] == chrome.execute_script("return notchbookWorksheet.checksDay.today()")
    assert len(empty["bars"]) == 10
    typed_in(chrome, SESSION)
    press(chrome, "add")
    enter(chrome, of_bar(chrome, 10, "excluded"), "fell: off")
    before = values(chrome)
    assert before["bars"][10] == {**empty["bars"][0], "id": "11", "excluded": "fell: off"}
    chrome.refresh()
    started(chrome)
    assert values(chrome) == before
    assert of_bar(chrome, 10, "excluded").is_displayed()
    # asked first, and the safe answer keeps everything
    press(chrome, "clear")
    question = chrome.find_element(By.CSS_SELECTOR, ".nb-ws-ask")
    assert question.is_displayed()
    assert chrome.switch_to.active_element.text == "Keep it"
    click(chrome, chrome.switch_to.active_element)
    assert not question.is_displayed()
    assert values(chrome) == before
    press(chrome, "clear")
    click(chrome, question.find_element(By.CSS_SELECTOR, "button"))
    assert values(chrome) == empty
    chrome.refresh()
    started(chrome)
    assert values(chrome) == empty
    assert not told_by(chrome).severe


def test_each_exercise_and_site_keeps_its_own(sheet: Chrome, address: str) -> None:
    field(sheet, "group").send_keys("G3")
    sheet.get(address.replace("notched-charpy", "notched-izod"))
    started(sheet)
    assert field(sheet, "group").get_attribute("value") == ""
    keys = sheet.execute_script(
        "return ['/one/index.html', '/two/index.html'].map(each => notchbookWorksheet.state.open('e', each).key)"
    )
    assert len(set(keys)) == 2


def test_two_windows_show_the_same(sheet: Chrome, address: str) -> None:
    first = sheet.current_window_handle
    sheet.switch_to.new_window("tab")
    try:
        sheet.get(address)
        started(sheet)
        enter(sheet, of_bar(sheet, 2, "width_mm"), "10.01")
    finally:
        sheet.close()
        sheet.switch_to.window(first)
    WebDriverWait(sheet, 20).until(lambda _: values(sheet)["bars"][2]["width_mm"] == "10.01")


KEPT = ["{", "null", "[]", '{"version": 1, "fields": 3, "bars": [null, 5, {"id": 7}]}']


@pytest.mark.parametrize("kept", repeated(KEPT, but=KEPT[-1:]))
def test_whatever_was_kept_the_form_opens(kept: str, sheet: Chrome) -> None:
    sheet.execute_script("localStorage.setItem(notchbookWorksheet.sheet.state.key, arguments[0])", kept)
    sheet.refresh()
    started(sheet)
    assert values(sheet)["bars"]
    assert not told_by(sheet).severe


def test_browser_that_keeps_nothing_is_told(sheet: Chrome, address: str) -> None:
    refuse = "Object.defineProperty(window, 'localStorage', {get() { throw new Error('refused'); }});"
    spy = sheet.execute_cdp_cmd("Page.addScriptToEvaluateOnNewDocument", {"source": refuse})
    try:
        sheet.get(f"{address}?refused")
        form = started(sheet)
        assert "keeps nothing" not in form.text
        enter(sheet, field(sheet, "group"), "G3")
        assert "keeps nothing" in form.text
        typed_in(sheet, SESSION)
        assert sheet.execute_script("return notchbookWorksheet.sheet.yaml()").startswith("kind: test\n")
    finally:
        sheet.execute_cdp_cmd("Page.removeScriptToEvaluateOnNewDocument", spy)


def test_result_is_said_to_those_who_hear_the_page(sheet: Chrome) -> None:
    typed_in(sheet, SESSION)
    status = sheet.find_element(By.CSS_SELECTOR, ".nb-ws-status")
    assert status.get_attribute("role") == "status"
    WebDriverWait(sheet, 20).until(lambda _: "C complete: mean 3" in (status.get_attribute("textContent") or ""))


def test_rig_chooses_scale_and_hammers(sheet: Chrome) -> None:
    def label() -> str:
        return sheet.find_element(By.CSS_SELECTOR, ".nb-ws-bar label[for$=reading]").text

    assert label() == "Reading"
    Select(field(sheet, "rig")).select_by_value("bench-1")
    assert label() == "Rise, °"
    Select(field(sheet, "rig")).select_by_value("bench-2")
    assert label() == "Indicated, J"
    hammers = [each.get_attribute("value") for each in Select(field(sheet, "hammer")).options]
    assert hammers == ["", "charpy-7.5", "charpy-15", "charpy-25"]


@pytest.mark.parametrize("width", [360, 1280])
def test_controls_are_large_and_the_page_is_no_wider_than_the_screen(width: int, sheet: Chrome) -> None:
    resize(sheet, width, 740)
    typed_in(sheet, SESSION)
    enter(sheet, of_bar(sheet, 1, "reading"), "12")
    enter(sheet, field(sheet, "notes"), "x" * 300)
    sheet.execute_script("for (const each of document.querySelectorAll('.nb-worksheet details')) each.open = true")
    assert sheet.execute_script("return document.documentElement.scrollWidth") <= width
    heights = sheet.execute_script(
        "return [...document.querySelectorAll('.nb-worksheet :is(input, select, textarea, button, summary)')]"
        ".filter(e => e.getClientRects().length).map(e => e.getBoundingClientRect().height)"
    )
    assert len(heights) > 80
    # WCAG 2.1, 2.5.5: 44 by 44 pixels
    assert min(heights) >= 44
    names = sheet.execute_script(
        "return [...document.querySelectorAll('.nb-worksheet :is(input, select, textarea)')]"
        ".map(e => e.labels.length === 1 && e.labels[0].textContent.trim())"
    )
    assert all(names)
    ids = sheet.execute_script("return [...document.querySelectorAll('[id]')].map(e => e.id)")
    assert len(ids) == len(set(ids))


def test_not_on_paper(sheet: Chrome) -> None:
    form = sheet.find_element(By.CSS_SELECTOR, "form.nb-worksheet")
    heading = sheet.find_element(By.ID, "worksheet")
    prefer(sheet, "light", media="print")
    assert not form.is_displayed()
    assert not heading.is_displayed()
    prefer(sheet, "light")
    assert form.is_displayed()


def test_without_scripts_it_says_so(chrome: Chrome, address: str) -> None:
    chrome.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": True})
    try:
        chrome.get("about:blank")
        chrome.get(address)
        assert not chrome.find_element(By.CSS_SELECTOR, "form.nb-worksheet").is_displayed()
        assert "Write the readings on paper" in chrome.find_element(By.CSS_SELECTOR, "article noscript").text
    finally:
        chrome.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": False})
