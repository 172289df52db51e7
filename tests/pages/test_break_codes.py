"""A department's method with codes of its own for how a bar breaks: every page and file says them as it does.

The method of `examples/break-type/good-codes-of-several-letters` has the codes C, H, CH, p2 and NB. C and H share a
mean, which is another set than that of CH.
"""

import csv
import datetime as dt
import io
import json
from pathlib import Path

import pytest
from page_html import pages_of

from case_folders import prepare
from html_tree import Element
from notchbook.facts.facts import Facts
from notchbook.handbook import Handbook, open_handbook
from notchbook.model.quantity import IMPACT_STRENGTH
from notchbook.pages.data.files import data_files
from notchbook.pages.sheets.lookups import hammer_sheets
from notchbook.pages.written.record_quantities import record_value
from notchbook.review.comparison import compare
from notchbook.writing import cells

CASE = Path(__file__).resolve().parents[1] / "checks/examples/break-type/good-codes-of-several-letters"
RECORD = "2026-10-06-g2-pp-h"
NAMES = ["C+H", "CH", "p2"]
"""Of the sets, the largest first."""
MEANINGS = {"C": "clean", "H": "hinge", "CH": "chipped", "p2": "half through", "NB": "unbroken"}


@pytest.fixture(scope="module")
def handbook(tmp_path_factory: pytest.TempPathFactory) -> Handbook:
    root = tmp_path_factory.mktemp("codes") / "handbook"
    prepare(CASE, root)
    return open_handbook(root, day=dt.date(2027, 3, 15))


@pytest.fixture(scope="module")
def pages(handbook: Handbook) -> dict[str, Element]:
    return pages_of(handbook)


@pytest.fixture(scope="module")
def data(handbook: Handbook) -> dict[str, str]:
    return data_files(Facts(handbook), list(hammer_sheets(Facts(handbook))))


@pytest.fixture(scope="module")
def record_page(pages: dict[str, Element]) -> str:
    return pages[f"records/{RECORD}.md"].text


def test_each_code_has_its_role_in_the_method(handbook: Handbook) -> None:
    breaks = handbook.library.methods["iso-179-1"].breaks
    assert {each: breaks.role_of(each) for each in [*MEANINGS, "h", "c"]} == {
        "C": "complete", "H": "hinge", "CH": "partial", "p2": "partial", "NB": "none", "h": None, "c": None,
    }  # fmt: skip
    assert breaks.set_name(["C", "H"]) != breaks.set_name(["CH"])


def test_codes_of_one_letter_stand_side_by_side_in_the_name_of_a_set(handbook: Handbook) -> None:
    assert handbook.library.methods["iso-180"].breaks.set_name(["C", "H"]) == "CH"


def test_every_set_has_a_name_of_its_own(handbook: Handbook, data: dict[str, str]) -> None:
    assert [each.name for each in handbook.evaluation.records[RECORD].sets] == NAMES
    rows = list(csv.DictReader(io.StringIO(data["data/sets.csv"])))
    keys = [(each["test"], each["breaks"]) for each in rows]
    assert [name for test, name in keys if test == RECORD] == NAMES
    assert len(set(keys)) == len(keys)
    sets = json.loads(data[f"data/records/{RECORD}.json"])["results"]["sets"]
    assert [each["name"] for each in sets] == NAMES
    assert [each["breaks"] for each in sets] == [["C", "H"], ["CH"], ["p2"]]


def test_the_list_of_records_says_the_codes_that_its_methods_have(pages: dict[str, Element]) -> None:
    lead = pages["records/index.md"].text.partition("the way the bars broke: ")[2].partition(".")[0]
    both = {"C": "clean or complete", "N": "none", "P": "partial"}  # iso-180 has its own codes
    assert dict(each.split(" ", 1) for each in lead.split(", ")) == MEANINGS | both


def test_a_result_says_what_it_is_a_value_of(handbook: Handbook, data: dict[str, str]) -> None:
    result = handbook.evaluation.records[RECORD]
    assert {each.quantity for each in result.sets} == {result.quantity}
    # ISO 179-1: a_cN is the symbol of the impact strength of notched bars, from memory
    assert (result.quantity.name, result.quantity.unit, result.quantity.symbol) == ("impact strength", "kJ/m²", "a_cN")
    told = json.loads(data[f"data/records/{RECORD}.json"])["quantity"]
    assert told == {"name": IMPACT_STRENGTH.name, "unit": IMPACT_STRENGTH.unit, "symbol": "a_cN"}


