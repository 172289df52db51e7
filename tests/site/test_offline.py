"""The handbook without a network: kept by a browser after one visit, and opened from a disk."""

import shutil
import time
from collections.abc import Iterable, Iterator
from pathlib import Path

import pytest
from browser import browser, told_by
from selenium.webdriver import Chrome
from selenium.webdriver.common.by import By
from selenium.webdriver.support.ui import WebDriverWait
from switched_server import SwitchedServer

from conftest import DemoSite
from notchbook.building.finishing import finish

DAY = "2 November 2026"
"""The day of the builds of these tests."""
PATIENCE = 60
WHOLE = """
const done = arguments[0];
(async () => {
  const names = (await caches.keys()).filter(each => !each.endsWith("visited"));
  const lacking = await Promise.all(names.map(async each => {
    const cache = await caches.open(each);
    const list = await cache.match(new URL("service-worker-kept.json", each.split(" ")[1]));
    const held = new Set((await cache.keys()).map(each => decodeURI(new URL(each.url).pathname)));
    return list && Object.keys((await list.json()).files).filter(path => !held.has("/handbook/" + path)).sort();
  }));
  done({ names, lacking, controlled: Boolean(navigator.serviceWorker.controller) });
})();
"""


@pytest.fixture
def chrome(tmp_path: Path) -> Iterator[Chrome]:
    with browser(tmp_path / "profile") as chrome:
        yield chrome


class Published(SwitchedServer):
    """A site below the first folder of its address, as forges publish them."""

    def __init__(self, site: Path, folder: Path) -> None:
        shutil.copytree(site, folder / "handbook")
        self.ending = ".html" if (site / "about.html").exists() else "/"
        super().__init__(folder)

    def page(self, path: str) -> str:
        return f"{self.url}/handbook/{path}{self.ending}"


@pytest.fixture
def either_server(either_site: DemoSite, tmp_path: Path) -> Iterator[Published]:
    """The demo with each form of addresses."""
    server = Published(either_site.folder, tmp_path / "published")
    yield server
    server.off()


@pytest.fixture
def server(demo_site: DemoSite, tmp_path: Path) -> Iterator[Published]:
    """For what is the same for both forms of addresses."""
    server = Published(demo_site.folder, tmp_path / "published")
    yield server
    server.off()


def heading(chrome: Chrome) -> str:
    return chrome.find_element(By.TAG_NAME, "h1").text


def told(chrome: Chrome) -> str:
    return " ".join(each.text for each in chrome.find_elements(By.CSS_SELECTOR, ".nb-told") if each.is_displayed())


def wait(chrome: Chrome, until: object) -> None:
    WebDriverWait(chrome, PATIENCE, poll_frequency=0.1).until(lambda _: until())  # type: ignore[operator]


def keep_all(
    chrome: Chrome, server: Published, before: list[str] | None = None, *, refused: Iterable[str] = ()
) -> list[str]:
    """Visit the first page and wait until the rest is kept but what is refused, and nothing of before; the names of
    what is kept."""
    chrome.get(f"{server.url}/handbook/")
    state: dict[str, object] = {}

    def whole() -> bool:
        state.update(chrome.execute_async_script(WHOLE))
        own = [at for at, each in enumerate(state["names"]) if "/handbook/" in each and each not in (before or [])]
        gone = not set(before or []).intersection(state["names"])  # type: ignore[arg-type]
        return len(own) == 1 and gone and state["lacking"][own[0]] == sorted(refused) and state["controlled"]  # type: ignore

    wait(chrome, whole)
    return state["names"]  # type: ignore[return-value]


def search(chrome: Chrome, words: str) -> list[str]:
    """Titles of the pages that the site's search finds."""
    chrome.execute_script('document.querySelector("[data-md-toggle=search]").click()')
    box = chrome.find_element(By.CSS_SELECTOR, "[data-md-component=search-query]")
    wait(chrome, box.is_displayed)
    box.send_keys(words)
    found: list[str] = []

    def any_found() -> bool:
        # read at once: the list is made anew with every letter
        found[:] = chrome.execute_script(
            "return Array.from(document.querySelectorAll('.md-search-result__item h1'), each => each.textContent)"
        )
        return bool(found)

    wait(chrome, any_found)
    return found


def test_after_one_visit_everything_is_there_without_a_network(either_server: Published, chrome: Chrome) -> None:
    keep_all(chrome, either_server)
    assert told(chrome) == ""
    either_server.off()
    for path, words in (
        ("exercises/notched-charpy", "Notched bars"),
        ("rigs/bench-2", "Bench pendulum 2"),
        ("records/2025-10-06-lt-1-pp-h-notched", "Polypropylene"),
        ("lookup/bench-1--charpy-1", "1 J Charpy hammer"),
    ):
        chrome.get(either_server.page(path))
        assert words in heading(chrome)
        wait(chrome, lambda: told(chrome))
        assert f"this is the handbook of {DAY}" in told(chrome)
    assert any("Charpy" in each for each in search(chrome, "supports charpy"))


def test_online_the_newest_is_shown_and_only_it_is_kept(server: Published, chrome: Chrome) -> None:
    before = keep_all(chrome, server)
    changed = server.folder / "handbook/exercises/notched-charpy.html"
    text = changed.read_text(encoding="utf-8")
    changed.write_text(text.replace("Notched bars on two supports", "A corrected procedure"), encoding="utf-8")
    finish(server.folder / "handbook")
    chrome.get(server.page("exercises/notched-charpy"))
    assert "A corrected procedure" in heading(chrome)
    assert told(chrome) == ""
    assert len(keep_all(chrome, server, before)) == 1
    server.off()
    chrome.get(server.page("exercises/notched-charpy"))
    assert "A corrected procedure" in heading(chrome)


