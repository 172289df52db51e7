"""The demo handbook and its pages, read and rendered once."""

import datetime as dt
from pathlib import Path
from typing import Any

import pytest
from page_html import pages_of

from html_tree import Element
from notchbook.facts.facts import Facts
from notchbook.handbook import Handbook, open_handbook
from notchbook.pages.data.files import data_files
from notchbook.pages.sheets.lookups import hammer_sheets
from notchbook.results_data import results_data

DEMO = Path(__file__).resolve().parents[2]
DAY = dt.date(2026, 11, 2)
"""After every date in the demo, and while its newest verifications are in force."""


@pytest.fixture(scope="session")
def demo() -> Handbook:
    return open_handbook(DEMO, day=DAY)


@pytest.fixture(scope="session")
def demo_pages(demo: Handbook) -> dict[str, Element]:
    return pages_of(demo)


@pytest.fixture(scope="session")
def demo_data(demo: Handbook) -> dict[str, str]:
    """The files of the data folder by path."""
    return data_files(Facts(demo), list(hammer_sheets(Facts(demo))))


@pytest.fixture(scope="session")
def demo_results(demo: Handbook) -> dict[str, Any]:
    return results_data(demo)
