"""A record of which more bars did not break than broke in any one way: everything that shows its result says so first.

ISO 179-1 and ISO 180: a result is reported for each type of failure, with the share of bars of each type, and bars that
did not break have no strength (from memory).
"""

from pathlib import Path
from typing import Any

import pytest
from page_html import pages_of

import small_handbook as small
from html_tree import Element
from notchbook.facts.facts import Facts
from notchbook.handbook import Handbook
from notchbook.pages.written.record_quantities import record_value
from notchbook.review.comparison import compare
from notchbook.review.words import move_words

PAGE = f"records/{small.TEST_ID}.md"


def _contents(letters: str) -> dict[str, Any]:
    contents: dict[str, Any] = small.files()
    for bar, letter in zip(contents[small.TEST]["specimens"], letters, strict=True):
        bar["break"] = letter
        if letter == "N":
            bar["rise_angle_deg"] = round(bar["rise_angle_deg"] - 20.0, 1)
    return contents


def _handbook(folder: Path, letters: str) -> Handbook:
    return small.opened(folder, _contents(letters))


@pytest.fixture(scope="module")
def handbook(tmp_path_factory: pytest.TempPathFactory) -> Handbook:
    return _handbook(tmp_path_factory.mktemp("unbroken"), "CCNNNNNNNN")


@pytest.fixture(scope="module")
def pages(handbook: Handbook) -> dict[str, Element]:
    return pages_of(handbook)


def test_the_head_of_its_page(pages: dict[str, Element]) -> None:
    first, second = pages[PAGE].one("div", css="nb-result").all("p", css="nb-value")
    assert first.text == "8 of 10 bars did not break (N): no strength"
    assert second.text.endswith("complete breaks, n = 2")
    assert "nb-second" in second.attributes["class"]


def test_lists_and_the_pages_of_material_and_exercise(pages: dict[str, Element]) -> None:
    for page in ("records/index.md", "materials/pp-h.md", "exercises/notched-charpy.md"):
        (row,) = [each for each in pages[page].all("td", css="nb-num") if "did not break" in each.text]
        assert row.text.startswith("8 of 10 did not break; ")
        assert row.text.endswith(" C of 2")


def test_charts(pages: dict[str, Element]) -> None:
    bars = pages[PAGE].all("svg")[0].text
    assert "10 specimens. 8 of 10 did not break. Break type complete (C): mean of 2" in bars
    assert "no break 8 of 10" in bars
    several = pages["materials/pp-h.md"].one("svg")
    results = [each.text for each in several.all("text") if " of 10)" in each.text]
    assert results[0] == "N (8 of 10)"
    assert results[1].endswith("C (2 of 10)")


def test_test_report(pages: dict[str, Element]) -> None:
    report = pages[PAGE].one("dl", css="nb-report").text
    assert "8 of 10 bars did not break (N); of the others C: " in report
    assert "8 N (80 %), 2 C (20 %)" in report


def test_values_for_written_pages(handbook: Handbook) -> None:
    line = Facts(handbook).record(small.TEST_ID)
    shown = record_value(line, "result", [])
    assert shown is not None
    assert shown.startswith("8 of 10 bars did not break; ")
    assert shown.endswith("of 2 (C)")


def test_a_review_says_how_many_did_not_break(handbook: Handbook, tmp_path: Path) -> None:
    review = compare(_handbook(tmp_path, "CCCNNNNNNN"), handbook, "before")
    (move,) = review.moves
    assert "8 of 10 bars that did not break, 7 of 10 before" in move.causes
    assert "->" in move_words(move)


@pytest.mark.parametrize(
    ("letters", "first"),
    [("CCCCCNNNNN", "complete breaks"), ("CCCPPPNNNN", "bars did not break"), ("NNNNNNNNNN", "bars did not break")],
)
def test_the_most_frequent_leads(letters: str, first: str, tmp_path: Path) -> None:
    head = pages_of(_handbook(tmp_path, letters))[PAGE].one("div", css="nb-result")
    assert first in head.all("p", css="nb-value")[0].text
