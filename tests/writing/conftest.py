"""The demo's exercises, rigs and methods, for tables that are read in its setting."""

import datetime as dt
from pathlib import Path

import pytest

from notchbook.handbook import open_handbook

DEMO = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="session")
def demo():
    return open_handbook(DEMO, day=dt.date(2026, 11, 30))
