"""A page that is read long after it was built says which verifications have ended since."""

from collections.abc import Iterator

import pytest
from browser import browser, served
from selenium.webdriver import Chrome
from selenium.webdriver.common.by import By

from conftest import DemoSite

LAST_DAYS = {"2027-09-08", "2027-09-09", "2027-09-10"}
"""Of the hammers of the demo's first rig."""
CLOCK = """
const real = Date, day = "%s";
Date = class extends real {
  constructor(...parts) { parts.length ? super(...parts) : super(day + "T12:00:00"); }
};
"""


@pytest.fixture(scope="module")
def chrome(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Chrome]:
    with browser(tmp_path_factory.mktemp("due")) as chrome:
        yield chrome


@pytest.mark.parametrize(
    ("day", "ended"),
    [
        ("2026-11-02", set()),
        ("2027-09-08", set()),
        ("2027-09-09", {"2027-09-08"}),
        ("2028-01-01", LAST_DAYS),
    ],
)
@pytest.mark.parametrize("page", ["rigs/bench-1.html", "exercises/notched-charpy.html"])
def test_what_ended_since_is_marked(page: str, day: str, ended: set[str], demo_site: DemoSite, chrome: Chrome) -> None:
    clock = chrome.execute_cdp_cmd("Page.addScriptToEvaluateOnNewDocument", {"source": CLOCK % day})
    with served(demo_site.folder) as url:
        chrome.get(f"{url}/{page}")
        times = chrome.find_elements(By.CSS_SELECTOR, "time.nb-until")
        shown = {each.get_attribute("datetime") for each in times}
        marked = {
            each.get_attribute("datetime")
            for each in times
            if chrome.execute_script("return (arguments[0].nextElementSibling || {}).textContent", each) == " (ended)"
        }
    chrome.execute_cdp_cmd("Page.removeScriptToEvaluateOnNewDocument", clock)
    assert shown & LAST_DAYS
    assert marked & LAST_DAYS == ended & shown
