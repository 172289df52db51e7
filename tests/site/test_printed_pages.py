"""Reports, rigs and records on paper: A4, every column of every table, and white whatever the screen was."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from browser import browser, served
from printing import needs_programs, picture, print_page, said, sheets
from selenium.webdriver import Chrome

from conftest import DemoSite
from html_tree import parse
from repeating import repeated

pytestmark = needs_programs
VERIFICATION = "verifications/2026-09-08-bench-1-charpy-1.html"
PAGES = (
    VERIFICATION,
    "rigs/bench-1.html",
    "rigs/bench-2.html",
    "records/2025-10-06-lt-1-pp-h-notched.html",
    "materials/pp-h.html",
    "methods/iso-179-1.html",
)
_LEAST_MARGIN_PT = 20.0


@pytest.fixture(scope="module")
def printer(demo_site: DemoSite, tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Chrome, str]]:
    with served(demo_site.folder) as url, browser(tmp_path_factory.mktemp("printing")) as chrome:
        yield chrome, url


def printed(printer: tuple[Chrome, str], page: str, target: Path, scheme: str = "light") -> Path:
    chrome, url = printer
    return print_page(chrome, f"{url}/{page}", target, scheme)


@pytest.mark.parametrize("page", repeated(PAGES, but=PAGES[:2]))
def test_no_word_of_a_table_is_cut_off(
    page: str, printer: tuple[Chrome, str], demo_site: DemoSite, tmp_path: Path
) -> None:
    pdf = printed(printer, page, tmp_path / "page.pdf")
    assert "(A4)" in said("pdfinfo", str(pdf))
    layout = said("pdftotext", "-bbox", str(pdf), "-")
    width = max(float(each) for each in re.findall(r'<page width="([\d.]+)"', layout))
    right = [float(each) for each in re.findall(r'xMax="([\d.]+)"', layout)]
    assert max(right) < width - _LEAST_MARGIN_PT
    # a glyph of another font may come out as another character; what is compared is letters and digits
    words = set(re.findall(r"[a-z0-9]+", re.sub(r"<[^>]*>", " ", layout).lower()))
    shown = parse((demo_site.folder / page).read_text(encoding="utf-8"))
    tables = shown.all("table")
    assert tables
    for table in tables:
        for row in table.all("tr"):
            last = row.all("th", "td")[-1].text
            assert set(re.findall(r"[a-z0-9]{3,}", last.lower())) <= words, last


def test_a_verification_fits_on_both_sides_of_a_sheet(printer: tuple[Chrome, str], tmp_path: Path) -> None:
    pdf = printed(printer, VERIFICATION, tmp_path / "report.pdf")
    assert len(sheets(pdf)) == 2
    last = said("pdftotext", "-f", "2", str(pdf), "-")
    assert "Responsible person" in last
    assert "Signature" in last


@pytest.mark.parametrize("page", [VERIFICATION, "records/2025-10-06-lt-1-pp-h-notched.html"])
def test_a_dark_screen_prints_on_white(page: str, printer: tuple[Chrome, str], tmp_path: Path) -> None:
    shades = {}
    for scheme in ("light", "dark"):
        pdf = printed(printer, page, tmp_path / f"{scheme}.pdf", scheme)
        shades[scheme] = picture(pdf, dots_per_inch=20).mean()
    assert shades["dark"] == pytest.approx(shades["light"], abs=1.0)
    assert shades["light"] > 200