def test_the_page_of_the_record_shows_the_codes_with_their_titles(pages: dict[str, Element], record_page: str) -> None:
    for code, title in MEANINGS.items():
        assert f"{code}: {title}" in record_page
    assert "NB 1 of 10 bars did not break" in " ".join(record_page.split())
    shown = {
        each.text: (each.attributes["class"], each.attributes["title"])
        for each in pages[f"records/{RECORD}.md"]
        if each.tag == "abbr" and "nb-break" in each.attributes.get("class", "")
    }
    assert shown == {
        "C": ("nb-break nb-break-complete", "clean"),
        "H": ("nb-break nb-break-hinge", "hinge"),
        "CH": ("nb-break nb-break-partial", "chipped"),
        "p2": ("nb-break nb-break-partial", "half through"),
        "NB": ("nb-break nb-break-none", "unbroken"),
    }


def test_charts_name_each_code_and_say_of_those_without_a_strength_that_they_did_not_break(record_page: str) -> None:
    words = " ".join(record_page.split())
    assert "Break type clean (C) and hinge (H): mean of 5" in words
    assert "Break type chipped (CH): mean of 2" in words
    assert "Break type half through (p2): mean of 2" in words
    for code, title in MEANINGS.items():
        assert f"{code} {title}" in words  # in the key
    assert "no break" in words
    assert "no value 09" not in words


@pytest.mark.parametrize("page", ["materials/pp-h.md", "exercises/notched-charpy.md"])
def test_charts_of_several_records_name_the_codes(pages: dict[str, Element], page: str) -> None:
    words = " ".join(pages[page].text.split())
    for code, title in MEANINGS.items():
        assert f"{code} {title}" in words


def test_the_list_of_records_tells_the_unbroken_bars_by_their_code(pages: dict[str, Element]) -> None:
    words = " ".join(pages["records/index.md"].text.split())
    assert "1 NB" in words
    assert "1 N;" not in words


@pytest.mark.parametrize("name", NAMES)
def test_a_hand_written_page_can_name_each_set(handbook: Handbook, name: str) -> None:
    (found,) = [each for each in handbook.evaluation.records[RECORD].sets if each.name == name]
    shown = record_value(Facts(handbook).record(RECORD), f"{name} mean", [])
    assert shown is not None
    assert float(shown.split("\N{NO-BREAK SPACE}")[0]) == pytest.approx(found.summary.mean, rel=1e-2)


def test_the_bench_sheet_and_the_method_list_the_codes(pages: dict[str, Element]) -> None:
    assert "Break: C clean, H hinge, CH chipped, p2 half through, NB unbroken." in " ".join(
        pages["exercises/notched-charpy.md"].text.split()
    )
    method = pages["methods/iso-179-1.md"].text
    assert all(f"{code}, {title}" in method for code, title in MEANINGS.items())


def test_a_review_names_the_sets_that_moved(handbook: Handbook, tmp_path: Path) -> None:
    prepare(CASE, tmp_path / "handbook")
    path = tmp_path / f"handbook/results/tests/{RECORD}.yaml"
    path.write_text(
        path.read_text("utf-8").replace("rise_angle_deg: 85.8, break: CH", "rise_angle_deg: 86.8, break: CH")
    )
    changed = open_handbook(tmp_path / "handbook", day=handbook.day)
    assert [each.breaks for each in compare(handbook, changed, "0123abc").moves] == [("CH",)]


@pytest.mark.parametrize(
    ("written", "code"),
    [("NB", "NB"), ("nb", "NB"), ("p2", "p2"), ("CH", "CH"), ("Half through", "p2"), ("C", "C"), ("hinged", "H")],
)
def test_a_table_may_say_a_code_or_its_title(written: str, code: str) -> None:
    assert cells.break_letter(written, MEANINGS) == code


def test_codes_that_differ_in_capitals_alone_are_told_apart() -> None:
    titles = {"P2": "through", "p2": "half through"}
    assert [cells.break_letter(each, titles) for each in titles] == list(titles)