def test_a_page_that_was_kept_says_when_there_is_a_newer_one(server: Published, chrome: Chrome) -> None:
    keep_all(chrome, server)
    server.off()
    changed = server.folder / "handbook/exercises/notched-charpy.html"
    text = changed.read_text(encoding="utf-8")
    changed.write_text(text.replace("Notched bars on two supports", "A corrected procedure"), encoding="utf-8")
    finish(server.folder / "handbook")
    chrome.get(server.page("exercises/notched-charpy"))
    wait(chrome, lambda: told(chrome))
    assert "Notched bars" in heading(chrome)
    server.on()

    def newer() -> bool:
        # as when the reader comes back to the page
        chrome.execute_script('document.dispatchEvent(new Event("visibilitychange"))')
        return "A newer handbook is there" in told(chrome)

    wait(chrome, newer)
    assert DAY in told(chrome)
    chrome.find_element(By.CSS_SELECTOR, ".nb-told button").click()
    wait(chrome, lambda: "A corrected procedure" in heading(chrome))


def test_with_a_network_that_crawls_the_kept_page_is_shown(server: Published, chrome: Chrome) -> None:
    keep_all(chrome, server)
    server.delay_s = 20.0
    chrome.set_page_load_timeout(15)
    chrome.get(server.page("rigs/bench-1"))
    assert heading(chrome) == "Bench pendulum 1"
    wait(chrome, lambda: told(chrome))
    assert DAY in told(chrome)
    server.delay_s = 0.0


def test_what_is_not_kept_is_told(server: Published, chrome: Chrome) -> None:
    keep_all(chrome, server)
    server.off()
    chrome.get(f"{server.url}/handbook/data/results.csv")
    assert "not kept on this device" in heading(chrome)
    chrome.find_element(By.TAG_NAME, "a").click()
    wait(chrome, lambda: "Saltmere" in heading(chrome))


def test_what_a_server_refuses_keeps_nothing_else_away(server: Published, chrome: Chrome) -> None:
    # one of what is kept first, and one of what is kept in the background
    refused = {"404.html", "records/2025-10-06-lt-1-pp-h-notched.html"}
    server.refused = {f"/handbook/{each}" for each in refused}
    before = keep_all(chrome, server, refused=refused)
    (server.folder / "handbook/about.html").write_text("<h1>Other words</h1>", encoding="utf-8")
    finish(server.folder / "handbook")
    assert len(keep_all(chrome, server, before, refused=refused)) == 1


def test_a_page_is_found_without_the_ending_of_its_name(either_server: Published, chrome: Chrome) -> None:
    keep_all(chrome, either_server)
    either_server.off()
    chrome.get(f"{either_server.url}/handbook/exercises/notched-charpy")
    assert "Notched bars" in heading(chrome)


def test_a_site_below_this_one_is_not_kept(server: Published, chrome: Chrome) -> None:
    (server.folder / "handbook/other").mkdir()
    keep_all(chrome, server)
    (server.folder / "handbook/other/index.html").write_text("<h1>Another site</h1>", encoding="utf-8")
    chrome.get(f"{server.url}/handbook/other/index.html")
    assert heading(chrome) == "Another site"
    found = "caches.match(arguments[0]).then(found => arguments[1](Boolean(found)))"
    assert chrome.execute_async_script(found, f"{server.url}/handbook/other/index.html") is False
    assert chrome.execute_async_script(found, server.page("about")) is True


def test_a_newer_version_is_not_deleted_by_the_one_before_it(server: Published, chrome: Chrome) -> None:
    (name,) = keep_all(chrome, server)
    newer = f"{name.rpartition(' ')[0]} 0123456789abcdef"
    chrome.execute_async_script("caches.open(arguments[0]).then(arguments[1])", newer)
    for path in ("about", "checks"):
        # each page makes the worker look whether all is there, which deletes what is older
        chrome.get(server.page(path))
        time.sleep(1)
    assert set(chrome.execute_async_script("caches.keys().then(arguments[0])")) == {name, newer}


def test_another_site_of_the_same_address_is_left_alone(server: Published, chrome: Chrome) -> None:
    before = keep_all(chrome, server)
    other = "notchbook http://127.0.0.1/other/ 0123456789abcdef"
    chrome.execute_async_script("caches.open(arguments[0]).then(arguments[1])", other)
    (server.folder / "handbook/about.html").write_text("<h1>Other words</h1>", encoding="utf-8")
    finish(server.folder / "handbook")
    assert other in keep_all(chrome, server, before)


def test_a_site_on_a_disk_reads_and_searches(demo_site: DemoSite, chrome: Chrome) -> None:
    chrome.get((demo_site.folder / "index.html").as_uri())
    chrome.find_element(By.LINK_TEXT, "Notched bars on two supports (Charpy)").click()
    wait(chrome, lambda: "Notched bars" in heading(chrome))
    assert any("Bench pendulum" in each for each in search(chrome, "bench pendulum"))
    visit = told_by(chrome)
    assert visit.severe == []
    assert not [each for each in visit.requests if each.startswith("http")]


def test_every_page_says_of_which_day_it_is(either_site: DemoSite) -> None:
    pages = [each for each in either_site.folder.rglob("*.html") if each.name != "404.html"]
    assert len(pages) > 100
    for each in pages:
        assert f'<time datetime="2026-11-02">{DAY}</time>' in each.read_text(encoding="utf-8")


def test_the_day_is_not_found_by_the_search(demo_site: DemoSite) -> None:
    index = (demo_site.folder / "search/search_index.json").read_text(encoding="utf-8")
    assert f"Handbook of {DAY}" not in index
