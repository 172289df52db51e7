"""The empty record of an exercise: what a test record needs can be written on it, and nothing is filled in."""

from pathlib import Path
from typing import Any

import pytest
from page_html import pages_of

import small_handbook as small
from html_tree import Element, parse
from notchbook.facts.facts import Facts
from notchbook.handbook import Handbook
from notchbook.pages.sheets.bench_sheet import MOST_ROWS, SPARE_ROWS, bench_sheet
from notchbook.pages.site import build_site

MOST_BYTES = 8000


def _heads(sheet: Element) -> list[str]:
    return [each.text for each in sheet.all("table", css="nb-to-fill")[0].one("thead").all("th")]


def _names(sheet: Element) -> list[str]:
    """Names of the rows, the spare ones left out."""
    return [
        row.one("th").text for body in sheet.all("tbody") if "nb-spare" not in body.classes for row in body.all("tr")
    ]


def _fields(sheet: Element) -> list[str]:
    return [each.text for each in sheet.one("div", css="nb-blanks").all("p")]


def _sheet(pages: dict[str, Element], exercise: str) -> Element:
    return pages[f"exercises/{exercise}.md"].one("section", css="nb-bench")


def _small_sheet(root: Path, contents: dict[str, Any]) -> Element:
    return _sheet(pages_of(small.opened(root, contents)), "notched-charpy")


def test_a_row_a_specimen_and_nothing_filled_in(demo: Handbook, demo_pages: dict[str, Element]) -> None:
    for exercise in demo.library.exercises.values():
        sheet = _sheet(demo_pages, exercise.id)
        if exercise.number_of_specimens is not None:
            assert _names(sheet) == [f"{each:02}" for each in range(1, exercise.number_of_specimens + 1)]
            spare = sheet.one("tbody", css="nb-spare").all("tr")
            assert [each.one("th").text for each in spare] == ["spare"] * SPARE_ROWS
        assert not [each for each in sheet.all("td") if each.text]
        for row in sheet.all("tr"):
            assert len(row.all("th", "td")) == len(_heads(sheet))


def test_columns_are_the_keys_of_a_specimen(demo_pages: dict[str, Element]) -> None:
    # formats of a test record: id, width_mm, thickness_mm, remaining_width_mm with a notch, a reading, break, excluded
    before, after = ["Bar", "Width, mm", "Thickness, mm"], ["Break", "Remarks"]
    either = "Rise, °, or indicated energy, J"
    under = "Remaining width, mm"
    assert _heads(_sheet(demo_pages, "notched-charpy")) == [*before, under, either, *after]
    assert _heads(_sheet(demo_pages, "unnotched-charpy")) == [*before, either, *after]
    # only the rig that reads energy has a clamp, only the one that reads angles has hammers for cold bars
    assert _heads(_sheet(demo_pages, "notched-izod")) == [*before, under, "Indicated energy, J", *after]
    assert _heads(_sheet(demo_pages, "cold-bars")) == [*before, under, "Rise, °", *after]


def test_fields_are_what_a_record_says_once(demo_pages: dict[str, Element]) -> None:
    fields = _fields(_sheet(demo_pages, "cold-bars"))
    assert fields == [
        "Date", "Group", "Rig", "Hammer", "Handed over by", "Material", "Batch",
        "Conditioning, °C", "Conditioning, % r.h.", "Conditioning, h", "Room, °C", "Room, % r.h.",
        "Free swing 1, °", "Free swing 2, °",
    ]  # fmt: skip
    assert _fields(_sheet(demo_pages, "notched-charpy"))[-2:] == ["Free swing 1, ° or J", "Free swing 2, ° or J"]
    assert _fields(_sheet(demo_pages, "notched-izod"))[-2:] == ["Free swing 1, J", "Free swing 2, J"]


def test_each_rig_says_how_it_is_read_and_the_method_its_letters(demo_pages: dict[str, Element]) -> None:
    words = _sheet(demo_pages, "notched-charpy").text
    assert "Bench pendulum 1: angle of rise to its division, 0.2°." in words
    assert "Bench pendulum 2: indicated energy to its division, 0.002 J." in words
    # ISO 179-1, 9.x: C, H, P and N (letters as in the contract of a test record)
    assert "Break: C complete, H hinge, P partial, N" in words
    assert "Bench pendulum 1" not in _sheet(demo_pages, "notched-izod").text


def test_an_exercise_without_bars_asks_the_readings_of_a_verification(demo_pages: dict[str, Element]) -> None:
    sheet = _sheet(demo_pages, "pendulum-losses")
    # keys of a verification: weighing, period, free swings
    assert _names(sheet) == [
        "Force of the level pendulum, N", "Arm, axis to where it rests, mm", "Amplitude of the small swings, °",
        "Full swings counted", "Time of these swings, s", "First rise, °, or first indicated energy, J",
        "Second rise, °, or second indicated energy, J", "Half swings from the second to the later",
        "Later rise, °, or later indicated energy, J",
    ]  # fmt: skip
    assert _heads(sheet) == ["Reading", "Once", "Again", "A third time", "Remarks"]
    assert not sheet.all("tbody", css="nb-spare")
    assert _fields(sheet) == ["Date", "Group", "Rig", "Hammer", "Handed over by"]


@pytest.mark.parametrize(("number", "tables"), [(1, [1]), (25, [25]), (26, [25, 1]), (120, [25, 25, 25, 25, 20])])
def test_many_bars_stand_in_tables_that_fit_on_a_sheet(number: int, tables: list[int], tmp_path: Path) -> None:
    contents = small.files()
    del contents[small.TEST]
    contents[small.EXERCISE]["number_of_specimens"] = number
    sheet = _small_sheet(tmp_path, contents)
    found = [each.all("tbody") for each in sheet.all("table", css="nb-to-fill")]
    assert [len(bodies[0].all("tr")) for bodies in found] == tables
    # rows of 7 mm, two spare ones, a head of 6 mm and 35 mm above them on 276 mm of a sheet
    assert (MOST_ROWS + SPARE_ROWS) * 7 + 6 + 35 <= 276
    assert [len(bodies) for bodies in found] == [*[1] * (len(tables) - 1), 2]
    width = max(len(str(number)), 2)
    assert _names(sheet) == [f"{each:0{width}}" for each in range(1, number + 1)]


def test_without_a_rig_a_reading_may_be_either(demo: Handbook) -> None:
    exercise = demo.library.exercises["notched-charpy"]
    sheet = bench_sheet(exercise, demo.library.methods[exercise.method], [])
    assert "Rise, °, or indicated energy, J" in sheet.columns
    assert "Free swing 1, ° or J" in sheet.fields
    with_rigs = bench_sheet(exercise, None, Facts(demo).rigs_with_hammers(exercise.method))
    assert len(with_rigs.tables[0]) == exercise.number_of_specimens


def test_all_of_it_is_for_paper_and_small(demo: Handbook) -> None:
    pages = build_site(demo, site_url="https://handbook.example/").pages
    for exercise in demo.library.exercises:
        html = pages[f"exercises/{exercise}.md"].body
        page = parse(html)
        sheet, code = page.one("section", css="nb-bench"), page.one("div", css="nb-code")
        assert "nb-paper" in sheet.classes & code.classes
        assert "data-search-exclude" in sheet.attributes
        begin, code_begin = html.index('<section class="nb-paper nb-bench"'), html.index('<div class="nb-code')
        size = html.index('<p class="nb-small">Data file') - begin
        assert size + html.index("</div>", code_begin) - code_begin < MOST_BYTES
