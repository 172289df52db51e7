"""The built demo under a thumb: sizes of what is pressed, text at twice its size, and what the first screen shows."""

import json
from collections.abc import Iterator
from typing import Any

import pytest
from browser import browser, resize, served
from page_types import EACH_PAGE, EXERCISES, RECORDS
from selenium.webdriver import Chrome
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

from conftest import DemoSite

WIDTH, HEIGHT = 360, 740
SHOWN = """
const shown = e => { const r = e.getBoundingClientRect();
  return r.width > 0 && r.height > 0 && e.checkVisibility({visibilityProperty: true}); };
"""
# Everything to be pressed but links in a text (WCAG 2.1, 2.5.5, whose exception they are). A label stands for its box.
SMALL = (
    SHOWN
    + """
const pressed = 'button, select, summary, textarea, input, label.md-header__button, .nb-card :is(h2, h3) a, '
  + '.nb-goto a';
return [...document.querySelectorAll(pressed)].filter(shown).map(e => e.closest('label') || e)
  .filter(e => !e.closest('.md-search')).map(e => [e.outerHTML.slice(0, 90), e.getBoundingClientRect()])
  .filter(([, r]) => Math.min(r.width, r.height) < 43.9).map(([html, r]) => `${r.width} x ${r.height}: ${html}`);
"""
)
# What is wider than the page must scroll in a region of its own, and nothing may be cut off.
WIDE = (
    SHOWN
    + """
const own = e => e.closest('.nb-scroll, .nb-formula, svg, .nb-unseen');
const told = e => e.outerHTML.slice(0, 90);
const article = [...document.querySelectorAll('article *')].filter(shown);
return {
  page: document.documentElement.scrollWidth,
  root: getComputedStyle(document.documentElement).fontSize,
  beyond: article.filter(e => !own(e) && e.getBoundingClientRect().right > innerWidth + 1).map(told),
  cut: article.filter(e => !own(e) && getComputedStyle(e).overflow !== 'visible'
    && !e.matches('select, input, textarea') && e.clientWidth > 0
    && (e.scrollWidth > e.clientWidth + 1 || e.scrollHeight > e.clientHeight + 1)).map(told),
  unreached: article.filter(e => ['auto', 'scroll'].includes(getComputedStyle(e).overflowX)
    && e.scrollWidth > e.clientWidth + 1 && !(e.tabIndex === 0 && e.getAttribute('role') === 'region'
    && e.getAttribute('aria-label'))).map(told),
};
"""
)
# Controls that lie over one another.
OVERLAPS = (
    SHOWN
    + """
const boxes = [...document.querySelectorAll('article :is(button, select, summary, textarea, input, .nb-goto a)')]
  .filter(shown).map(e => [e, e.getBoundingClientRect()]);
return boxes.flatMap(([a, p], place) => boxes.slice(place + 1).filter(([b, q]) => !a.contains(b)
    && Math.min(p.right, q.right) - Math.max(p.left, q.left) > 1
    && Math.min(p.bottom, q.bottom) - Math.max(p.top, q.top) > 1)
  .map(([b]) => `${a.outerHTML.slice(0, 80)} and ${b.outerHTML.slice(0, 80)}`));
"""
)
FOCUSED = """
const e = document.activeElement, s = getComputedStyle(e);
return [e.tagName, Boolean(e.closest('article')), s.outlineStyle !== 'none' && parseFloat(s.outlineWidth) >= 2,
  e.getBoundingClientRect().top];
"""
BOTTOM = "return document.querySelector(arguments[0]).getBoundingClientRect().bottom;"


@pytest.fixture(scope="module")
def phone(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Chrome]:
    with browser(tmp_path_factory.mktemp("phone")) as found:
        resize(found, WIDTH, HEIGHT)
        yield found


@pytest.fixture(scope="module")
def large_text(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Chrome]:
    """A phone whose reader has set the size of text to 200 %, from 16 to 32 pixels."""
    profile = tmp_path_factory.mktemp("large-text")
    (profile / "Default").mkdir()
    settings = {"webkit": {"webprefs": {"default_font_size": 32}}}
    (profile / "Default/Preferences").write_text(json.dumps(settings), encoding="utf-8")
    with browser(profile) as found:
        resize(found, WIDTH, HEIGHT)
        yield found


@pytest.fixture(scope="module")
def address(demo_site: DemoSite) -> Iterator[str]:
    with served(demo_site.folder) as found:
        yield found


def _wide(chrome: Chrome) -> dict[str, Any]:
    found: dict[str, Any] = chrome.execute_script(WIDE)
    return found


