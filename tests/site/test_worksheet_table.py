"""The worksheet's table of a record: texts as in the other tables of the handbook."""

from __future__ import annotations

import csv
import io
from typing import TYPE_CHECKING

import pytest
from browser import browser

from notchbook.pages.assets import ASSETS
from notchbook.wording.csv_text import guarded

if TYPE_CHECKING:
    from collections.abc import Iterator

    from selenium.webdriver import Chrome

WRITE = """
const [texts] = arguments;
const record = {group: "G2", specimens: texts.map(text => ({id: text, excluded: text, width_mm: {written: "-0.5"}}))};
return notchbookWorksheet.recordCsv.write(record, {exercise: "notched-charpy", specimen: {notch: "A"}}, null);
"""
TEXTS = [
    "=1+1", "+1", "-1", "@x", " =1", '"=1', "'=1", "abc;=cmd|' /C calc'!A0", "a;+1; -1;\"@x", "a\n=1", "a\r\n=1",
    "a\r=1", "\t=1", "＝1", "\x1b[31m\u202e\u2028\x85", "\ufeffx", "\U000e0041", "::error::x", "a\n ::error::x",
    "##[group]x", "###vso[x]", "a=b", "2-3", "x, \"y\"", "23\xa0°C", "é漢😀", "a; b", "two\nlines", "C:\\new",
]  # fmt: skip


@pytest.fixture(scope="module")
def chrome(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Chrome]:
    with browser(tmp_path_factory.mktemp("profile")) as found:
        yield found


def test_texts_stand_in_it_as_in_the_tables_of_the_site(chrome: Chrome) -> None:
    chrome.get("about:blank")
    chrome.execute_script((ASSETS / "worksheet/record_csv.js").read_text("utf-8"))
    table = chrome.execute_script(WRITE, TEXTS)
    rows = list(csv.DictReader(io.StringIO(table, newline=""), strict=True))
    assert [row["specimen"] for row in rows] == [guarded(text) for text in TEXTS]
    assert [row["excluded"] for row in rows] == [guarded(text) for text in TEXTS]
    assert {row["width_mm"] for row in rows} == {"-0.5"}
