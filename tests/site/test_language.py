"""Who listens to a page hears each part of it in the language that it is written in (WCAG 2.2, 3.1.1 and 3.1.2)."""

from pathlib import Path

import pytest
from site_building import built, run

import small_handbook as small
from html_tree import Element, parse

RULES = "# Hausregeln\n\nIm Labor wird eine Schutzbrille getragen.\n"
NOTICE = "Die Daten sind erfunden."


def _handbook(root: Path, theme: str) -> Path:
    plugins = f"plugins: [search, {{notchbook: {{notice: {NOTICE}}}}}]\n"
    settings = f"site_name: Pendel\nuse_directory_urls: false\ntheme: {{{theme}, font: false}}\n{plugins}"
    return small.write(root, {**small.files(), "mkdocs.yml": settings, "docs/regeln.md": RULES})


def _language(page: Element, wanted: str) -> str:
    """The language of a part whose own text begins so: that of the nearest element around it that names one."""
    part = [each for each in page.one("article") if each.text.startswith(wanted)][-1]
    return next(each.attributes["lang"] for each in (part, *part.ancestors) if "lang" in each.attributes)


@pytest.fixture(params=["plugin", "export"])
def folder(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    root = _handbook(tmp_path / "lab", "name: material, language: de")
    if request.param == "plugin":
        return built(root, "--strict")
    done = run(root, "notchbook", "export", "--html", str(tmp_path / "out"))
    assert done.returncode == 0, done.stdout
    return tmp_path / "out"


def test_each_part_of_a_page_has_its_language(folder: Path) -> None:
    computed, by_hand = (parse((folder / name).read_text("utf-8")) for name in ("rigs/bench-1.html", "regeln.html"))
    assert computed.one("html").attributes["lang"] == by_hand.one("html").attributes["lang"] == "de"
    assert computed.one("article").one("div", css="nb-page").attributes["lang"] == "en"
    assert _language(computed, "Striking length") == _language(computed, "Handbook of") == "en"
    assert _language(computed, NOTICE) == _language(by_hand, NOTICE) == "de"
    assert _language(by_hand, "Im Labor") == "de"
    assert _language(by_hand, "Handbook of") == "en"


@pytest.mark.parametrize("theme", ["name: material", "name: material, language: en"])
def test_a_site_in_english_says_so_once(theme: str, tmp_path: Path) -> None:
    page = parse((built(_handbook(tmp_path, theme)) / "rigs/bench-1.html").read_text("utf-8"))
    assert page.one("html").attributes["lang"] == "en"
    assert [each for each in page.one("article") if "lang" in each.attributes] == []
