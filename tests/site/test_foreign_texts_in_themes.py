"""Texts of data files stay texts in the whole page: its title, navigation and search as the themes make them."""

import json
from pathlib import Path

import pytest
from hostile_site import MATERIAL_TITLE, THEMES, hostile_site

from html_tree import Element, parse
from repeating import repeated

pytestmark = pytest.mark.repeats

SEARCHED = {"document", "p", "ul", "ol", "li", "code", "pre", "h2", "h3", "em", "strong", "b", "i", "sub", "sup", "br",
            "dl", "dt", "dd"}  # fmt: skip


def _pages(site: Path) -> dict[str, Element]:
    return {path.relative_to(site).as_posix(): parse(path.read_text(encoding="utf-8")) for path in site.rglob("*.html")}


def _form(page: Element) -> list[tuple[int, str, tuple[str, ...]]]:
    """Depth, tag and names of attributes of all but indices of symbols and what charts are made of."""
    return [
        (len(each.ancestors), each.tag, tuple(sorted(each.attributes)))
        for each in page
        if each.tag != "sub" and not any(above.tag == "svg" for above in each.ancestors)
    ]


@pytest.mark.parametrize("theme", repeated(THEMES, but=["material"]))
def test_page_keeps_its_form(theme: str, tmp_path: Path) -> None:
    plain = _pages(hostile_site(tmp_path / "plain", theme, plain=True))
    pages = _pages(hostile_site(tmp_path / "hostile", theme))
    assert pages.keys() == plain.keys()
    for name, page in pages.items():
        assert _form(page) == _form(plain[name]), name
        assert not [each for chart in page.all("svg") for each in chart.all("script", "foreignobject", "image", "a")]
    material = pages["materials/pp-h.html"]
    assert MATERIAL_TITLE in material.one("head").one("title").text
    assert MATERIAL_TITLE in [each.text for each in material.all("h1")]
    index = json.loads((tmp_path / "hostile/site/search/search_index.json").read_text(encoding="utf-8"))
    for each in index["docs"]:
        # the search of the theme sets title and text of a hit as markup
        for part in (each["title"], each["text"]) if theme == "material" else ():
            assert {found.tag for found in parse(part)} <= SEARCHED, each["location"]
