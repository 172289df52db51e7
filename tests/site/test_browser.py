"""The built demo in a browser: on a phone and a desk, light, dark and printed, by keyboard and in the search."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from browser import browser, prefer, resize, served, told_by
from hostile_site import hostile_site
from page_types import EACH_PAGE, PAGES
from selenium.webdriver import Chrome
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.support.ui import WebDriverWait

from conftest import DemoSite

WITHOUT_CHARTS = {
    "index.html", "about.html", "checks.html", "404.html", "data.html", "guide/exercise.html",
    "comparisons/two-sets.html", "rigs/bench-2--wall-card.html",
    *(each for each in PAGES if each.startswith(("lookup/", "methods/", "reference/")) or each.endswith("/index.html")),
}  # fmt: skip
# Not on any host: what a page holds in itself, and the page that the browser starts with.
OWN = ("data:", "blob:", "about:", "chrome:")

# One look at a page: what a reader would trip over.
LOOK = """
const visible = e => { const r = e.getBoundingClientRect(), s = getComputedStyle(e);
  return r.width > 0 && r.height > 0 && s.visibility === 'visible' && s.display !== 'none'; };
const charts = [...document.querySelectorAll('article figure svg[role=img]')];
const heading = document.querySelector('article h1');
return {
  scroll: document.documentElement.scrollWidth, inner: innerWidth,
  heading: heading !== null && visible(heading) && heading.innerText.trim().length > 0,
  charts: charts.map(c => ({visible: visible(c), right: c.getBoundingClientRect().right,
    text: Math.min(...[...c.querySelectorAll('text')].map(
      t => parseFloat(getComputedStyle(t).fontSize) * c.getScreenCTM().a))})),
  regions: [...document.querySelectorAll('article .nb-scroll')].filter(
    e => e.getBoundingClientRect().right > innerWidth + 1).length,
  scheme: document.body.dataset.mdColorScheme,
};
"""

# Contrast of every piece of text in the article with what lies behind it (WCAG 2.1, 1.4.3).
CONTRAST = """
const parts = colour => {
  const canvas = new OffscreenCanvas(1, 1), context = canvas.getContext('2d', {willReadFrequently: true});
  context.fillStyle = colour; context.fillRect(0, 0, 1, 1);
  const [r, g, b, a] = context.getImageData(0, 0, 1, 1).data;
  return [r, g, b, a / 255];
};
const known = new Map();
const cached = colour => { if (!known.has(colour)) known.set(colour, parts(colour)); return known.get(colour); };
const over = (top, under) => [0, 1, 2].map(i => top[i] * top[3] + under[i] * (1 - top[3])).concat(1);
const behind = element => {
  const layers = [];
  for (let e = element; e; e = e.parentElement) layers.push(cached(getComputedStyle(e).backgroundColor));
  return layers.reverse().reduce((under, top) => over(top, under), [255, 255, 255, 1]);
};
const luminance = colour => colour.slice(0, 3).map(v => v / 255)
  .map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4)
  .reduce((sum, v, i) => sum + v * [0.2126, 0.7152, 0.0722][i], 0);
const found = [];
const walker = document.createTreeWalker(document.querySelector('article'), NodeFilter.SHOW_TEXT);
while (walker.nextNode()) {
  const node = walker.currentNode, element = node.parentElement;
  if (!node.textContent.trim() || !element.getClientRects().length || element.closest('style, title, desc')) continue;
  const style = getComputedStyle(element), under = behind(element);
  const ink = over(cached(element.closest('svg') ? style.fill : style.color), under);
  const [low, high] = [luminance(ink), luminance(under)].sort((a, b) => a - b);
  const ratio = (high + 0.05) / (low + 0.05), size = parseFloat(style.fontSize);
  const large = size >= 24 || (size >= 18.66 && parseInt(style.fontWeight) >= 700);
  if (ratio < (large ? 3 : 4.5)) found.push(`${ratio.toFixed(2)} ${element.outerHTML.slice(0, 80)}`);
}
return [...new Set(found)];
"""


# Let all that is folded be seen, and all scripts of the page have their say; gives how often a foreign one ran.
STIR = """
const done = arguments[0];
document.querySelectorAll('details').forEach(each => { each.open = true; });
const controls = document.querySelectorAll('article input, article select, article button, article summary');
controls.forEach(each => {
  for (const kind of ['focus', 'mouseover', 'input', 'change']) each.dispatchEvent(new Event(kind, {bubbles: true}));
});
for (const kind of ['scroll', 'resize', 'beforeprint', 'afterprint']) dispatchEvent(new Event(kind));
setTimeout(() => done(window.hits), 100);
"""
# Elements that would run something, or lead to it.
ALIVE = """
const leads = ['href', 'src', 'action', 'xlink:href'];
const runs = each => each.name.startsWith('on')
  || (leads.includes(each.name) && /^\\s*(javascript|vbscript|data):/i.test(each.value));
const found = [...document.querySelectorAll('*')].filter(each => [...each.attributes].some(runs));
return found.map(each => each.outerHTML.slice(0, 200));
"""


@pytest.fixture(scope="module")
def chrome(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Chrome]:
    with browser(tmp_path_factory.mktemp("profile")) as found:
        yield found


@pytest.fixture(scope="module")
def address(demo_site: DemoSite) -> Iterator[str]:
    with served(demo_site.folder) as found:
        yield found


def _look(chrome: Chrome) -> dict[str, Any]:
    seen: dict[str, Any] = chrome.execute_script(LOOK)
    return seen


def _wait(chrome: Chrome, script: str) -> None:
    """Until the script gives something; the theme's own scripts answer a moment later."""
    WebDriverWait(chrome, 20).until(lambda _: chrome.execute_script(script), script)


