"""QR codes, read by another library than the one that made them, and where on the page they stand."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from html_tree import parse
from notchbook.handbook import Handbook
from notchbook.pages.page import Links
from notchbook.pages.sheets.qr_code import QUIET_ZONE, qr_code
from notchbook.pages.site import build_site
from qr_reading import modules_of, read_path, read_svg

SITE = "https://handbook.example/impact/"
URL = st.from_regex(r"https://[a-z0-9.-]{1,30}/[A-Za-z0-9._~%/-]{0,120}", fullmatch=True)


@given(URL)
def test_another_library_reads_the_address(address: str) -> None:
    code = qr_code(address)
    assert code is not None
    assert read_path(code.path, code.modules) == [address]


@pytest.mark.parametrize("address", ["https://labor.example/prüfung/", "https://x.example/?a=<b>&c=\"d'"])
def test_an_address_of_other_characters_is_read(address: str) -> None:
    code = qr_code(address)
    assert code is not None
    assert read_path(code.path, code.modules) == [address]


@pytest.mark.parametrize("length", [20, 60, 150, 400])
def test_quiet_zone_and_size_in_print(length: int) -> None:
    code = qr_code("https://x.example/".ljust(length, "a"))
    assert code is not None
    dark = modules_of(code.path, code.modules)
    rows, columns = dark.any(axis=1).nonzero()[0], dark.any(axis=0).nonzero()[0]
    # ISO/IEC 18004: four light modules on each side (from memory, high certainty)
    assert QUIET_ZONE == 4
    assert {rows[0], columns[0], code.modules - 1 - rows[-1], code.modules - 1 - columns[-1]} == {4}
    inside = len(range(rows[0], rows[-1] + 1))
    # ISO/IEC 18004: 21 modules to 177 in steps of 4 (from memory, high certainty)
    assert inside in range(21, 178, 4)
    # tolerance: the width is given to 0.01 mm
    assert code.width_mm * inside / code.modules >= 25.0 - 0.01
    assert code.width_mm / code.modules >= 0.5 - 0.0001


def test_what_no_code_holds_has_none() -> None:
    # ISO/IEC 18004: 2331 bytes at error correction M in the largest code (from memory, high certainty)
    assert qr_code("a" * 2331) is not None
    assert qr_code("a" * 2332) is None


@pytest.mark.parametrize(
    ("directory_urls", "wanted"),
    [(False, f"{SITE}rigs/bench-1.html"), (True, f"{SITE}rigs/bench-1/")],
    ids=["html", "directories"],
)
@pytest.mark.parametrize("site_url", [SITE, SITE.rstrip("/")])
def test_address_from_anywhere(site_url: str, directory_urls: bool, wanted: str) -> None:
    assert Links("records/x.md", directory_urls, site_url).whole("rigs", "bench-1") == wanted


def test_without_a_site_address_there_is_none() -> None:
    assert Links("records/x.md", False).whole("rigs", "bench-1") is None


@pytest.mark.parametrize("directory_urls", [False, True], ids=["html", "directories"])
def test_exercises_rigs_and_wall_cards_carry_their_address(demo: Handbook, directory_urls: bool) -> None:
    site = build_site(demo, site_url=SITE, directory_urls=directory_urls).pages
    end = "/" if directory_urls else ".html"
    pages = {f"exercises/{each}": f"exercises/{each}" for each in demo.library.exercises}
    pages |= {f"rigs/{each}": f"rigs/{each}" for each in demo.library.rigs}
    pages |= {f"rigs/{each}--wall-card": f"rigs/{each}" for each in demo.library.rigs}
    for page, leads_to in pages.items():
        code = parse(site[f"{page}.md"].body).one("div", css="nb-code")
        svg = code.one("svg")
        assert read_svg(svg) == [f"{SITE}{leads_to}{end}"]
        assert svg.one("desc").text == code.one("p").text == f"{SITE}{leads_to}{end}"
        assert svg.one("title").text == "QR code"
        assert ("nb-paper" in code.classes) == ("wall-card" not in page)


def test_staff_are_told_why_there_is_no_code(demo: Handbook) -> None:
    site = build_site(demo).pages
    for page in ("exercises/notched-charpy.md", "rigs/bench-1.md", "rigs/bench-1--wall-card.md"):
        code = parse(site[page].body).one("div", css="nb-code")
        assert code.text == "No site address is set (site_url in mkdocs.yml), so there is no code."
        assert not code.all("svg")


def test_an_address_too_long_for_a_code_stands_in_letters(demo: Handbook) -> None:
    site = build_site(demo, site_url=f"https://x.example/{'a' * 3000}/").pages
    code = parse(site["rigs/bench-1.md"].body).one("div", css="nb-code")
    assert not code.all("svg")
    assert code.text.endswith("a/rigs/bench-1.html (too long for a code)")
