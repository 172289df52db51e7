"""The worksheet as a reader of the page has it in hand: its fields, what is told beside them, its buttons."""

from typing import Any

from browser import told_by
from selenium.webdriver import Chrome
from selenium.webdriver.common.by import By
from selenium.webdriver.remote.webelement import WebElement
from selenium.webdriver.support.ui import WebDriverWait
from worksheet_sessions import Session

ENTER = """
const [control, text] = arguments;
document.activeElement.blur();
control.value = text;
control.dispatchEvent(new Event('input', {bubbles: true}));
"""
PAGE = "exercises/notched-charpy.html"
SESSION = Session(
    "notched-charpy",
    (
        ("group", "G3"), ("date", "2026-10-20"), ("material", "pp-h"), ("batch", "PP-26-01"), ("rig", "bench-1"),
        ("hammer", "charpy-1"), ("conditioning.temperature_C", "23,1"), ("conditioning.humidity_pct", "50"),
        ("conditioning.hours", "48"), ("test_atmosphere.temperature_C", "22.9"), ("test_atmosphere.humidity_pct", "49"),
    ),
    tuple(
        {
            "id": f"{n:02}", "width_mm": f"10,0{n % 3}", "thickness_mm": "4.00", "remaining_width_mm": f"8.0{n % 4}",
            "reading": f"{reading}", "break": "C",
        }
        for n, reading in enumerate([128.0, 127.4, 128.8, 127.2, 128.4, 129.0, 127.6, 128.6, 127.8, 128.2], start=1)
    ),
)  # fmt: skip
"""A session with nothing wrong in it."""


def opened(chrome: Chrome, address: str) -> Chrome:
    """The worksheet as a new group finds it."""
    chrome.get(address)
    chrome.execute_script("localStorage.clear()")
    chrome.get(address)
    started(chrome)
    told_by(chrome)
    return chrome


def started(chrome: Chrome) -> WebElement:
    form = chrome.find_element(By.CSS_SELECTOR, "form.nb-worksheet")
    WebDriverWait(chrome, 20).until(lambda _: form.is_displayed())
    return form


def field(chrome: Chrome, key: str) -> WebElement:
    return chrome.find_element(By.CSS_SELECTOR, f":is(input,select,textarea)[data-key='{key}']")


def of_bar(chrome: Chrome, row: int, name: str) -> WebElement:
    return chrome.find_elements(By.CSS_SELECTOR, ".nb-ws-bar")[row].find_element(By.CSS_SELECTOR, f"[data-name={name}]")


def values(chrome: Chrome) -> dict[str, Any]:
    values: dict[str, Any] = chrome.execute_script("return notchbookWorksheet.sheet.form.values()")
    return values


def told(chrome: Chrome, control: WebElement) -> str:
    """What stands beside a field, by way of its description; empty where nothing is said."""
    described = control.get_attribute("aria-describedby")
    return chrome.find_element(By.ID, described).text if described else ""


def press(chrome: Chrome, name: str) -> None:
    click(chrome, chrome.find_element(By.CSS_SELECTOR, f"form.nb-worksheet [data-{name}]"))


def click(chrome: Chrome, button: WebElement) -> None:
    # as a reader would bring it from under the head of the page that stays in place
    chrome.execute_script("arguments[0].scrollIntoView({block: 'center'})", button)
    button.click()


def enter(chrome: Chrome, control: WebElement, text: str) -> None:
    chrome.execute_script(ENTER, control, text)
