"""Pages on which groups are compared: the numbers of the results, in tables and words, and the ways to them."""

from typing import Any

import pytest

from html_tree import Element, rows_of
from notchbook.facts.facts import Facts
from notchbook.handbook import Handbook
from notchbook.pages.comparison.pages import INDEX, comparison_uri
from notchbook.pages.comparison.two_sets import URI as TWO_SETS
from notchbook.pages.site import build_site

URI = "comparisons/notched-charpy_pp-h_2026-08.md"
"""The everyday material of the demo in its newest half-year."""


def _tables(page: Element, head: str) -> list[list[dict[str, Element]]]:
    return [rows_of(table) for table in page.all("table") if head in table.text]


def test_numbers_are_those_of_the_results(demo_pages: dict[str, Element], demo_results: dict[str, Any]) -> None:
    (found,) = [each for each in demo_results["comparisons"] if each["batch"] == "PP-26-01" and each["notch"] == "A"]
    (rows,) = _tables(demo_pages[URI], "In words")
    assert len(rows) == len(found["groups"]) >= 4
    for row, group in zip(rows, found["groups"], strict=True):
        assert row["Group"].one("a").attributes["href"].endswith(f"records/{group['record']}.html")
        assert int(row["Bars"].text) == group["n"]
        # tolerance: what is shown is rounded to three figures or two decimals
        assert float(row["Mean, kJ/m²"].text) == pytest.approx(group["mean_kJ_m2"], rel=0.0051)
        assert float(row["h"].text.replace("−", "-")) == pytest.approx(group["h"], abs=0.0051)
        assert float(row["k"].text) == pytest.approx(group["k"], abs=0.0051)
        assert row["In words"].text.startswith("bars scatter like everyone's; mean ")
    (parts,) = _tables(demo_pages[URI], "repeatability")
    names = ("repeatability_sd_kJ_m2", "between_sd_kJ_m2", "reproducibility_sd_kJ_m2")
    for row, name in zip(parts, names, strict=True):
        assert float(row["kJ/m²"].text) == pytest.approx(found[name], rel=0.051)


def test_what_it_can_mean_stands_on_each_page(demo_pages: dict[str, Element]) -> None:
    for uri, page in demo_pages.items():
        if uri.startswith("comparisons/") and uri not in (INDEX, TWO_SETS):
            text = page.text
            assert "Groups of one laboratory are not laboratories" in text
            assert "every bar is broken once" in text
            # a chart of the means and one of h and k for each comparison
            assert len(page.all("svg")) == 2 * len(_tables(page, "In words"))


def test_means_stand_on_a_straight_axis_with_the_mean_of_all(demo_pages: dict[str, Element]) -> None:
    texts = [each.text for each in demo_pages[URI].all("text")]
    assert not any("logarithmic" in each for each in texts)
    assert "dashed: mean of all bars" in texts


def test_material_exercise_index_and_navigation_lead_there(demo: Handbook, demo_pages: dict[str, Element]) -> None:
    facts = Facts(demo)
    assert comparison_uri(facts.term_comparisons[0]) == URI
    for page in ("materials/pp-h.md", "exercises/notched-charpy.md", INDEX):
        links = [each.attributes.get("href", "") for each in demo_pages[page].all("a")]
        assert any(each.endswith("notched-charpy_pp-h_2026-08.html") for each in links), page
    site = build_site(demo)
    assert site.pages[INDEX].listed
    # as with records, a site's navigation would grow with the years
    assert not site.pages[URI].listed