def _assert_quiet(chrome: Chrome, address: str) -> None:
    """No error was told, and nothing was asked for elsewhere."""
    visit = told_by(chrome)
    assert not visit.severe
    assert visit.requests
    assert not [each for each in visit.requests if not each.startswith((f"{address}/", *OWN))]


@pytest.mark.parametrize("name", EACH_PAGE)
def test_page_on_phone_and_desk_light_and_dark(name: str, chrome: Chrome, address: str) -> None:
    told_by(chrome)
    for width in (360, 1280):
        resize(chrome, width)
        prefer(chrome, "light")
        chrome.get(f"{address}/{name}")
        for scheme, called in (("light", "default"), ("dark", "slate")):
            prefer(chrome, scheme)
            _wait(chrome, f"return document.body.dataset.mdColorScheme === '{called}'")
            seen = _look(chrome)
            told = f"{name} at {width} px, {scheme}: {seen}"
            assert seen["inner"] == width, told
            assert seen["scroll"] <= width, told
            assert seen["heading"], told
            assert not seen["regions"], told
            assert bool(seen["charts"]) == (name not in WITHOUT_CHARTS), told
            for chart in seen["charts"]:
                assert chart["visible"], told
                assert chart["right"] <= width, told
                assert chart["text"] >= 9.0, told
            if width > 1000:
                faint = chrome.execute_script(CONTRAST)
                assert not faint, f"{name}, {scheme}: {faint}"
    _assert_quiet(chrome, address)


def test_reader_chooses_light_or_dark(chrome: Chrome, address: str) -> None:
    resize(chrome, 1280)
    prefer(chrome, "light")
    chrome.get(f"{address}/index.html")
    seen = [_look(chrome)["scheme"]]
    for _ in range(3):
        chrome.execute_script("[...document.querySelectorAll('label[for^=__palette]')].find(e => !e.hidden).click()")
        seen.append(_look(chrome)["scheme"])
    # from the system's, to light, to dark, and back to the system's
    assert seen == ["default", "default", "slate", "default"]


def test_wide_table_is_scrolled_by_keyboard(chrome: Chrome, address: str) -> None:
    resize(chrome, 360)
    chrome.get(f"{address}/records/2026-10-14-g4-pp-h-notched.html")
    region = chrome.find_element(By.CSS_SELECTOR, ".nb-scroll")
    assert chrome.execute_script("return arguments[0].scrollWidth > arguments[0].clientWidth", region)
    region.send_keys(Keys.ARROW_RIGHT, Keys.ARROW_RIGHT)
    _wait(chrome, "return document.querySelector('.nb-scroll').scrollLeft > 0")


def test_wide_table_is_whole_on_paper(chrome: Chrome, address: str) -> None:
    # A4 at 96 px an inch, less margins of 10 mm
    resize(chrome, 718, 1000)
    prefer(chrome, "dark", media="print")
    chrome.get(f"{address}/records/2026-10-14-g4-pp-h-notched.html")
    wide = chrome.execute_script(
        "return [...document.querySelectorAll('article table')].map(e => e.getBoundingClientRect().right)"
    )
    assert wide
    assert max(wide) <= 718
    prefer(chrome, "light")


def test_search_finds_a_record(chrome: Chrome, address: str) -> None:
    resize(chrome, 1280)
    chrome.get(f"{address}/index.html")
    told_by(chrome)
    chrome.find_element(By.CSS_SELECTOR, "[data-md-component=search-query]").send_keys("polycarbonate")
    _wait(chrome, "return document.querySelector('a.md-search-result__link')")
    # read at once: the list is made anew with every letter
    script = "return Array.from(document.querySelectorAll('a.md-search-result__link'), each => each.href)"
    assert any("/materials/pc.html" in each for each in chrome.execute_script(script))
    assert not told_by(chrome).severe


def test_pages_open_from_a_disk(chrome: Chrome, demo_site: DemoSite) -> None:
    resize(chrome, 1280)
    chrome.get((demo_site.folder / "records/index.html").as_uri())
    chrome.find_element(By.CSS_SELECTOR, "article .nb-records tbody a").click()
    assert chrome.current_url.endswith(".html")
    assert "/records/" in chrome.current_url
    assert _look(chrome)["charts"]


def test_text_of_a_data_file_never_runs(chrome: Chrome, tmp_path: Path) -> None:
    spy = chrome.execute_cdp_cmd(
        "Page.addScriptToEvaluateOnNewDocument", {"source": "window.hits = 0; window.hit = () => { window.hits += 1 }"}
    )
    site = hostile_site(tmp_path, "material")
    told_by(chrome)
    try:
        with served(site) as address:
            names = sorted(path.relative_to(site).as_posix() for path in site.rglob("*.html"))
            for name in names:
                chrome.get(f"{address}/{name}")
                assert chrome.execute_async_script(STIR) == 0, name
                assert chrome.execute_script(ALIVE) == [], name
            _assert_quiet(chrome, address)
            chrome.get(f"{address}/index.html")
            chrome.find_element(By.CSS_SELECTOR, "[data-md-component=search-query]").send_keys("script onerror")
            _wait(chrome, "return document.querySelector('a.md-search-result__link')")
            assert chrome.execute_script("return window.hits") == 0
            assert not chrome.find_elements(By.CSS_SELECTOR, ".md-search-result img, .md-search-result__list script")
            chrome.execute_script("hit()")
            assert chrome.execute_script("return window.hits") == 1, "the spy is there"
    finally:
        chrome.execute_cdp_cmd("Page.removeScriptToEvaluateOnNewDocument", spy)
