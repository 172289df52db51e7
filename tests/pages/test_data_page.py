"""The page about the data: every file, every column, and what it is no good for."""

import json
from pathlib import Path

from page_html import pages_of

import small_handbook as small
from html_tree import Element
from notchbook.pages.data.descriptions import CAUTION


def _columns(page: Element) -> dict[str, list[tuple[str, str]]]:
    """Name and meaning of the columns by the heading that they stand under."""
    found: dict[str, list[tuple[str, str]]] = {}
    heading = ""
    for each in page:
        if each.tag == "h2":
            heading = each.text
        elif each.tag == "dt":
            found.setdefault(heading, []).append((each.one("code").text, ""))
        elif each.tag == "dd":
            found[heading][-1] = (found[heading][-1][0], each.text)
    return found


def test_every_column_of_every_file_stands_there_once(
    demo_pages: dict[str, Element], demo_data: dict[str, str]
) -> None:
    page = demo_pages["data.md"]
    told = _columns(page)
    files = dict(told.pop("Files"))
    meanings = [meaning for columns in told.values() for _, meaning in columns]
    for uri, text in demo_data.items():
        if uri.startswith("data/columns/"):
            for column in json.loads(text)["columns"]:
                words = f"{column['titles'][1]}. {column['dc:description']}"
                assert words in meanings, (uri, column["name"])
    pairs = [pair for columns in told.values() for pair in columns]
    assert len(set(pairs)) == len(pairs)
    for name in ("results.csv", "results.json", "sets.csv", "verifications.csv"):
        assert files[f"data/{name}"]
        assert f"data/{name}" in {each.attributes["href"] for each in page.all("a")}


def test_page_says_what_the_data_are_no_good_for(demo_pages: dict[str, Element]) -> None:
    caution = demo_pages["data.md"].one("p", css="nb-caution").text
    assert caution.startswith(CAUTION)
    assert "Invented data" in caution
    assert "without a licence of their own" in caution


def test_page_names_only_what_is_there(tmp_path: Path) -> None:
    page = pages_of(small.opened(tmp_path, {}))["data.md"]
    assert [name for name, _ in _columns(page)["Files"]] == [
        "data/results.csv", "data/sets.csv", "data/verifications.csv", "data/results.json",
    ]  # fmt: skip
    assert "Look-up tables" not in {each.text for each in page.all("h2")}
