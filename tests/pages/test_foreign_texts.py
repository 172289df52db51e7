"""Whatever stands in a data file, a page shows it as text and keeps its own form."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from page_html import pages_of

import hostile_handbook as hostile
import small_handbook as small
from html_tree import Element
from notchbook.findings import printable
from notchbook.handbook import open_handbook
from repeating import repeated

SETTINGS = "plugins:\n  - notchbook:\n      deviations: label\n"
NOT_FROM_DATA = {"script", "img", "iframe", "object", "embed", "form", "input", "style", "link", "meta", "base",
                 "foreignobject", "animate", "set", "image"}  # fmt: skip
NAME = '<b>{0}`" '


def _pages(
    root: Path, text_of: Callable[[int], str], name_of: Callable[[str], str]
) -> tuple[dict[str, Element], dict[str, str]]:
    files, placed = hostile.handbook_of(text_of, name_of)
    small.write(root, {**files, "mkdocs.yml": SETTINGS})
    handbook = open_handbook(root, day=small.DAY)
    assert not [each for each in handbook.findings if each.severity == "error"]
    return pages_of(handbook), placed


def _form(page: Element) -> list[tuple[int, str, tuple[str, ...], tuple[str, ...]]]:
    """Depth, tag, names of attributes and classes of every element.

    Left out are the marks of the charts, which make room for their texts, and the lowered indices of symbols.
    """
    return [
        (len(each.ancestors), each.tag, tuple(sorted(each.attributes)), tuple(sorted(each.classes)))
        for each in page
        if each.tag != "sub" and not any(above.tag == "svg" for above in each.ancestors)
    ]


@pytest.fixture(scope="module")
def plain_form(tmp_path_factory: pytest.TempPathFactory) -> dict[str, list]:
    pages, _ = _pages(tmp_path_factory.mktemp("plain"), lambda _: "plain", lambda word: f"x{word}")
    return {uri: _form(page) for uri, page in pages.items()}


def _is_own(element: Element) -> bool:
    """Whether it is a field, a style or a script of the handbook; that none is added the plain page is held against."""
    if element.tag in ("script", "link"):
        source = element.attributes.get("src" if element.tag == "script" else "href", "")
        is_data = element.attributes.get("type") in ("application/json", "application/ld+json")
        return is_data or source.startswith("../assets/")
    return element.tag in ("form", "input")


def _assert_nothing_comes_alive(pages: dict[str, Element]) -> None:
    for uri, page in pages.items():
        for element in page:
            assert element.tag not in NOT_FROM_DATA or _is_own(element), uri
            assert not [name for name in element.attributes if name.startswith("on")], uri
            assert element.tag != "use" or element.attributes["href"].startswith("#"), uri
            for name in ("href", "src"):
                assert not element.attributes.get(name, "").lower().startswith("javascript:"), uri


@pytest.mark.parametrize("shift", repeated(range(len(hostile.HOSTILE)), but=range(0, 99, 4)))
def test_texts_are_text(shift: int, tmp_path: Path, plain_form: dict[str, list]) -> None:
    def text_of(number: int) -> str:
        return hostile.HOSTILE[(number + shift) % len(hostile.HOSTILE)]

    pages, placed = _pages(tmp_path, text_of, NAME.format)
    _assert_nothing_comes_alive(pages)
    assert {uri: _form(page) for uri, page in pages.items()} == plain_form
    everything = " ".join(page.text for page in pages.values())
    for text, place in placed.items():
        visible = re.sub(r"\s+", " ", re.sub("[\u202a-\u202e\u2066-\u2069\x1b]", "\ufffd", text)).strip()
        # a symbol of a method has its index lowered instead of the underscore
        lowered = visible.replace("_", "", 1) if place.endswith(" symbol") else visible
        # what a finding says is on one line
        told = printable(" ".join(text.split()))
        assert any(each in everything for each in (visible, lowered, told)), place
