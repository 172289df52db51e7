"""Look-up tables on paper: the browser prints each on one sheet of A4, from the first row to the last."""

import re
import shutil
import subprocess
from pathlib import Path

import pytest

from conftest import DemoSite
from html_tree import parse, rows_of
from repeating import repeated

PROGRAMS = ("chromium", "pdfinfo", "pdftotext")
pytestmark = [
    pytest.mark.repeats,
    pytest.mark.skipif(not all(map(shutil.which, PROGRAMS)), reason="no browser here, or nothing reads PDF"),
]


def said(*command: str) -> str:
    return subprocess.run(command, check=True, capture_output=True, text=True, timeout=120).stdout


TABLES = ["bench-1--charpy-5", "bench-1--cold-1", "bench-2--charpy-25", "bench-2--izod-1"]


@pytest.mark.parametrize("name", repeated(TABLES, but=["bench-2--izod-1"]))
def test_a_table_is_one_sheet_with_all_its_rows(name: str, demo_site: DemoSite, tmp_path: Path) -> None:
    page, printed = demo_site.folder / f"lookup/{name}.html", tmp_path / "printed.pdf"
    said(
        "chromium", "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer",
        f"--user-data-dir={tmp_path / 'profile'}", f"--print-to-pdf={printed}", page.as_uri(),
    )  # fmt: skip
    about = said("pdfinfo", str(printed))
    assert re.search(r"^Pages: +1$", about, re.MULTILINE), about
    assert "(A4)" in about
    text = said("pdftotext", "-layout", str(printed), "-")
    shown = parse(page.read_text(encoding="utf-8")).one(css="nb-blocks")
    for table in shown.all("table"):
        rows = rows_of(table)
        for row in (rows[0], rows[-1]):
            assert re.search(r" +".join(re.escape(cell.text) for cell in row.values()), text), name