@pytest.mark.parametrize("name", EACH_PAGE)
def test_thumb_finds_what_it_presses_and_nothing_is_cut(name: str, phone: Chrome, address: str) -> None:
    phone.get(f"{address}/{name}")
    assert not phone.execute_script(SMALL)
    assert _wide(phone) == {"page": WIDTH, "root": "20px", "beyond": [], "cut": [], "unreached": []}


@pytest.mark.parametrize("name", EACH_PAGE)
def test_text_of_twice_the_size(name: str, large_text: Chrome, address: str) -> None:
    # WCAG 2.1, 1.4.4: 200 % without loss; 1.4.10: without a second direction of scrolling
    large_text.get(f"{address}/{name}")
    assert _wide(large_text) == {"page": WIDTH, "root": "40px", "beyond": [], "cut": [], "unreached": []}
    assert not large_text.execute_script(OVERLAPS)


@pytest.mark.parametrize("name", RECORDS)
def test_result_stands_on_the_first_screen(name: str, phone: Chrome, address: str) -> None:
    phone.get(f"{address}/{name}")
    assert phone.execute_script(BOTTOM, ".nb-result") <= HEIGHT


@pytest.mark.parametrize("name", ["index.html", "rigs/bench-2.html", *EXERCISES])
def test_caution_stands_on_the_first_screen(name: str, phone: Chrome, address: str) -> None:
    phone.get(f"{address}/{name}")
    assert phone.execute_script(BOTTOM, ".nb-caution") <= HEIGHT


@pytest.mark.parametrize("name", EXERCISES)
def test_steps_come_before_everything_that_explains(name: str, phone: Chrome, address: str) -> None:
    phone.get(f"{address}/{name}")
    phone.find_element(By.CSS_SELECTOR, ".nb-goto a").click()
    # the header of the page stays above what was gone to
    first = phone.execute_script("return document.querySelector('.nb-steps').getBoundingClientRect().top;")
    assert 44 < first < HEIGHT / 2
    last_step = phone.execute_script(
        "return [...document.querySelectorAll('.nb-steps')].pop().getBoundingClientRect().bottom + scrollY;"
    )
    tops = phone.execute_script(
        "return [...document.querySelectorAll('article :is(svg[role=img], table, form)')]"
        ".filter(e => e.checkVisibility()).map(e => e.getBoundingClientRect().top + scrollY);"
    )
    assert tops
    assert min(tops) > last_step


def test_hazards_are_folded_on_a_phone_and_named_in_full(phone: Chrome, address: str) -> None:
    phone.get(f"{address}/exercises/notched-charpy.html")
    hazards = phone.find_elements(By.CSS_SELECTOR, "details.nb-hazard")
    assert hazards
    for each in hazards:
        assert each.get_attribute("open") is None
        assert len(each.find_element(By.CSS_SELECTOR, "summary > span").text.split()) > 5
    # the mark of a step leads to its hazard and opens it
    mark = phone.find_element(By.CSS_SELECTOR, ".nb-bite a")
    mark.click()
    named = phone.find_element(By.CSS_SELECTOR, phone.execute_script("return location.hash;"))
    assert named.get_attribute("open") is not None
    assert named.find_element(By.CSS_SELECTOR, "dl").is_displayed()


def test_hazards_are_open_on_a_desk(phone: Chrome, address: str) -> None:
    resize(phone, 1280)
    phone.get(f"{address}/exercises/notched-charpy.html")
    try:
        assert all(each.is_displayed() for each in phone.find_elements(By.CSS_SELECTOR, "details.nb-hazard dl"))
    finally:
        resize(phone, WIDTH, HEIGHT)


def test_keyboard_reaches_the_work_and_shows_where_it_is(phone: Chrome, address: str) -> None:
    phone.get(f"{address}/exercises/notched-charpy.html")
    phone.find_element(By.TAG_NAME, "body").send_keys(Keys.TAB)
    assert "md-skip" in (phone.switch_to.active_element.get_attribute("class") or "")
    phone.switch_to.active_element.send_keys(Keys.ENTER)
    reached = set()
    for _ in range(30):
        phone.switch_to.active_element.send_keys(Keys.TAB)
        tag, inside, marked, top = phone.execute_script(FOCUSED)
        if inside:
            reached.add(tag)
            # WCAG 2.2, 2.4.7 and 2.4.11: the focus is seen, and not under the header
            assert marked, f"{tag} has no mark of the focus"
            assert 44 <= top <= HEIGHT, f"{tag} at {top} is out of sight"
    assert reached >= {"A", "SUMMARY", "INPUT"}
