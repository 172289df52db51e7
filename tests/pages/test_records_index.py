"""The table of all records and the choices above it, as they stand without a script."""

from pathlib import Path

from page_html import pages_of

import small_handbook as small
from html_tree import Element
from notchbook.handbook import Handbook

KEYS = ("material", "exercise", "rig", "group", "year")


def _rows(page: Element) -> list[Element]:
    return page.one("table", css="nb-records").one("tbody").all("tr")


def test_rows_carry_what_they_are_filtered_by(demo: Handbook, demo_pages: dict[str, Element]) -> None:
    rows = _rows(demo_pages["records/index.md"])
    assert len(rows) == len(demo.library.records)
    for row in rows:
        href = row.all("a")[0].attributes["href"]
        record = demo.library.records[href.removesuffix(".html")]
        told = [row.attributes[f"data-{key}"] for key in KEYS]
        assert told == [record.material, record.exercise, record.rig, record.group, str(record.date.year)]
    days = [row.all("td")[0].text for row in rows]
    assert days == sorted(days, reverse=True)


def test_choices_are_those_that_occur(demo_pages: dict[str, Element]) -> None:
    page = demo_pages["records/index.md"]
    rows = _rows(page)
    selects = page.all("select")
    assert [each.attributes["data-filter"] for each in selects] == list(KEYS)
    for select, key in zip(selects, KEYS, strict=True):
        values = [each.attributes["value"] for each in select.all("option")]
        assert values[0] == ""
        assert len(set(values)) == len(values)
        assert set(values[1:]) == {row.attributes[f"data-{key}"] for row in rows}
        labels = [each for each in page.all("label") if each.attributes["for"] == select.attributes["id"]]
        assert len(labels) == 1
        assert labels[0].text
    years = [each.attributes["value"] for each in selects[-1].all("option")][1:]
    assert years == sorted(years, reverse=True)


def test_choices_are_hidden_until_a_script_shows_them(demo_pages: dict[str, Element]) -> None:
    page = demo_pages["records/index.md"]
    controls = page.one("div", css="nb-filters")
    assert "hidden" in controls.attributes
    assert not [row for row in _rows(page) if "hidden" in row.attributes]
    status = controls.one("p", css="nb-count")
    assert (status.attributes["role"], status.attributes["aria-live"], status.text) == ("status", "polite", "")


def test_other_tables_have_no_choices(demo_pages: dict[str, Element]) -> None:
    assert [uri for uri, page in demo_pages.items() if page.all(css="nb-filters")] == ["records/index.md"]


def test_handbook_without_records(tmp_path: Path) -> None:
    contents = small.files()
    del contents[small.TEST]
    page = pages_of(small.opened(tmp_path, contents))["records/index.md"]
    assert not page.all("table", "select")
    assert "There are no test records yet." in page.text
