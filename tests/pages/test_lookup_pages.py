"""Look-up tables to print: the engine's numbers on the page and in the data file, and one sheet of paper a hammer."""

import csv
import io
import re
from dataclasses import replace
from pathlib import Path

import pytest
from page_html import pages_of

import small_handbook as small
from html_tree import Element, rows_of
from notchbook.evaluation.records import evaluate_record
from notchbook.facts.facts import Facts
from notchbook.handbook import Handbook
from notchbook.pages.sheets.lookups import HammerSheet, hammer_sheets, sheet_name


@pytest.fixture(scope="module")
def sheets(demo: Handbook) -> list[HammerSheet]:
    return list(hammer_sheets(Facts(demo)))


def _rows(page: Element) -> list[list[str]]:
    return [[cell.text for cell in row.values()] for table in page.all("table") for row in rows_of(table)]


def test_every_verified_hammer_has_a_page_and_a_place_in_the_list(
    demo: Handbook, demo_pages: dict[str, Element], sheets: list[HammerSheet]
) -> None:
    assert {(each.rig.id, each.line.hammer.id) for each in sheets} == set(demo.evaluation.by_hammer)
    index = demo_pages["lookup/index.md"]
    assert [each.attributes["id"] for each in index.all("h2")] == sorted(demo.library.rigs)
    targets = [each.attributes["href"] for each in index.all("a")]
    for each in sheets:
        assert f"{each.name}.html" in targets
        assert f"../{each.data_uri}" in targets
        assert f"lookup/{each.name}.md" in demo_pages


def test_exercise_links_to_the_tables_of_its_hammers(demo_pages: dict[str, Element]) -> None:
    blocks = demo_pages["exercises/notched-izod.md"].all("details", css="nb-lookup")
    links = [each.one("a").attributes["href"] for each in blocks]
    assert links == [f"../lookup/bench-2--izod-{each}.html" for each in ("1", "2.75", "5.5", "11")]


def test_page_shows_the_rows_of_the_engine(demo_pages: dict[str, Element], sheets: list[HammerSheet]) -> None:
    for sheet in sheets:
        table = sheet.table
        columns = (table.readings, table.energy_J, *table.strength_kJ_m2)
        rows = _rows(demo_pages[f"lookup/{sheet.name}.md"])
        assert len(rows) == table.readings.size
        assert len({row[0] for row in rows}) == len(rows)
        for shown, values in zip(rows, zip(*columns, strict=True), strict=True):
            for text, value in zip(shown, values, strict=True):
                decimals = len(text.partition(".")[2])
                # tolerance: half of the last digit, and the last bits of a binary fraction
                assert abs(float(text) - value) <= 0.5 * 10.0**-decimals * (1 + 1e-9)


def test_rows_are_what_a_record_of_nominal_bars_would_give(demo: Handbook, sheets: list[HammerSheet]) -> None:
    record = demo.library.records["2026-10-05-g1-pp-h-notched"]
    for sheet in sheets:
        (notched,) = [each for each in sheet.strengths if each.notched]
        on_angles = sheet.table.reads == "angle"
        bars = tuple(
            replace(
                record.specimens[0], id=str(place), thickness_mm=notched.section.thickness_mm,
                remaining_width_mm=notched.section.width_mm, rise_angle_deg=reading if on_angles else None,
                indicated_energy_J=None if on_angles else reading,
            )
            for place, reading in enumerate(sheet.table.readings.tolist())
        )  # fmt: skip
        assert sheet.line.method is not None
        found = evaluate_record(
            replace(record, specimens=bars), sheet.line.hammer, sheet.line.method, sheet.line.losses, None
        ).specimens
        place = sheet.strengths.index(notched)
        assert sheet.table.energy_J == pytest.approx([each.energy_J for each in found], rel=1e-12, abs=1e-12)
        assert sheet.table.strength_kJ_m2[place] == pytest.approx(
            [each.strength_kJ_m2 for each in found], rel=1e-12, abs=1e-12
        )


def test_sections_are_those_under_a_notch_and_without_one(sheets: list[HammerSheet]) -> None:
    for sheet in sheets:
        # ISO 179-1, Table 1 and Figure 2, and ISO 180 alike (from memory): 10 mm, of which a notch leaves 8 mm
        widths = [(each.notched, each.section.width_mm) for each in sheet.strengths]
        assert widths in ([(True, 8.0), (False, 10.0)], [(True, 8.0)])


def test_page_says_where_it_leaves_divisions_out(demo_pages: dict[str, Element], sheets: list[HammerSheet]) -> None:
    seen = set()
    for sheet in sheets:
        words = demo_pages[f"lookup/{sheet.name}.md"].text
        division = sheet.rig.indicator.division_deg or sheet.rig.indicator.division_J
        assert division is not None
        assert sheet.table.step == pytest.approx(division * sheet.table.divisions)
        seen.add(sheet.table.divisions == 1)
        assert ("division by division" in words) == (sheet.table.divisions == 1)
        assert (f"every {sheet.table.divisions:g} divisions of" in words) == (sheet.table.divisions > 1)
    assert seen == {True, False}


def test_data_holds_every_division(sheets: list[HammerSheet], demo_data: dict[str, str]) -> None:
    for sheet in sheets:
        head, *rows = csv.reader(io.StringIO(demo_data[sheet.data_uri]))
        reading = "rise_angle_deg" if sheet.table.reads == "angle" else "indicated_energy_J"
        assert head[:3] == [reading, "loss_J", "energy_J"]
        assert all(re.fullmatch(r"strength_(notched|plain)_[0-9.]+_mm_kJ_m2", each) for each in head[3:])
        assert sheet.every.divisions == 1
        columns = (sheet.every.readings, sheet.every.loss_J, sheet.every.energy_J, *sheet.every.strength_kJ_m2)
        # tolerance: half of the tenth digit
        for row, values in zip(rows, zip(*columns, strict=True), strict=True):
            assert [float(each) for each in row] == pytest.approx(list(values), rel=5.01e-10)


def test_names_are_of_one_kind(demo: Handbook) -> None:
    line = Facts(demo).hammers["bench-2", "izod-2.75"]

    def name(rig: str, hammer: str) -> str:
        return sheet_name(replace(line, hammer=replace(line.hammer, rig=rig, id=hammer)))

    assert sheet_name(line) == "bench-2--izod-2.75"
    assert name("a", "b--c") != name("a--b", "c")
    assert name("a-", "b") != name("a", "b")


def test_ended_verification_is_told_and_none_has_no_page(tmp_path: Path) -> None:
    contents = small.files()
    contents[small.VERIFICATION]["valid_until"] = "2026-10-20"
    pages = pages_of(small.opened(tmp_path, contents))
    told = "verification ended 20 October 2026: staff verify this hammer before it is used"
    assert told in pages["lookup/bench-1--charpy-1.md"].text
    assert "lookup/bench-1--charpy-2.md" not in pages
    assert "verification ended 20 October 2026" in pages["lookup/index.md"].text


def test_rig_without_a_verified_hammer_is_listed_without_tables(tmp_path: Path) -> None:
    contents = small.files()
    del contents[small.TEST], contents[small.VERIFICATION]
    pages = pages_of(small.opened(tmp_path, contents))
    assert "No hammer of this rig has been verified" in pages["lookup/index.md"].text
    assert [each for each in pages if each.startswith("lookup/")] == ["lookup/index.md"]
