"""The demo's pages of theory: what every one has, and that no number of a record is typed."""

import functools
import re
from pathlib import Path

import pytest

from conftest import DemoSite
from html_tree import Element, parse

SOURCES = Path(__file__).resolve().parents[2] / "site_src/theory"
PAGES = sorted(path.stem for path in SOURCES.glob("*.md") if path.stem != "index")
NOTATION = re.compile(r"\[\[[^\[\]\n]*\]\]")
FORMULA = re.compile(r"\$\$.+?\$\$|\$[^$\n]+\$", re.DOTALL)
WITH_UNIT = re.compile(r"[0-9]\s?(?:J|kJ/m²|J/m|m/s|Nm|mm²?|°(?! ?C))(?![A-Za-z/])")
DEFERS = re.compile(r"local risk assessment (and the responsible member of staff )?comes? before this page")
AT_THE_RIG = {"energy", "losses", "notch", "breaks", "charpy-izod", "temperature", "toss"}
"""Pages about work that can hurt somebody."""


@functools.cache
def _article(path: Path) -> Element:
    return parse(path.read_text(encoding="utf-8")).one("article")


def _page(site: DemoSite, name: str) -> Element:
    return _article(site.folder / f"theory/{name}.html")


def test_there_are_twelve_and_the_index_leads_to_each(demo_site: DemoSite) -> None:
    assert len(PAGES) == 12
    links = [each.attributes["href"] for each in _page(demo_site, "index").all("li") for each in each.all("a")]
    assert sorted(links) == [f"{name}.html" for name in PAGES]


@pytest.mark.parametrize("name", PAGES)
def test_page_has_a_picture_a_formula_and_an_example(name: str, demo_site: DemoSite) -> None:
    page = _page(demo_site, name)
    assert page.all("figure", css="nb-chart")
    # a formula may stand in the sentences, the main one stands by itself
    assert page.all("div", css="nb-formula")
    assert "Worked example" in [each.text for each in page.all("h2")]
    assert len(page.all("span", css="nb-quantity")) >= 3


@pytest.mark.parametrize("name", PAGES)
def test_everything_written_was_filled_in(name: str, demo_site: DemoSite) -> None:
    text = _page(demo_site, name).text
    assert "[[" not in text
    assert "$" not in text
    assert "–" not in [each.text for each in _page(demo_site, name).all("span", css="nb-quantity")]


@pytest.mark.parametrize("name", PAGES)
def test_no_number_of_a_record_is_typed(name: str) -> None:
    source = (SOURCES / f"{name}.md").read_text(encoding="utf-8")
    example = source[source.index("## Worked example") :].partition("\n## ")[0]
    rest = FORMULA.sub("", NOTATION.sub("", example))
    assert not WITH_UNIT.findall(rest)


@pytest.mark.parametrize("name", PAGES)
def test_page_is_one_screen_to_two(name: str) -> None:
    text = NOTATION.sub("value", (SOURCES / f"{name}.md").read_text(encoding="utf-8"))
    assert 150 <= len(text.split()) <= 560


@pytest.mark.parametrize("name", PAGES)
def test_cautions_come_first_where_work_can_hurt(name: str, demo_site: DemoSite) -> None:
    page = _page(demo_site, name)
    cautions = page.all("p", css="nb-caution")
    assert len(cautions) == (name in AT_THE_RIG)
    for caution in cautions:
        order = [each for each in page if each is caution or each.tag in ("figure", "h2") or each.tag == "p"]
        own = [each for each in order if "nb-notice" not in each.classes]
        assert own[0] is caution
        assert DEFERS.search(caution.text)


def test_numbers_from_memory_are_marked() -> None:
    for name, needle in (("losses", "ISO 148-1"), ("losses", "ISO 13802:1999"), ("notch", "Inglis"), ("breaks", "7.8"),
                         ("scatter", "6.4"), ("temperature", "−50 °C")):  # fmt: skip
        source = (SOURCES / f"{name}.md").read_text(encoding="utf-8")
        sentence = source[source.index(needle) :][:120]
        assert "from memory" in " ".join(sentence.split()), name


def test_cold_pages_name_the_cold(demo_site: DemoSite) -> None:
    exercise = _article(demo_site.folder / "exercises/cold-bars.html")
    assert exercise.with_id("hazard-cold-bars").text.count("gloves") >= 1
    for word in ("gloves", "spectacles", "Dry ice", "pinned"):
        assert word in _page(demo_site, "temperature").one("p", css="nb-caution").text
